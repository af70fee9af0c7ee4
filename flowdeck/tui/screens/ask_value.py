"""Three plausible values and a line to key another: the answer to a line that takes a value. The flight goes on."""

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.events import Key
from textual.screen import ModalScreen
from textual.widgets import Input, Label

from flowdeck.model.condition import Scalar
from flowdeck.tui.desk import Question


class AskValue(ModalScreen[Scalar | None]):
    """Ends with the value, or None. 1, 2, 3 choose; anything else is keyed and entered."""

    BINDINGS = [("escape", "leave", "Leave")]

    def __init__(self, question: Question) -> None:
        super().__init__()
        self._question = question

    def compose(self) -> ComposeResult:
        q = self._question
        verb = "answers" if q.line else "sets"
        with Vertical(id="value"):
            yield Label(f"{q.seat.label} {verb}: {q.asked}", markup=False, id="asked")
            for i, choice in enumerate(q.choices, start=1):
                yield Label(f"  {i}   {choice.text}", markup=False, classes="choice")
            yield Input(placeholder="or key it, then Enter", id="keyed")

    def on_mount(self) -> None:
        self.query_one(Input).focus()

    def on_key(self, event: Key) -> None:
        """A single 1, 2 or 3 chooses at once, as long as nothing has been keyed."""
        if event.key in ("1", "2", "3") and not self.query_one(Input).value:
            index = int(event.key) - 1
            if index < len(self._question.choices):
                event.stop()
                event.prevent_default()
                self.dismiss(self._question.choices[index].value)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        text = event.value.strip()
        if not text:
            return
        try:
            self.dismiss(float(text))
        except ValueError:
            self.dismiss(text)

    def action_leave(self) -> None:
        self.dismiss(None)
