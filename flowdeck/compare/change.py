"""A change, as a value: of what thing, in what respect, what stood there before and what stands there now."""

from enum import StrEnum
from typing import TypeAlias

from msgspec import Struct

from flowdeck.compare.aspects import Aspect, Thing
from flowdeck.model.deck import Edge, Move


class Cond(Struct, frozen=True):
    """A condition as it is written in its deck."""

    text: str


class Span(Struct, frozen=True):
    """A limit in seconds from the opening, or from the mark or item *start*."""

    after_s: float
    start: str | None = None


class Asked(Struct, frozen=True):
    """What must hold: of an item at the moment of acting, of a gate to be passed."""

    that: str
    words: str
    kind: str = ""


class Way(Struct, frozen=True):
    """A way out of a phase."""

    to: str
    when: str


class Rank(Struct, frozen=True):
    """Where a thing stands among its own: *number* (from 1) of *of*, *behind* the one before it."""

    number: int
    of: int
    behind: str | None


class Row(Struct, frozen=True):
    aspect: Aspect
    value: "Value"


class Sheet(Struct, frozen=True):
    """All of a thing that was added or removed, with what came or went inside it."""

    rows: tuple[Row, ...]
    parts: "tuple[Part, ...]" = ()


class Part(Struct, frozen=True):
    thing: Thing
    id: str
    sheet: Sheet


Value: TypeAlias = str | float | bool | tuple[str, ...] | Cond | Span | Edge | Asked | Move | Way | Rank | Sheet | None


class Tendency(StrEnum):
    """Of moments: *earlier*, *later* (never the other way). Of conditions: they hold in more cases, or in fewer."""

    EARLIER = "earlier"
    LATER = "later"
    WIDER = "wider"
    NARROWER = "narrower"


class Spot(Struct, frozen=True):
    """A thing in one deck. *phase*: where it stands, empty for the deck as a whole; *home*: its flow or list."""

    id: str
    phase: str = ""
    home: str = ""


class Covered(Struct, frozen=True):
    """One of several things that changed alike."""

    thing: Thing
    old: Spot
    new: Spot


class Change(Struct, frozen=True, kw_only=True):
    """*old* and *new*: the thing in either deck, None where it is not. *before*, *after*: None where there is nothing.

    *covers*: the things that changed alike and are signed with it, from the order of a flow's or list's own words.
    """

    thing: Thing
    aspect: Aspect
    old: Spot | None
    new: Spot | None
    before: Value = None
    after: Value = None
    tendency: Tendency | None = None
    covers: tuple[Covered, ...] = ()

    @property
    def spot(self) -> Spot:
        """Where it stands now, or stood."""
        found = self.new or self.old
        assert found is not None
        return found
