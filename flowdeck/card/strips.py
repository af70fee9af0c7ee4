"""Strips and rows before they have a place: one strip a line, with its parts measured from its own upper edge.

The law: a strip is as high as its pitch whatever is in it, so strips put below one another never overlap.
"""

from msgspec import Struct
from msgspec.structs import replace

from flowdeck.card.face import ASCENT, DESCENT, broken, measure
from flowdeck.card.page import Kind, Part, Role, Words
from flowdeck.card.paper import Paper

THIN, BROKEN, THICK = 0.18, 0.45, 0.3
"""Of rules, in millimetres."""
GAP = 2.0
"""Between words and what stands beside them."""
AFTER = 1.1
"""Below a row, so that what belongs together stands together."""
_NUMBER = 0.72
"""Size of a number of a note, as a share of that of the words."""


class Strip(Struct, frozen=True, kw_only=True):
    """One line of a row, measured from its own upper edge. *number*: where the number of a note goes."""

    height: float
    parts: tuple[Part, ...] = ()
    number: float | None = None


class Draft(Struct, frozen=True, kw_only=True):
    """A row before it has a place. *keep*: on the page of the next row."""

    kind: Kind
    ref: str
    strips: tuple[Strip, ...]
    note: str = ""
    keep: bool = False

    @property
    def height(self) -> float:
        return sum(strip.height for strip in self.strips)


def base(size: float, pitch: float) -> float:
    """Where letters stand in a strip: their highest and lowest are as far from its edges."""
    return (pitch + (ASCENT - DESCENT) * size) / 2


def words(
    text: str, x: float, y: float, size: float, role: Role, *, bold: bool = False, to_the: float | None = None
) -> Words:
    """*to_the*: the right edge of what is set to the right."""
    width = measure(text, size, bold=bold)
    return Words(
        x=x if to_the is None else to_the - width, y=y, width=width, size=size, text=text, role=role, bold=bold
    )


def paragraph(text: str, paper: Paper, x: float, role: Role = Role.UNDER, *, bold: bool = False) -> tuple[Strip, ...]:
    """*text* at the size for reading, from *x* to the right margin."""
    y = base(paper.read, paper.pitch)
    lines = broken(text, paper.right - x, paper.read, bold=bold)
    return tuple(Strip(height=paper.pitch, parts=(words(line, x, y, paper.read, role, bold=bold),)) for line in lines)


def space(height: float) -> Strip:
    return Strip(height=height)


def kept(row: Draft) -> Draft:
    return replace(row, keep=True)


def marked(strip: Strip, part: Part) -> Strip:
    return replace(strip, parts=(*strip.parts, part))


def numbered(strip: Strip, x: float) -> Strip:
    return replace(strip, number=x)


def number_room(paper: Paper) -> float:
    return measure("00", paper.read * _NUMBER, bold=True) + 0.4


def number_words(number: int, strip: Strip, paper: Paper) -> Words:
    """The number of a note, raised behind the words that it belongs to."""
    assert strip.number is not None
    size = paper.read * _NUMBER
    y = base(paper.read, strip.height) - paper.read * 0.3
    return words(str(number), strip.number + 0.4, y, size, Role.NUMBER, bold=True)


def note_strips(number: int, text: str, paper: Paper) -> tuple[Strip, ...]:
    """A note at the foot of the page, behind its number."""
    strips = list(paragraph(text, paper, paper.prompt_x))
    label = words(str(number), paper.left, base(paper.read, paper.pitch), paper.read, Role.NUMBER, bold=True)
    strips[0] = replace(strips[0], parts=(label, *strips[0].parts))
    return tuple(strips)
