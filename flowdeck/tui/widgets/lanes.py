"""The lanes, by Textual's line interface: only rows that have changed are painted again."""

from textual.geometry import Region
from textual.strip import Strip
from textual.widget import Widget

from flowdeck.tui.paint import Options, PaintedRow, changed_rows, paint
from flowdeck.view.board import Board


class Lanes(Widget):
    """Both lanes and the spine. Give it a board by `show`."""

    DEFAULT_CSS = "Lanes { height: 1fr; }"

    def __init__(self, id: str = "lanes") -> None:
        super().__init__(id=id)
        self._board: Board | None = None
        self._options = Options()
        self._rows: list[PaintedRow] = []
        self.repainted = 0

    def show(self, board: Board, options: Options) -> None:
        """Paint *board*; rows that stay as they were are not touched."""
        self._board, self._options = board, options
        self._paint()

    def _paint(self) -> None:
        if self._board is None or self.size.width < 20 or self.size.height < 4:
            return
        rows = paint(self._board, self.size.width, self.size.height, self._options)
        changed = changed_rows(self._rows, rows)
        self._rows = rows
        self.repainted += len(changed)
        for y in changed:
            self.refresh(Region(0, y, self.size.width, 1))

    def on_resize(self) -> None:
        self._rows = []
        self._paint()

    def render_line(self, y: int) -> Strip:
        if y >= len(self._rows):
            return Strip.blank(self.size.width, self.rich_style)
        style = self.rich_style
        return Strip(self._rows[y]).apply_style(style).adjust_cell_length(self.size.width, style)
