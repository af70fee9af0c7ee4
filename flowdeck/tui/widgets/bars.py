"""The bars of one or few lines: title, rail of phases, strip of readings, margin, hints."""

from collections.abc import Callable, Iterable, Mapping

from rich.text import Text
from textual.widgets import Static

from flowdeck.tui.keys import KEYS, KeyAction
from flowdeck.tui.look import CAUTION, DIM, INVERSE, PLAIN, STRONG, WEIGHTS
from flowdeck.tui.paint import wrapped
from flowdeck.view.board import Board, Cell
from flowdeck.view.margin import Notice
from flowdeck.view.words import clock


def title_bar(board: Board, deck: str, status: str, trouble: str, width: int) -> Text:
    """Deck and notice on the left, pace and time on the right."""
    right = f"{_pace(board)}  {board.clock} "
    left = f" {deck} ({status})  " if width >= 96 else " "
    bar = Text(f"{left}training and simulation only", style=DIM, no_wrap=True, overflow="ellipsis")
    if trouble:
        bar = Text(f" {trouble}", style=CAUTION, no_wrap=True, overflow="ellipsis")
    bar.truncate(max(10, width - len(right) - 1), overflow="ellipsis", pad=True)
    bar.append(" ")
    bar.append(right, style=INVERSE if board.paused else STRONG)
    return bar


def _pace(board: Board) -> str:
    if board.ended:
        return "ended"
    drill = "drill  " if board.aid == "drill" else ""
    return f"{drill}paused" if board.paused else f"{drill}x{board.pace:g}"


def rail(board: Board, width: int) -> Text:
    """The phases as one line: done ones heavy behind, the present one marked, the rest thin ahead."""
    text = Text(" ", no_wrap=True, overflow="ellipsis")
    for i, stop in enumerate(board.rail):
        if i:
            joint = "\u2501\u2501" if stop.state != "ahead" else "\u2500\u2500"
            text.append(f" {joint} ", style=PLAIN if stop.state != "ahead" else DIM)
        if stop.state == "now":
            text.append(f" {stop.title} ", style=INVERSE)
        else:
            text.append(stop.title, style=PLAIN if stop.state == "past" else DIM)
    text.truncate(width, overflow="ellipsis")
    return text


def strip(board: Board, width: int) -> Text:
    """The readings of this phase, as many as fit; a stale one is dim and shows its age."""
    text = Text(" ", no_wrap=True)
    for cell in board.strip:
        piece = _reading(cell)
        if text.cell_len + piece.cell_len + 3 > width:
            break
        text.append_text(piece)
        text.append("   ")
    return text


def _reading(cell: Cell) -> Text:
    stale = cell.age_s is not None or cell.value == "?"
    piece = Text(f"{cell.name} ", style=DIM)
    piece.append(cell.value, style=DIM if stale else STRONG)
    if cell.trend:
        piece.append(" \u2191" if cell.trend == "rising" else " \u2193", style=PLAIN)
    if cell.age_s is not None:
        piece.append(f" ({cell.age_s:.0f} s old)", style=DIM)
    return piece


LINES_OF_ONE = 2
"""Lines that one notice may take."""


def margin(board: Board, width: int, height: int, key_of: Callable[[str], str]) -> Text:
    """Held lists as tabs, then prompts and deviations with their time, a broken edge with its reason.

    *key_of*: the key of an action; of the page that shows them all, and of what answers a notice.
    """
    lines: list[Text] = []
    for tab in board.tabs:
        line = Text()
        line.append(" held ", style=INVERSE)
        line.append(f" {tab.title}: {tab.waits} ({tab.since})", style=PLAIN)
        lines.append(line)
    shown = 0
    for notice in board.margin:
        found = _notice(notice, width, key_of(notice.answer) if notice.answer else "")
        if len(lines) + len(found) > height and lines:
            break
        lines += found
        shown += 1
    hidden = len(board.margin) - shown
    if hidden and len(lines) >= height > 1:  # the last one makes room, or its second line does
        hidden += not lines.pop().plain.startswith(" " * 7)
    if hidden and len(lines) < height:
        lines.append(Text(f" and {hidden} more, on [{key_of('slips')}]", style=DIM))
    if board.held_back and len(lines) < height:
        remarks = "1 remark" if board.held_back == 1 else f"{board.held_back} remarks"
        lines.append(Text(f" {remarks} held back while the flight deck is sterile", style=DIM))
    for line in lines:
        line.no_wrap = True
        line.truncate(width, overflow="ellipsis")
    return Text("\n").join(lines[:height])


def _notice(notice: Notice, width: int, key: str) -> list[Text]:
    """Time, what it is, its words and the *key* that answers it, on two lines at the most."""
    style = WEIGHTS[notice.weight]
    plain = PLAIN if notice.weight != "note" or notice.said else DIM
    head = Text(f" {clock(notice.at).removeprefix('00:')} ", style=DIM)
    head.append(f"{notice.label}{f' x{notice.times}' if notice.times > 1 else ''}", style=style)
    head.append("  ")
    room = max(10, width - head.cell_len)
    first, *rest = wrapped(f"{notice.text} [{key}]" if key else notice.text, room) or [""]
    words = wrapped(" ".join([*rest, notice.reason]).strip(), max(10, width - 7))
    head.append(first, style=plain)
    if not rest and notice.reason and head.cell_len + 1 + len(notice.reason) <= width:
        head.append(f" {notice.reason}", style=DIM)
        words = []
    lines = [head]
    for part in words[: LINES_OF_ONE - 1]:
        cut = "\u2026" if len(words) > LINES_OF_ONE - 1 else ""
        lines.append(Text(f"       {part[: width - 8] if cut else part}{cut}", style=plain if rest else DIM))
    return lines


def hints(width: int, mapped: Mapping[str, str], actions: Iterable[KeyAction] = KEYS) -> Text:
    """The keys that fit, in the order of the table, as they are *mapped*; help is always among them."""
    pieces = [(mapped.get(action.name, action.shown), action.hint) for action in actions if action.hint]
    text = Text(" ", no_wrap=True)
    room = width - _hint_width(*pieces[-1])
    for i, (key, hint) in enumerate(pieces):
        if i < len(pieces) - 1 and text.cell_len + _hint_width(key, hint) > room:
            continue
        text.append(f"[{key}]", style=STRONG)
        text.append(f" {hint}  ", style=DIM)
    return text


def _hint_width(key: str, hint: str) -> int:
    return len(f"[{key}] {hint}  ")


class Bar(Static):
    """A bar that is told its text, and repaints only when it differs."""

    def __init__(self, id: str) -> None:
        super().__init__("", id=id)
        self._shown = Text()

    def say(self, text: Text) -> None:
        if text != self._shown or text.spans != self._shown.spans:
            self._shown = text
            self.update(text)
