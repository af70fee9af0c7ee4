"""What stands at another place among its own: the least number of moves from one order to the other."""

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from typing import TypeAlias

from flowdeck.compare.aspects import Aspect, Thing
from flowdeck.compare.change import Change, Rank
from flowdeck.compare.common import Side
from flowdeck.compare.match import Matches
from flowdeck.compare.records import Book, Record, spot_of
from flowdeck.model.deck import ItemKind

Rows: TypeAlias = dict[tuple[str, str], list[Record]]


def reordered(m: Matches) -> Iterator[Change]:
    """Of what stands in the same flow, list or phase in both decks: what has moved past the others."""
    was, now = _rows(m.old_side, m.old), _rows(m.new_side, m.new)
    for place, olds in was.items():
        news = now.get(place, [])
        by_new = {(each.thing, each.id): each for each in news}
        mates = {
            (old.thing, old.id): by_new[old.thing, mate]
            for old in olds
            if (mate := m.pairs[old.thing].get(old.id)) is not None and (old.thing, mate) in by_new
        }
        back = {(new.thing, new.id): key for key, new in mates.items()}
        common = [f"{old.thing} {_both(old.id, mates[old.thing, old.id].id)}" for old in olds if _of(old) in mates]
        order = [f"{new.thing} {_both(back[_of(new)][1], new.id)}" for new in news if _of(new) in back]
        out = moved(common, order)
        for old in olds if out else ():
            new = mates.get(_of(old))
            if new is not None and f"{old.thing} {_both(old.id, new.id)}" in out:
                yield Change(
                    thing=new.thing,
                    aspect=Aspect.ORDER,
                    old=spot_of(old),
                    new=spot_of(new),
                    before=_rank(olds, old),
                    after=_rank(news, new),
                )


def _of(record: Record) -> tuple[Thing, str]:
    return record.thing, record.id


def _both(old: str, new: str) -> str:
    """One name for a thing that has two, the same whichever deck is the older one."""
    return old if old == new else " ".join(sorted((old, new)))


def _rank(among: list[Record], record: Record) -> Rank:
    at = among.index(record)
    return Rank(at + 1, len(among), among[at - 1].id if at else None)


def _rows(side: Side, book: Book) -> Rows:
    """What stands in a row, by kind of row and place; answers follow their calls, an off half its on half."""
    rows: Rows = {}

    def add(kind: str, place: str, record: Record) -> None:
        rows.setdefault((kind, place), []).append(record)

    for record in book[Thing.FLOW].values():
        add("flows", side.phase(record.phase), record)
    for record in book[Thing.ACTION].values():
        add("items", side.id(record.home), record)
    for record in book[Thing.CALL].values():
        add("calls", side.phase(record.phase), record)
    for record in book[Thing.STANDING].values():
        if record.of.kind is ItemKind.STANDING_ON:
            add("standing", side.phase(record.phase), record)
    for record in book[Thing.CHECKLIST].values():
        add("lists", side.phase(record.phase), record)
        holds = {hold.before: [] for hold in record.of.holds}  # type: dict[int, list[str]]
        for hold in record.of.holds:
            holds[hold.before].append(hold.id)
        for at, line in enumerate((*record.of.lines, None)):
            for id_ in holds.get(at, ()):
                add("lines", side.id(record.id), book[Thing.HOLD][id_])
            if line is not None:
                add("lines", side.id(record.id), book[Thing.LINE][line])
    return rows


def moved(old: Sequence[str], new: Sequence[str]) -> frozenset[str]:
    """What has to be taken out and put elsewhere to make *new* of *old*; both hold the same names, each once.

    The rest is a longest common subsequence. Of several the same one is found whichever way round it is asked, so
    that what moved from old to new is what moves back. O(n log n).
    """
    first, second = sorted((tuple(old), tuple(new)))
    if first == second:
        return frozenset()
    place = {name: i for i, name in enumerate(second)}
    ends: list[int] = []  # ends[k]: the least place at which a run of k + 1 can end
    names: list[str] = []
    before: dict[str, str | None] = {}
    for name in first:
        at = bisect_left(ends, place[name])
        before[name] = names[at - 1] if at else None
        ends[at : at + 1] = [place[name]]
        names[at : at + 1] = [name]
    kept = set[str]()
    last: str | None = names[-1]
    while last is not None:
        kept.add(last)
        last = before[last]
    return frozenset(first) - kept
