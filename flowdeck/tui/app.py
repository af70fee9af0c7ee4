"""The application: wiring of the flight screen, its colours, its keys and its palette. Nothing else."""

import gc
from collections.abc import Iterable

from textual.app import App, SystemCommand
from textual.binding import Binding
from textual.driver import Driver
from textual.screen import Screen
from textual.theme import Theme

from flowdeck.live.host import Host
from flowdeck.tui.keys import KEYS
from flowdeck.tui.look import AMBER, FAINT, INK, PAPER, RAISED, RED
from flowdeck.tui.screens.flight import FlightScreen
from flowdeck.tui.screens.pages import Confirm

THEME = Theme(
    name="flowdeck",
    primary=INK,
    secondary=FAINT,
    accent=INK,
    foreground=INK,
    background=PAPER,
    surface=RAISED,
    panel=RAISED,
    success=INK,
    warning=AMBER,
    error=RED,
    dark=True,
)


class FlowdeckApp(App[None]):
    """`flowdeck fly`. *mapped*: other keys for actions, by the names of `keys.KEYS`."""

    CSS_PATH = "flowdeck.tcss"
    TITLE = "flowdeck"
    BINDINGS = [
        *(Binding(key, "leave", "Quit", show=False, priority=True) for key in ("ctrl+c", "ctrl+q")),
        Binding("ctrl+z", "suspend_process", "To the shell", show=False, priority=True),
    ]

    def __init__(self, host: Host, mapped: dict[str, str] | None = None) -> None:
        super().__init__()
        self.host = host
        self.mapped = dict(mapped or {})

    def on_mount(self) -> None:
        gc.freeze()  # deck and modules stay as long as the flight: no collection need go through them again
        self.register_theme(THEME)
        self.theme = "flowdeck"
        if self.mapped:
            self.set_keymap(self.mapped)
        self.push_screen(FlightScreen(self.host, self.mapped))

    def get_driver_class(self) -> type[Driver]:
        """The usual one, on terminals one that bears noise."""
        usual = super().get_driver_class()
        if usual.__name__ != "LinuxDriver":
            return usual
        from flowdeck.tui.driver import PatientDriver

        return PatientDriver

    @property
    def flight(self) -> FlightScreen:
        """The flight screen, wherever it lies in the stack."""
        return next(screen for screen in self.screen_stack if isinstance(screen, FlightScreen))

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        """Every action of the flight by name."""
        for action in KEYS:
            title = f"{action.title}  ({self.mapped.get(action.name, action.shown)})"
            yield SystemCommand(title, action.group, getattr(self.flight, f"action_{action.name}"))

    def action_leave(self) -> None:
        """As by the flight's own key: no key of the terminal ends a flight without a question."""
        if not isinstance(self.screen, Confirm):
            self.flight.action_quit()
