"""A list to pick from, narrowed by typing. Keyboard alone: arrows, Enter, Escape."""

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Input, Label, OptionList
from textual.widgets.option_list import Option


class Picker(ModalScreen[str | None]):
    """Ends with the id of what was picked, or None."""

    BINDINGS = [("escape", "leave", "Leave"), ("down", "down", "Down"), ("up", "up", "Up")]

    def __init__(self, heading: str, rows: list[tuple[str, str]]) -> None:
        super().__init__()
        self._heading = heading
        self._rows = rows

    def compose(self) -> ComposeResult:
        with Vertical(id="picker"):
            yield Label(self._heading, markup=False)
            yield Input(placeholder="type to narrow", id="filter")
            yield OptionList(id="options", markup=False)

    def on_mount(self) -> None:
        self._fill("")
        self.query_one(Input).focus()

    def _fill(self, typed: str) -> None:
        words = typed.casefold().split()
        options = self.query_one(OptionList)
        options.clear_options()
        for id_, text in self._rows:
            if all(word in text.casefold() for word in words):
                options.add_option(Option(text, id=id_))
        if options.option_count:
            options.highlighted = 0

    def on_input_changed(self, event: Input.Changed) -> None:
        self._fill(event.value)

    def on_input_submitted(self) -> None:
        options = self.query_one(OptionList)
        if options.highlighted is not None:
            self.dismiss(options.get_option_at_index(options.highlighted).id)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        self.dismiss(event.option.id)

    def action_down(self) -> None:
        self.query_one(OptionList).action_cursor_down()

    def action_up(self) -> None:
        self.query_one(OptionList).action_cursor_up()

    def action_leave(self) -> None:
        self.dismiss(None)
