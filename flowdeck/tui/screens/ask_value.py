"""Three plausible values, one key each; Enter to key another. Over the lane of the pilot who answers.

The flight goes on meanwhile.
"""

from collections.abc import Callable
from math import isfinite

from rich.text import Text
from textual.app import ComposeResult
from textual.containers import Vertical
from textual.events import Key
from textual.screen import ModalScreen
from textual.widgets import Input, Label

from flowdeck.model.condition import Scalar
from flowdeck.tui.desk import Question
from flowdeck.tui.look import STRONG


class AskValue(ModalScreen[Scalar | None]):
    """Ends with the value, or None."""

    BINDINGS = [
        ("1", "choose(0)", "First"),
        ("2", "choose(1)", "Second"),
        ("3", "choose(2)", "Third"),
        ("enter", "key_it", "Key another"),
        ("escape", "leave", "Leave"),
    ]

    def __init__(
        self, question: Question, other_key: str, other: Callable[[], None], unfit: Callable[[Scalar], str]
    ) -> None:
        """*other_key* is the other seat's key, which stays alive; it does *other*.

        *unfit* says what is wrong with a value that cannot be; the question then stays open.
        """
        super().__init__(classes=str(question.seat))
        self._question = question
        self._unfit = unfit
        self._other_key = other_key
        self._other = other

    def on_key(self, event: Key) -> None:
        if event.key == self._other_key and not self.query_one(Input).has_focus:
            event.stop()
            self._other()

    def compose(self) -> ComposeResult:
        q = self._question
        verb = "answers" if q.line else "sets"
        with Vertical(id="value"):
            yield Label(f"{q.seat.label} {verb}: {q.asked}", markup=False, id="asked")
            for i, choice in enumerate(q.choices, start=1):
                yield Label(f"  [{i}]  {choice.text}", markup=False, classes="choice")
            yield Label("  Enter: key another   Esc: not now", markup=False, id="how")
            yield Input(placeholder="value, then Enter", id="keyed", disabled=True)

    def on_mount(self) -> None:
        self.query_one(Input).display = False

    def action_choose(self, index: int) -> None:
        if index < len(self._question.choices):
            self.dismiss(self._question.choices[index].value)

    def action_key_it(self) -> None:
        keyed = self.query_one(Input)
        keyed.disabled, keyed.display = False, True
        keyed.focus()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        text = event.value.strip()
        if not text:
            return
        value = _read(text)
        wrong = self._unfit(value)
        if wrong:
            self.query_one("#how", Label).update(Text(f"{wrong[0].upper()}{wrong[1:]}", style=STRONG))
            return
        self.dismiss(value)

    def action_leave(self) -> None:
        self.dismiss(None)


def _read(text: str) -> Scalar:
    """What was typed: a number where it is one, else the words."""
    try:
        number = float(text)
    except ValueError:
        return text
    return number if isfinite(number) else text
