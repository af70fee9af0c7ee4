"""The vertical path, by Textual's line interface: eight dots to a cell, planned dotted, flown drawn through."""

from itertools import pairwise

from rich.segment import Segment
from textual.strip import Strip
from textual.widget import Widget

from flowdeck.tui.look import DIM, PLAIN, STRONG
from flowdeck.view.path import PathView

SIDE = 40
"""Columns of the figures beside the drawing."""
_LABEL = 7
_STEPS_FT = (100.0, 200.0, 500.0, 1000.0, 2000.0, 5000.0, 10_000.0)
_DOTS = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))
"""The bits of a braille cell, by row and column."""


class PathPane(Widget):
    """Give it a view by `show`."""

    DEFAULT_CSS = "PathPane { height: 11; width: 100%; display: none; }"

    def __init__(self, id: str = "path") -> None:
        super().__init__(id=id)
        self._rows: list[list[Segment]] = []

    def show(self, view: PathView) -> None:
        """Draw *view*; nothing is painted again when nothing has changed."""
        rows = drawn(view, self.size.width, self.size.height)
        if rows != self._rows:
            self._rows = rows
            self.refresh()

    def render_line(self, y: int) -> Strip:
        if y >= len(self._rows):
            return Strip.blank(self.size.width, self.rich_style)
        return Strip(self._rows[y]).apply_style(self.rich_style).adjust_cell_length(self.size.width, self.rich_style)


def drawn(view: PathView, width: int, height: int) -> list[list[Segment]]:
    """The rows of a drawing of *width* by *height* cells: altitudes, path, miles below, figures on the right."""
    side = SIDE if width >= 80 else 0
    columns, lines = width - _LABEL - side - 2, height - 2
    if columns < 20 or lines < 3:
        return []
    canvas = _Canvas(view, columns, lines)
    rows = [[Segment(_names(view, canvas, columns), DIM)]]
    for y in range(lines):
        level = canvas.level(y)
        label = " " * _LABEL if level is None else f"{level:6.0f} "
        rows.append([Segment(label, DIM), *canvas.row(y)])
    rows.append([Segment(_miles(view, columns), DIM)])
    for y, row in enumerate(rows):
        row.append(Segment(" " * max(0, width - side - sum(len(s.text) for s in row))))
        if side and 0 < y <= len(view.lines):
            line = view.lines[y - 1]
            row.append(Segment(f"{line.title:25}", DIM))
            row.append(Segment(line.value, STRONG if line.weight == "strong" else PLAIN))
    return rows


class _Canvas:
    """Dots of the planned and of the flown path, and where the aeroplane and the fixes are."""

    def __init__(self, view: PathView, columns: int, lines: int) -> None:
        self._view, self._columns, self._lines = view, columns, lines
        self._planned = [[0] * columns for _ in range(lines)]
        self._flown = [[0] * columns for _ in range(lines)]
        self._marks: dict[tuple[int, int], str] = {}
        for i, point in enumerate(_between(view.planned, columns * 2)):
            if i % 3 == 0:
                self._dot(self._planned, point)
        for point in _between(view.flown, columns * 8):
            self._dot(self._flown, point)
        for fix in view.fixes:
            for level, mark in ((fix.low_ft, "\u2534"), (fix.high_ft, "\u252c")):
                if level is not None:
                    both = fix.low_ft == fix.high_ft
                    self._mark(fix.distance_nm, level, "\u253c" if both else mark)
        if view.here is not None:
            self._mark(*view.here, "\u25b6")

    def column(self, nm: float) -> int:
        return round((1 - nm / self._view.far_nm) * (self._columns - 1))

    def level(self, y: int) -> float | None:
        """The round altitude that lies within a row, None where there is none."""
        v = self._view
        each = (v.high_ft - v.low_ft) / self._lines
        step = next((step for step in _STEPS_FT if step >= 1.5 * each), _STEPS_FT[-1])
        top = v.high_ft - each * y
        level = top // step * step
        return level if level > top - each else None

    def _up(self, ft: float) -> float:
        """How far down from the top, from 0 to below 1."""
        v = self._view
        return (v.high_ft - ft) / (v.high_ft - v.low_ft)

    def _dot(self, layer: list[list[int]], point: tuple[float, float]) -> None:
        nm, ft = point
        x = int((1 - nm / self._view.far_nm) * (self._columns * 2 - 1))
        y = int(self._up(ft) * self._lines * 4)
        if 0 <= x < self._columns * 2 and 0 <= y < self._lines * 4:
            layer[y // 4][x // 2] |= _DOTS[y % 4][x % 2]

    def _mark(self, nm: float, ft: float, mark: str) -> None:
        x, y = self.column(nm), int(self._up(ft) * self._lines)
        if 0 <= x < self._columns and 0 <= y < self._lines:
            self._marks[x, y] = mark

    def row(self, y: int) -> list[Segment]:
        segments: list[Segment] = []
        for x in range(self._columns):
            planned, flown = self._planned[y][x], self._flown[y][x]
            mark = self._marks.get((x, y))
            if mark is not None:
                segments.append(Segment(mark, STRONG))
            elif flown:
                segments.append(Segment(chr(0x2800 + (flown | planned)), STRONG))
            else:
                segments.append(Segment(chr(0x2800 + planned) if planned else " ", DIM))
        return list(Segment.simplify(segments))


def _between(points: tuple[tuple[float, float], ...], count: int) -> list[tuple[float, float]]:
    """*points* with others between them, so that a line of dots has no holes."""
    if len(points) < 2:
        return list(points)
    each = max(1, count // (len(points) - 1))
    found = []
    for (x0, y0), (x1, y1) in pairwise(points):
        found += [(x0 + (x1 - x0) * i / each, y0 + (y1 - y0) * i / each) for i in range(each)]
    return [*found, points[-1]]


def _names(view: PathView, canvas: _Canvas, columns: int) -> str:
    """Names of fixes above the drawing, where there is room for them."""
    row = [" "] * (columns + _LABEL)
    free = 0
    for fix in sorted(view.fixes, key=lambda fix: -fix.distance_nm):
        start = max(free, _LABEL + canvas.column(fix.distance_nm) - len(fix.name) // 2)
        if start + len(fix.name) <= len(row):
            row[start : start + len(fix.name)] = fix.name
            free = start + len(fix.name) + 1
    return "".join(row)


def _miles(view: PathView, columns: int) -> str:
    """The scale below: four figures and the threshold."""
    row = [" "] * (columns + _LABEL + 3)
    for i in range(4):
        text = f"{view.far_nm * (1 - i / 4):g}"
        at = _LABEL + round(i / 4 * (columns - 1))
        row[at : at + len(text)] = text
    row[_LABEL + columns - 4 : _LABEL + columns] = "0 NM"
    return "".join(row)[: columns + _LABEL]
