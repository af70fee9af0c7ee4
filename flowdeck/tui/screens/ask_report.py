"""A weather report, typed in: the brief is worked out anew with it."""

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Input, Label

from flowdeck.arrival.metar import LONGEST


class AskReport(ModalScreen[str | None]):
    """Ends with the text, or None."""

    BINDINGS = [("escape", "leave", "Leave")]

    def compose(self) -> ComposeResult:
        with Vertical(id="report"):
            yield Label("New weather for the arrival", markup=False, id="asked")
            yield Label("  Enter: work the brief out anew   Esc: not now", markup=False, id="how")
            yield Input(placeholder="METAR XQTH 041850Z 09012KT ...", id="keyed", max_length=LONGEST)

    def on_mount(self) -> None:
        self.query_one(Input).focus()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        if event.value.strip():
            self.dismiss(event.value.strip())

    def action_leave(self) -> None:
        self.dismiss(None)
