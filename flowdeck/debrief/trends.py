"""Over many flights: which items and classes slip how often of how many times, and whether it is getting better.

The law: every count stands beside its opportunities; a share is given only of twenty or more (our proposal).
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import NamedTuple

from msgspec import Struct

from flowdeck.debrief.summary import Summary
from flowdeck.model.deviation import Slip

FEW = 20
"""Below so many opportunities no share is given."""
CURVE = 8
"""Parts into which the flights are taken for a curve, at the most."""


class Share(NamedTuple):
    """*n* of *of*."""

    n: int
    of: int

    @property
    def share(self) -> float | None:
        """None of few."""
        return self.n / self.of if self.of >= FEW else None


class ClassTrend(Struct, frozen=True, kw_only=True):
    """*curve*: the same over parts of the flights, oldest first, as equal in number as can be."""

    slip: Slip
    whole: Share
    curve: tuple[Share, ...]


class ItemTrend(Struct, frozen=True, kw_only=True):
    """One item and one class. *last*: when it slipped last, local date and time."""

    item: str
    title: str
    slip: Slip
    whole: Share
    last: str


class Trends(Struct, frozen=True, kw_only=True):
    """*items*: those that slipped, most often first; classes that never could slip are left out."""

    flights: int
    first: str
    last: str
    classes: tuple[ClassTrend, ...]
    items: tuple[ItemTrend, ...]


def trends_of(flights: Sequence[Summary]) -> Trends:
    """*flights*: in any order; those that began earlier come first in the curves."""
    ordered = sorted(flights, key=lambda flight: flight.begun)
    parts = _parts(ordered)
    tables = [_by_class(part) for part in parts]
    judged = {slip for table in tables for slip in table}
    whole = {slip: _sum(table.get(slip, Share(0, 0)) for table in tables) for slip in judged}
    classes = tuple(
        ClassTrend(slip=slip, whole=whole[slip], curve=tuple(table.get(slip, Share(0, 0)) for table in tables))
        for slip in Slip
        if slip in whole and whole[slip].of
    )
    return Trends(
        flights=len(ordered),
        first=ordered[0].begun if ordered else "",
        last=ordered[-1].begun if ordered else "",
        classes=classes,
        items=_items(ordered),
    )


def _sum(shares: Iterable[Share]) -> Share:
    n = of = 0
    for share in shares:
        n += share.n
        of += share.of
    return Share(n, of)


def _parts(ordered: Sequence[Summary]) -> list[Sequence[Summary]]:
    count = min(CURVE, len(ordered))
    edges = [len(ordered) * i // count for i in range(count + 1)] if count else [0]
    return [ordered[a:b] for a, b in pairwise(edges)]


def _by_class(flights: Sequence[Summary]) -> dict[Slip, Share]:
    counts: Counter[Slip] = Counter()
    chances: Counter[Slip] = Counter()
    for flight in flights:
        for tally in flight.tallies:
            if tally.chances is not None:
                counts[tally.slip] += tally.count
                chances[tally.slip] += tally.chances
    return {slip: Share(counts[slip], chances[slip]) for slip in chances}


def _items(ordered: Sequence[Summary]) -> tuple[ItemTrend, ...]:
    counts: Counter[tuple[str, Slip]] = Counter()
    said: dict[str, str] = {}
    last: dict[tuple[str, Slip], str] = {}
    for flight in ordered:
        for slip in flight.slips:
            key = slip.item, slip.slip
            counts[key] += 1
            said[slip.item] = slip.title
            last[key] = flight.begun
    owed = {item: sum(flight.owed.get(item, 0) for flight in ordered) for item in said}
    found = [
        ItemTrend(
            item=item, title=said[item], slip=slip, whole=Share(count, max(count, owed[item])), last=last[item, slip]
        )
        for (item, slip), count in counts.items()
    ]
    return tuple(sorted(found, key=lambda each: (-each.whole.n, each.whole.of, each.item, each.slip)))
