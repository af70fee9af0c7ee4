"""The application: wiring of the flight screen, its colours, its keys and its palette. Nothing else."""

import gc
from collections.abc import Iterable

from textual.app import App, SystemCommand
from textual.binding import Binding
from textual.driver import Driver
from textual.screen import Screen
from textual.theme import Theme

from flowdeck.live.projector import Projector
from flowdeck.tui.look import AMBER, FAINT, INK, PAPER, RAISED, RED
from flowdeck.tui.screens.board import BoardScreen
from flowdeck.tui.screens.flight import FlightScreen
from flowdeck.tui.screens.pages import Confirm
from flowdeck.tui.shown import Crewed, Flown

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
    """`flowdeck fly`, or a flight looked at again. *mapped*: other keys, by the names of the actions.

    *debrief*: of one looked at again, its debrief first.
    """

    CSS_PATH = "flowdeck.tcss"
    TITLE = "flowdeck"
    BINDINGS = [
        *(Binding(key, "leave", "Quit", show=False, priority=True) for key in ("ctrl+c", "ctrl+q")),
        Binding("ctrl+z", "suspend_process", "To the shell", show=False, priority=True),
    ]

    def __init__(self, host: Flown | Projector, mapped: dict[str, str] | None = None, *, debrief: bool = False) -> None:
        super().__init__()
        self.host = host
        self._debrief = debrief
        self.mapped = dict(mapped or {})

    def on_mount(self) -> None:
        gc.freeze()  # deck and modules stay as long as the flight: no collection need go through them again
        self.register_theme(THEME)
        self.theme = "flowdeck"
        if self.mapped:
            prefix = "replay_" if isinstance(self.host, Projector) else ""
            self.set_keymap({f"{prefix}{name}": key for name, key in self.mapped.items()})
        if isinstance(self.host, Projector):
            from flowdeck.tui.screens.replay import ReplayScreen  # with the debrief; a flight begins without

            self.push_screen(ReplayScreen(self.host, self.mapped, debrief=self._debrief))
        else:
            self.push_screen(self._flight(self.host))

    def _flight(self, host: Flown) -> FlightScreen:
        if not isinstance(host, Crewed):
            return FlightScreen(host, self.mapped)
        from flowdeck.tui.screens.crew import CrewScreen  # not for one at a single terminal

        return CrewScreen(host, self.mapped)

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

    @property
    def lowest(self) -> BoardScreen:
        """The board that everything else lies over."""
        return next(screen for screen in reversed(self.screen_stack) if isinstance(screen, BoardScreen))

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        """Every action of the board by name."""
        board = self.lowest
        for action in board.offered():
            title = f"{action.title}  ({board.key_of(action.name)})"
            yield SystemCommand(title, action.group, getattr(board, f"action_{action.name}"))

    def action_leave(self) -> None:
        """As by the board's own key: no key of the terminal ends a flight without a question."""
        if not isinstance(self.screen, Confirm):
            self.lowest.action_quit()
