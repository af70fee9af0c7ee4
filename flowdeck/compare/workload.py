"""How much each seat or role has to do in each phase, before and after, and how long lists take to read."""

from collections import Counter

from msgspec import Struct

from flowdeck.compare.aspects import Thing
from flowdeck.compare.match import Matches
from flowdeck.compare.records import Book
from flowdeck.model.seats import Owner

LINE_S = 2.5
"""Seconds to read a line and hear its answer: our proposal."""

_COUNTED = {
    Thing.ACTION: "items",
    Thing.STANDING: "items",
    Thing.LINE: "lines",
    Thing.CALL: "calls",
    Thing.ANSWER: "calls",
}


class Work(Struct, frozen=True):
    """Items (both halves of a standing item), lines answered, calls and answers to calls."""

    items: int = 0
    lines: int = 0
    calls: int = 0


class Load(Struct, frozen=True, kw_only=True):
    """What *owner* has in a phase; phases that are in one deck alone are None in the other."""

    old_phase: str | None
    new_phase: str | None
    owner: Owner
    before: Work
    after: Work


class ListLoad(Struct, frozen=True, kw_only=True):
    """A checklist and its lines; None where it is not."""

    old: str | None
    new: str | None
    lines_before: int
    lines_after: int

    @property
    def before_s(self) -> float:
        return self.lines_before * LINE_S

    @property
    def after_s(self) -> float:
        return self.lines_after * LINE_S


def loads_of(m: Matches, stages: tuple[tuple[str | None, str | None], ...]) -> tuple[Load, ...]:
    """Phase by phase as they follow one another, for each owner who has anything there in either deck."""
    was, now = _work(m.old), _work(m.new)
    found = []
    for old, new in stages:
        for owner in Owner:
            before, after = was.get((old, owner), Work()), now.get((new, owner), Work())
            if before != Work() or after != Work():
                found.append(Load(old_phase=old, new_phase=new, owner=owner, before=before, after=after))
    return tuple(found)


def lists_of(m: Matches) -> tuple[ListLoad, ...]:
    pairs = m.pairs[Thing.CHECKLIST]
    back = {new: old for old, new in pairs.items()}
    found = [_list(m, back.get(id_), id_) for id_ in m.new[Thing.CHECKLIST]]
    return (*found, *(_list(m, id_, None) for id_ in m.old[Thing.CHECKLIST] if id_ not in pairs))


def _list(m: Matches, old: str | None, new: str | None) -> ListLoad:
    before = 0 if old is None else len(m.old[Thing.CHECKLIST][old].of.lines)
    after = 0 if new is None else len(m.new[Thing.CHECKLIST][new].of.lines)
    return ListLoad(old=old, new=new, lines_before=before, lines_after=after)


def _work(book: Book) -> dict[tuple[str | None, Owner], Work]:
    counts: Counter[tuple[str, Owner, str]] = Counter(
        (record.phase, record.of.by, what) for thing, what in _COUNTED.items() for record in book[thing].values()
    )
    return {
        (phase, owner): Work(*(counts[phase, owner, what] for what in ("items", "lines", "calls")))
        for phase, owner in {key[:2] for key in counts}
    }
