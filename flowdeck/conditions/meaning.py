"""What a part of a condition stands for, and the names a deck gives it to stand for."""

from typing import Literal, TypeAlias

from msgspec import Struct

from flowdeck.conditions.ranges import ANY, Range
from flowdeck.conditions.units import Unit
from flowdeck.model.condition import Expr
from flowdeck.model.deck import Deck
from flowdeck.model.signals import Signal

Sort: TypeAlias = Literal["number", "word", "truth", "broken"]
"""`broken`: already reported, so that one slip is not reported again by everything around it."""


class Names(Struct, frozen=True, kw_only=True):
    """All that the conditions of a deck may name, collected before any condition is read.

    *refs*: ids of items, calls, lists, lines, gates, for `done` and `since`; *marks*: for `since` only.
    """

    signals: dict[str, Signal] = {}
    facts: frozenset[str] = frozenset()
    phases: frozenset[str] = frozenset()
    refs: frozenset[str] = frozenset()
    marks: frozenset[str] = frozenset()


def names_of(deck: Deck) -> Names:
    """What the conditions of a finished deck, and those of its scenarios, may name."""
    return Names(
        signals={signal.name: signal for signal in deck.signals},
        facts=frozenset(deck.facts),
        phases=frozenset(deck.phases),
        refs=frozenset({*deck.items, *deck.checklists, *deck.gates, *deck.phases}),
        marks=frozenset(deck.marks),
    )


class Meaning(Struct, frozen=True, kw_only=True):
    """A part of a condition with its sort; *label* is its text, *literal* true if it was written out.

    A number has *unit* and *span*, a word has the *words* that it can be.
    """

    expr: Expr
    sort: Sort
    label: str
    offset: int
    unit: Unit = None
    span: Range = ANY
    words: tuple[str, ...] = ()
    literal: bool = False
    phase: bool = False
