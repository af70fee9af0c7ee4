"""Pages as values: what stands where, in millimetres from the left upper corner of the page.

A part of a row stands where its row was put; a renderer draws parts and decides nothing.
"""

from enum import StrEnum
from typing import TypeAlias, assert_never

from msgspec import Struct
from msgspec.structs import replace

from flowdeck.card.face import ASCENT, DESCENT


class Role(StrEnum):
    """What words are for: a form without places (a terminal) sets them in columns by it."""

    TITLE = "title"
    PROMPT = "prompt"
    ANSWER = "answer"
    WHO = "who"
    UNDER = "under"
    NUMBER = "number"
    FINE = "fine"


class Words(Struct, frozen=True, kw_only=True, tag=True):
    """*y* is the line that letters stand on; *size* is that of the letters, *width* what they take up."""

    x: float
    y: float
    width: float
    size: float
    text: str
    role: Role
    bold: bool = False


class Rule(Struct, frozen=True, kw_only=True, tag=True):
    """A level line from *x* to *to_x*; a *broken* one is that of a hold."""

    x: float
    to_x: float
    y: float
    thick: float
    broken: bool = False


class Bar(Struct, frozen=True, kw_only=True, tag=True):
    """Filled, beside a row that is critical."""

    x: float
    y: float
    width: float
    height: float


class Fork(Struct, frozen=True, kw_only=True, tag=True):
    """One stroke that parts in two: the row stands under a condition. *x*, *y*: its left upper corner."""

    x: float
    y: float
    size: float


class Target(Struct, frozen=True, kw_only=True, tag=True):
    """A ring with a dot: to be pointed at. *x*, *y*: its left upper corner."""

    x: float
    y: float
    size: float


Part: TypeAlias = Words | Rule | Bar | Fork | Target


class Kind(StrEnum):
    """What a row is; those from HEADING on belong to a block."""

    HEAD = "head"
    NOTE = "note"
    FOOT = "foot"
    SECTION = "section"
    HEADING = "heading"
    CONTINUED = "continued"
    CONTINUES = "continues"
    ABOUT = "about"
    ITEM = "item"
    HOLD = "hold"
    COMPLETION = "completion"
    TERM = "term"
    END = "end"


class Row(Struct, frozen=True, kw_only=True):
    """*ref* is the item, hold or list; *first* is False for what is left of one that a page could not hold whole."""

    kind: Kind
    ref: str
    x: float
    y: float
    width: float
    height: float
    parts: tuple[Part, ...]
    first: bool = True


class Page(Struct, frozen=True, kw_only=True):
    number: int
    of: int
    rows: tuple[Row, ...]


class Sheets(Struct, frozen=True, kw_only=True):
    """One card: its pages, counted for themselves."""

    title: str
    pages: tuple[Page, ...]


def lowered(part: Part, by: float) -> Part:
    """*part*, lower on the page."""
    match part:
        case Words() | Rule() | Bar() | Fork() | Target():
            return replace(part, y=part.y + by)
        case _:
            assert_never(part)


def extent(part: Part) -> tuple[float, float, float, float]:
    """Left, top, right, bottom of what it covers; of letters, from the highest to the lowest that the face has."""
    match part:
        case Words():
            return part.x, part.y - part.size * ASCENT, part.x + part.width, part.y + part.size * DESCENT
        case Rule():
            return part.x, part.y - part.thick / 2, part.to_x, part.y + part.thick / 2
        case Bar():
            return part.x, part.y, part.x + part.width, part.y + part.height
        case Fork() | Target():
            return part.x, part.y, part.x + part.size, part.y + part.size
        case _:
            assert_never(part)
