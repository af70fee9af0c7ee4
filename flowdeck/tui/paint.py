"""The lanes painted as rows of segments: a pure function of the board and the size, so a row can be compared.

Both lanes run down in time and meet the one fixed line, where the next item of each seat stands.
Items for both cross the spine. The list that is being read lies over the lane of its reader.
"""

from collections.abc import Sequence

from rich.cells import cell_len, set_cell_size
from rich.segment import Segment
from rich.style import Style

from flowdeck.tui.look import CAUTION, DIM, INVERSE, ON_RAISED, PASSED, PLAIN, SHAPES, STRONG, WARNING
from flowdeck.view.board import Board, Pane
from flowdeck.view.lanes import Lane, LaneRow, Row

PaintedRow = list[Segment]
WIDEST_LANE = 78
"""Cells. Wider, the eye loses the line between an action and its state."""


class Options:
    """What of the lanes is shown. *drill*: nothing ahead; *teach*: the why of each next item.

    *go_around*: the key of the go-around.
    """

    __slots__ = ("drill", "go_around", "picked", "teach")

    def __init__(self, *, drill: bool = False, teach: bool = False, picked: str = "", go_around: str = "g") -> None:
        self.drill = drill
        self.teach = teach
        self.picked = picked
        self.go_around = go_around


def paint(board: Board, width: int, height: int, options: Options) -> list[PaintedRow]:
    """*height* rows of exactly *width* cells."""
    spine = 9 if width < 96 else 15 if width < 140 else 21
    lane = min(WIDEST_LANE, (width - spine) // 2)
    edge = (width - 2 * lane - spine) // 2
    rest = width - 2 * (lane + edge) - spine
    fixed = fixed_line(height)
    columns = [_lane(board, side, lane, height, fixed, options) for side in (0, 1)]
    middle = _spine(board, spine + rest, height, fixed, options)
    rows = [left + mid + right for left, mid, right in zip(columns[0], middle, columns[1], strict=True)]
    if board.pane is not None:
        _lay_pane(rows, board, board.pane, lane, spine + rest, fixed, options)
    if edge:
        blank = cell("", edge, PLAIN)
        rows = [[blank, *row, blank] for row in rows]
    return rows


def fixed_line(height: int) -> int:
    """The row on which the next items stand: a third down, and never moving."""
    return max(2, height * 2 // 5)


def cell(text: str, width: int, style: Style) -> Segment:
    """Text cut or filled to *width* cells; a cut shows."""
    if cell_len(text) > width:
        text = set_cell_size(text, max(0, width - 1)) + "\u2026" if width > 0 else ""
    return Segment(set_cell_size(text, width), style)


def _lane(board: Board, side: int, width: int, height: int, fixed: int, options: Options) -> list[PaintedRow]:
    lane = board.lanes[side]
    rows: list[PaintedRow] = [[cell(f" {lane.heading}", width, STRONG)]]
    above = fixed - 1
    past = list(lane.past)[-above:] if above > 0 else []
    rows += [[cell("", width, PLAIN)] for _ in range(above - len(past))]
    rows += [_row(row, width) for row in past]
    rows += _now(board, lane, width, options)
    ahead = () if options.drill else lane.ahead
    for row in ahead:
        if len(rows) >= height:
            break
        rows.append(_row(row, width))
    rows += [[cell("", width, PLAIN)] for _ in range(height - len(rows))]
    return rows[:height]


def _now(board: Board, lane: Lane, width: int, options: Options) -> list[PaintedRow]:
    """The fixed line, and under it one line that says how, or why when teaching."""
    row: LaneRow | None
    if options.drill and not lane.foreign:
        row = None
        text = "pick an item: /" if not options.picked else options.picked
    else:
        row, text = lane.next, "" if lane.foreign else "nothing to do now"
    if row is None:
        style = INVERSE if options.picked and options.drill else DIM
        return [[cell(f" {text}", width, style)], [cell("", width, PLAIN)]]
    style = {Row.BLOCKED: ON_RAISED, Row.WARNING: WARNING}.get(row.kind, INVERSE)
    first = _columns(row, width, style)
    note = f"{row.note}, or by [{options.go_around}]" if row.kind is Row.WARNING else row.note
    if row.value and cell_len(row.value) > _value_width(row, width):
        note = f"{note}: {row.value}" if note else row.value  # the next item is never cut short
    weight = {Row.OVERDUE: CAUTION, Row.WARNING: WARNING}.get(row.kind, DIM)
    under = [cell(f"   {note}", width, weight)]
    rows = [first, under]
    if options.teach and lane.why:
        rows += [[cell(f"   {line}", width, PLAIN)] for line in wrapped(lane.why, width - 4)[:5]]
    return rows


def _columns(row: LaneRow, width: int, style: Style) -> PaintedRow:
    """Mark, action, state: the state stands at the right edge, where the eye finds it."""
    value_width = _value_width(row, width)
    text_width = width - value_width - 5 if value_width else width - 4
    mark = SHAPES[row.kind]
    segments = [cell(f" {mark} ", 3, style), cell(row.text, text_width, style)]
    if value_width:
        segments += [cell(" ", 1, style), cell(row.value, value_width, style)]
    segments.append(cell(" ", width - sum(s.cell_length for s in segments), style))
    return segments


def _value_width(row: LaneRow, width: int) -> int:
    return min(cell_len(row.value), max(8, width * 45 // 100)) if row.value else 0


def _row(row: LaneRow, width: int) -> PaintedRow:
    style = {
        Row.WARNING: WARNING,
        Row.SEEN: DIM,
        Row.SAID: DIM,
        Row.FOUND: DIM,
        Row.HALF: PLAIN,
        Row.MISSED: CAUTION,
        Row.PUT_OFF: PLAIN,
        Row.OVERDUE: CAUTION,
        Row.OWED: PLAIN,
        Row.NEXT: STRONG,
        Row.BLOCKED: PLAIN,
        Row.AHEAD: DIM,
    }[row.kind]
    if row.kind in (Row.AHEAD, Row.BLOCKED, Row.PUT_OFF, Row.WARNING) and row.note and width >= 40:
        noted = LaneRow(ref=row.ref, kind=row.kind, text=f"{row.text} {row.value}".strip(), value=row.note)
        return _columns(noted, width, style)
    return _columns(row, width, style)


def _spine(board: Board, width: int, height: int, fixed: int, options: Options) -> list[PaintedRow]:
    rows = [[_middle("", width, DIM)] for _ in range(height)]
    past = [line for text in board.spine_past for line in wrapped(text, width - 2)]
    for offset, text in enumerate(reversed(past[-(fixed - 1) :] if fixed > 1 else [])):
        rows[fixed - 1 - offset] = [_middle(text, width, DIM)]
    rows[fixed] = [_middle(board.spine_now or "now", width, STRONG)]
    crossing = [lane.next for lane in board.lanes if lane.next is not None and lane.next.both]
    if crossing and not options.drill:
        rows[fixed] = [_middle(f"\u2501 {board.spine_now or 'both'} \u2501", width, STRONG)]
    at = fixed + 2
    for gate in () if options.drill else board.spine_ahead:
        for i, text in enumerate(["gate", *wrapped(gate, width - 2)]):
            if at < height:
                rows[at] = [_middle(text, width, DIM if i == 0 else PLAIN)]
            at += 1
        at += 1
    return rows


def _middle(text: str, width: int, style: Style) -> Segment:
    inner = width - 2
    if cell_len(text) > inner:
        text = set_cell_size(text, inner - 1) + "\u2026"
    if not text:
        return Segment(set_cell_size(" " * (width // 2) + "\u2502", width), style)
    return Segment(set_cell_size(" " * ((width - cell_len(text)) // 2) + text, width), style)


def _lay_pane(
    rows: list[PaintedRow], board: Board, pane: Pane, lane: int, spine: int, fixed: int, options: Options
) -> None:
    """Lay the list over its reader's lane, below the fixed line: one line large, its neighbours small."""
    left = pane.reader is board.lanes[0].seat
    lines = _pane_lines(pane, lane, options)
    for offset, line in enumerate(lines):
        at = fixed + 2 + offset
        if at >= len(rows):
            break
        row = rows[at]
        before, after = _split(row, lane if left else lane + spine)
        rows[at] = line + after if left else before + line


def _split(row: PaintedRow, at: int) -> tuple[PaintedRow, PaintedRow]:
    """A row parted at a cell."""
    pieces = list(Segment.divide(row, [at, sum(segment.cell_length for segment in row)]))
    return list(pieces[0]), list(pieces[1])


def _pane_lines(pane: Pane, width: int, options: Options) -> list[PaintedRow]:
    edge = "\u2503"
    inner = width - 2

    def boxed(text: str, style: Style) -> PaintedRow:
        return [Segment(edge, STRONG), cell(f" {text}", inner, style), Segment(" ", PLAIN)]

    passed = f"   {PASSED} {pane.passed} passed over" if pane.passed else ""
    lines = [boxed(f"{pane.title}   {pane.place}{passed}", ON_RAISED + STRONG)]
    if pane.done is not None and pane.done.passed:
        lines.append(boxed(f"{PASSED} {pane.done.challenge}: passed over", PLAIN))
    elif pane.done is not None:
        lines.append(boxed(f"{pane.done.challenge}: {pane.done.response}", DIM))
    if pane.now is not None:
        lines.append([Segment(edge, STRONG), *_asked(pane, inner), Segment(" ", PLAIN)])
        answerer = f"  {pane.now.by} {pane.said}".rstrip()
        lines.append(boxed(answerer if pane.asked else f"  {pane.doing}", STRONG if pane.said else PLAIN))
    else:
        lines += [boxed(part, INVERSE) for part in wrapped(pane.doing, inner - 2)]
    if pane.after is not None and not options.drill:
        lines.append(boxed(f"{pane.after.challenge}", DIM))
    return lines


def _asked(pane: Pane, width: int) -> PaintedRow:
    assert pane.now is not None
    response = pane.now.response if pane.asked else ""
    value = min(cell_len(response), width // 2)
    segments = [cell(f" {pane.now.challenge}", width - value - 2, INVERSE)]
    segments += [cell(" ", 1, INVERSE), cell(response, value, INVERSE), cell(" ", 1, INVERSE)]
    return segments


def wrapped(text: str, width: int) -> list[str]:
    """Words of *text* in lines of at most *width* cells."""
    lines: list[str] = []
    line = ""
    for word in text.split():
        if line and cell_len(line) + 1 + cell_len(word) > width:
            lines.append(line)
            line = word
        else:
            line = f"{line} {word}".strip()
    return [*lines, line] if line else lines


def changed_rows(old: Sequence[PaintedRow], new: Sequence[PaintedRow]) -> list[int]:
    """The numbers of the rows that differ, so that only they are painted again."""
    if len(old) != len(new):
        return list(range(len(new)))
    return [i for i, (a, b) in enumerate(zip(old, new, strict=True)) if a != b]
