"""The rule by which a thing that has another id is still the same thing.

The rule: what has the same id and is of the same kind is the same thing. Of the rest, two things of one kind and one
place (the same flow, list or phase) are one thing renamed when

- a flow, list or phase has the same title, or more than half of what is in either of them is the same; or
- of everything else at most one field differs, leaving the reason (`why`) aside; where it is the words that differ
  (what is acted on, the state, the title), the reason must be there and the same word for word; of a hold, its end.

The likest are matched first. Where more than `MOST` pairs are alike in a word, nothing is guessed by it. An answer
goes with its call, marks and cues must be the same. Lines without a name of their own are matched by what they say,
since their ids are only numbers; what is left of them, by number.
"""

from collections.abc import Hashable, Iterable, Iterator
from itertools import product
from typing import NamedTuple, TypeAlias

from flowdeck.compare.aspects import FIELDS, Aspect, Thing
from flowdeck.compare.common import Side
from flowdeck.compare.parts import paired, part_keys
from flowdeck.compare.records import Record

MOST = 2500
"""Pairs of things with one word in common that are looked at closely."""

Pairs: TypeAlias = dict[str, str]
"""Old id to new."""
Facets: TypeAlias = dict[Aspect, Hashable]
Sides: TypeAlias = tuple[Side, Side]

_SAYS = frozenset({Aspect.DO, Aspect.TO, Aspect.TITLE})
_CLUES = (Aspect.DO, Aspect.TITLE, Aspect.WHY, Aspect.UNTIL)


def by_fields(sides: Sides, olds: list[Record], news: list[Record]) -> Pairs:
    """Which of *olds* is which of *news*, by what they say."""
    was, now = (
        [Seen(at, record, place_of(side, record), facets(side, record)) for at, record in enumerate(records)]
        for side, records in zip(sides, (olds, news), strict=True)
    )
    pairs = paired(was, now, [(_whole, _whole)])
    found = {a.record.id: b.record.id for a, b in pairs if a is not None and b is not None}
    left = [a for a, b in pairs if a is not None and b is None], [b for a, b in pairs if b is not None and a is None]
    return found | likest(Likely.of(a, b, differing) for a, b, differing in _alike(*left))


class Seen(NamedTuple):
    """A thing that is looked at: its number among its kind that is left, where it stands, what it says."""

    at: int
    record: Record
    place: str
    facets: Facets


def _whole(seen: Seen) -> Hashable:
    return seen.place, tuple(seen.facets.values())


class Likely(NamedTuple):
    """Two things that may be one; sorted, the likest come first. Numbers alone: the same from either deck's view."""

    differing: int
    apart: int
    first: int
    last: int
    old: str
    new: str

    @classmethod
    def of(cls, a: Seen, b: Seen, differing: int) -> "Likely":
        return cls(differing, abs(a.at - b.at), min(a.at, b.at), max(a.at, b.at), a.record.id, b.record.id)


def likest(likely: Iterable[Likely]) -> Pairs:
    found: Pairs = {}
    taken: set[str] = set()
    for each in sorted(likely, key=lambda x: (*x[:4], *sorted(x[4:]))):
        if each.old not in found and each.new not in taken:
            found[each.old] = each.new
            taken.add(each.new)
    return found


def _same_but_for(differing: set[Aspect], thing: Thing, reasoned: bool) -> bool:
    """*reasoned*: something beside the words tells that both are one."""
    if thing in (Thing.MARK, Thing.CUE):
        return not differing
    others = differing - {Aspect.WHY}
    return len(others) <= 1 and (reasoned or thing is Thing.HOLD or not others & _SAYS)


def facets(side: Side, record: Record) -> Facets:
    """All of a thing but its name and its place, in the common tongue."""
    found: Facets = {a: side.key(a, side.raw(record.of, a)) for a in FIELDS[record.thing]}
    found.update(part_keys(side, record))
    if record.thing is Thing.LINE and record.of.why == side.deck.checklists[record.home].why:
        found[Aspect.WHY] = None  # of the whole list: it tells nothing about a line
    return found


def place_of(side: Side, record: Record) -> str:
    """Where it stands, in the common tongue: its flow or list, else its phase; a gate's phases are its own matter."""
    match record.thing:
        case Thing.ACTION | Thing.LINE | Thing.HOLD:
            return side.id(record.home)
        case Thing.FLOW | Thing.CHECKLIST | Thing.CALL | Thing.STANDING:
            return side.phase(record.phase)
        case _:
            return ""


def _alike(was: list[Seen], now: list[Seen]) -> Iterator[tuple[Seen, Seen, int]]:
    """Old and new that can be one, and in how many fields they differ."""
    by_clue: dict[Hashable, tuple[list[Seen], list[Seen]]] = {}
    for which, all_seen in enumerate((was, now)):
        for seen in all_seen:
            for clue in _clues(seen):
                by_clue.setdefault((seen.place, clue), ([], []))[which].append(seen)
    looked = set[tuple[int, int]]()
    for olds, news in by_clue.values():
        for a, b in product(olds, news) if len(olds) * len(news) <= MOST else ():
            if (a.at, b.at) not in looked:
                looked.add((a.at, b.at))
                differing = {aspect for aspect, key in a.facets.items() if key != b.facets[aspect]}
                reasoned = a.facets.get(Aspect.WHY) is not None and Aspect.WHY not in differing
                by_number = a.record.thing is Thing.LINE and a.record.id == b.record.id
                if _same_but_for(differing, a.record.thing, reasoned or by_number):
                    yield a, b, len(differing)


def _clues(seen: Seen) -> Iterator[Hashable]:
    """Two things that could be one have one of these in common."""
    aspects = (Aspect.WHEN,) if seen.record.thing in (Thing.MARK, Thing.CUE) else _CLUES
    yield from ((aspect, seen.facets[aspect]) for aspect in aspects if seen.facets.get(aspect))
    if seen.record.thing is Thing.LINE:
        yield seen.record.id
