"""The page before a flight of several people. It goes by itself when somebody begins."""

from collections.abc import Callable

from rich.text import Text
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Static

from flowdeck import DISCLAIMER
from flowdeck.tui.look import CAUTION, DIM, PLAIN, STRONG
from flowdeck.view.before import NOBODY, Before, Place


def before_text(page: Before, keys: dict[str, str], trouble: str = "") -> Text:
    """*keys*: those of `pause`, `aid`, `withhold` and `quit` as they are shown; *trouble*: of the link."""
    text = Text()
    text.append(f"{page.title}\n", style=STRONG)
    text.append(f"{page.deck}\n{DISCLAIMER}\n\n", style=DIM)
    if trouble:
        text.append(f"{trouble}\n\n", style=CAUTION)
    for place in page.places:
        _row(text, place)
    text.append("\n")
    for place in page.aids:
        _row(text, place)
    text.append("\n")
    if page.waits_for:
        text.append(f"There is no {page.waits_for} yet. ", style=STRONG)
    text.append("The flight waits.\n", style=STRONG)
    hints = (("pause", "begins"), ("aid", "aid"), ("withhold", "prompts"), ("quit", "leaves"))
    for name, words in hints:
        text.append(f"[{keys[name]}]", style=STRONG)
        text.append(f" {words}   ", style=DIM)
    text.append("[esc]", style=STRONG)
    text.append(" shows the flight", style=DIM)
    return text


def _row(text: Text, place: Place) -> None:
    text.append(f"{place.name:20}", style=DIM)
    text.append(f"{place.who:24}", style=STRONG if place.who == "you" else DIM if place.who == NOBODY else PLAIN)
    text.append(f"{f' {place.does}' if place.does else ''}\n", style=PLAIN)


class BeforeFlight(ModalScreen[None]):
    """*keys*: by the name of the action; *chosen* is called with it."""

    BINDINGS = [Binding("escape", "leave", "The flight", show=False)]

    def __init__(self, text: Text, keys: dict[str, str], chosen: Callable[[str], None]) -> None:
        super().__init__(id="before")
        self._text = text
        self._chosen = chosen
        for name, key in keys.items():
            self._bindings.bind(key, f"choose('{name}')", show=False)

    def compose(self) -> ComposeResult:
        with VerticalScroll(id="sheet"):
            yield Static(self._text, id="page")

    def on_mount(self) -> None:
        self.query_one("#sheet").focus()

    def show(self, text: Text) -> None:
        """The page as it is now; nothing is painted while it stays the same."""
        if text != self._text or text.spans != self._text.spans:
            self._text = text
            if not self.is_mounted:
                return  # it will be composed of it
            self.query_one("#page", Static).update(text)

    def action_choose(self, name: str) -> None:
        self._chosen(name)

    def action_leave(self) -> None:
        self.dismiss(None)
