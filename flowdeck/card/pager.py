"""Rows of blocks onto pages.

The law: a list that fits on a page is never broken; a block that goes over says so at the foot of the one page and at
the head of the next, and nowhere else; notes stand at the foot of the page of the row that they belong to.
"""

from collections.abc import Sequence

from msgspec.structs import replace

from flowdeck.card.content import Block
from flowdeck.card.face import on_one_line
from flowdeck.card.page import Kind, Part, Role, Row, Rule, lowered
from flowdeck.card.paper import Paper
from flowdeck.card.strips import (
    THIN,
    Draft,
    Strip,
    base,
    note_strips,
    number_words,
    paragraph,
    words,
)
from flowdeck.card.titles import title_row

_FLOW_WHOLE = 0.35
"""A flow or a set of calls that takes more of a page than this may go over; a list only when no page holds it."""
_AT_LEAST = 3
"""Rows of a block that goes over stand together on its first page."""
_EPSILON = 1e-6


class Pager:
    """Collects rows page by page. *top* and *bottom* bound what is between the head and the foot of a page."""

    def __init__(self, paper: Paper, top: float, bottom: float) -> None:
        self.paper = paper
        self.top, self.bottom = top, bottom
        self.pages: list[list[Row]] = [[]]
        self._y = top
        self._notes: list[str] = []
        self._section = ""
        self.sections: list[str] = [""]
        """The phase in which each page begins."""

    @property
    def capacity(self) -> float:
        return self.bottom - self.top

    @property
    def _left(self) -> float:
        """Height that is left above the notes."""
        return self.bottom - self._y - self._noted(self._notes)

    def _noted(self, notes: Sequence[str]) -> float:
        """Height of notes, with the short rule above them."""
        height = sum(strip.height for i, note in enumerate(notes) for strip in note_strips(i + 1, note, self.paper))
        return height + self.paper.pitch * 0.5 if notes else 0.0

    def _need(self, rows: Sequence[Draft]) -> float:
        """Height of *rows* here, with the notes that they bring."""
        fresh = dict.fromkeys(row.note for row in rows if row.note and row.note not in self._notes)
        notes = [*self._notes, *fresh]
        return sum(row.height for row in rows) + self._noted(notes) - self._noted(self._notes)

    def add(self, block: Block, rows: Sequence[Draft]) -> None:
        """Put all rows of a block."""
        self._section = "" if rows[0].kind is Kind.SECTION else block.section
        continues = self._continues(block)
        reserve = sum(strip.height for strip in continues.strips)
        whole = self._need(rows)
        units = _units(rows)
        if whole > self._left + _EPSILON and self.pages[-1]:
            alone = sum(row.height for row in rows) + self._noted(list(dict.fromkeys(r.note for r in rows if r.note)))
            most = 1.0 if block.kind in ("list", "answers", "legend") else _FLOW_WHOLE
            start = [row for unit in units[:_AT_LEAST] for row in unit]
            if alone <= self.capacity * most + _EPSILON or self._need(start) + reserve > self._left:
                self._turn()
        begun = False
        for i, unit in enumerate(units):
            spare = reserve if i < len(units) - 1 else 0.0
            if self._need(unit) + spare > self._left + _EPSILON:
                if begun:
                    self._go_on(block, continues)
                elif self.pages[-1]:
                    self._turn()
                if self._need(unit) + spare > self._left + _EPSILON:
                    self._put_torn(block, continues, unit, reserve, last=i == len(units) - 1)
                    begun, self._section = True, block.section
                    continue
            for row in unit:
                self._put(row)
            begun, self._section = True, block.section

    def _put_torn(self, block: Block, continues: Draft, unit: Sequence[Draft], reserve: float, *, last: bool) -> None:
        """What no page holds whole, strip by strip; its notes come below it instead of at the foot."""
        told = [self._with_note(row) for row in unit]
        for i, row in enumerate(told):
            strips, after = row.strips, sum(each.height for each in told[i + 1 :])
            first, taken = True, 0
            while taken < len(strips):
                ahead = sum(strip.height for strip in strips[taken:]) + after
                ends_here = last and ahead <= self._left + _EPSILON
                room, upto = self._left - (0 if ends_here else reserve), taken
                while upto < len(strips) and strips[upto].height <= room + _EPSILON:
                    room -= strips[upto].height
                    upto += 1
                if upto == taken:
                    self._go_on(block, continues)
                    continue
                self._put(replace(row, strips=strips[taken:upto]), first=first)
                first, taken = False, upto

    def _with_note(self, row: Draft) -> Draft:
        """*row* with its note as lines of its own."""
        lines = paragraph(row.note, self.paper, self.paper.prompt_x + 3) if row.note else ()
        return replace(row, strips=(*row.strips, *lines), note="")

    def _put(self, draft: Draft, *, first: bool = True) -> None:
        number = 0
        if draft.note:
            if draft.note not in self._notes:
                self._notes.append(draft.note)
            number = self._notes.index(draft.note) + 1
        self.pages[-1].append(placed(draft, self._y, self.paper, number=number, first=first))
        self._y += draft.height

    def _turn(self) -> None:
        self.close()
        self.pages.append([])
        self.sections.append(self._section)
        self._y = self.top
        self._notes = []

    def _go_on(self, block: Block, continues: Draft) -> None:
        self._put(continues)
        self._turn()
        paper = self.paper
        text = on_one_line(block.title, ", continued", paper.right - paper.left, paper.heading, bold=True)
        self._put(title_row(Kind.CONTINUED, block.ref, text, paper))

    def _continues(self, block: Block) -> Draft:
        """The words at the right, for the hand that turns the page."""
        paper = self.paper
        text = on_one_line(block.title, ", continues", paper.right - paper.left, paper.read)
        part = words(text, 0, base(paper.read, paper.pitch), paper.read, Role.UNDER, to_the=paper.right)
        return Draft(kind=Kind.CONTINUES, ref=block.ref, strips=(Strip(height=paper.pitch, parts=(part,)),))

    def close(self) -> None:
        """Put the notes of this page at its foot."""
        if not self._notes:
            return
        y = self.bottom - self._noted(self._notes)
        line = Rule(x=self.paper.left, to_x=self.paper.left + 25, y=self.paper.pitch * 0.25, thick=THIN)
        for i, note in enumerate(self._notes):
            strips = note_strips(i + 1, note, self.paper)
            if i == 0:
                strips = (Strip(height=self.paper.pitch * 0.5, parts=(line,)), *strips)
            draft = Draft(kind=Kind.NOTE, ref=str(i + 1), strips=strips)
            self.pages[-1].append(placed(draft, y, self.paper))
            y += draft.height


def _units(rows: Sequence[Draft]) -> list[list[Draft]]:
    """Runs of rows that stay together."""
    units: list[list[Draft]] = []
    joined = False
    for row in rows:
        if joined:
            units[-1].append(row)
        else:
            units.append([row])
        joined = row.keep
    return units


def placed(draft: Draft, y: float, paper: Paper, *, number: int = 0, first: bool = True) -> Row:
    """*draft* with its upper edge at *y*; *number* of its note, 0 without."""
    parts: list[Part] = []
    at = y
    for strip in draft.strips:
        own = strip.parts
        if number and strip.number is not None:
            own = (*own, number_words(number, strip, paper))
        parts += [lowered(part, at) for part in own]
        at += strip.height
    return Row(
        kind=draft.kind,
        ref=draft.ref,
        x=paper.left,
        y=y,
        width=paper.right - paper.left,
        height=at - y,
        parts=tuple(parts),
        first=first,
    )
