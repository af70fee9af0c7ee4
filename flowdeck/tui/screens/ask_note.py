"""An instructor's note about a moment, typed in."""

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Input, Label

from flowdeck.model.diagnostic import visible
from flowdeck.wire.fits_events import LONGEST_NOTE


class AskNote(ModalScreen[str | None]):
    """Ends with the words, or None. *at*: the moment, as it is shown."""

    BINDINGS = [("escape", "leave", "Leave")]

    def __init__(self, at: str) -> None:
        super().__init__()
        self._at = at

    def compose(self) -> ComposeResult:
        with Vertical(id="report"):
            yield Label(f"A note at {self._at}", markup=False, id="asked")
            yield Label("  Enter: keep it with the flight   Esc: leave   No names: it is kept as written", id="how")
            yield Input(placeholder="Who had the radio here?", id="keyed", max_length=LONGEST_NOTE)

    def on_mount(self) -> None:
        self.query_one(Input).focus()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        if event.value.strip():
            self.dismiss(visible(event.value.strip()))

    def action_leave(self) -> None:
        self.dismiss(None)
