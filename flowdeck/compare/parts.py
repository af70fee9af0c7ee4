"""What a thing has several of: edges, needs, moves, musts, exits; which of the old ones is which of the new ones."""

from collections.abc import Callable, Hashable, Iterator, Sequence
from typing import Any, NamedTuple, TypeAlias, TypeVar

from flowdeck.compare.aspects import Aspect, Thing
from flowdeck.compare.change import Asked, Value, Way
from flowdeck.compare.common import Side
from flowdeck.compare.records import Record
from flowdeck.conditions import facts_used, names_used, refs_used
from flowdeck.model.condition import Expr
from flowdeck.model.deck import Edge, Exit, Item, Move, Must, Need

T = TypeVar("T")


class Difference(NamedTuple):
    """*trees*: the conditions behind *before* and *after*, where both have one."""

    aspect: Aspect
    before: Value
    after: Value
    trees: tuple[Expr, Expr] | None = None


class Both(NamedTuple):
    """A thing in either deck."""

    old_side: Side
    old: Record
    new_side: Side
    new: Record


def part_values(side: Side, record: Record) -> Iterator[tuple[Aspect, Value]]:
    """All of them, for a thing that came or went."""
    of = record.of
    yield from ((Aspect.EDGE, edge) for edge in _written(side, record))
    if isinstance(of, Item):
        yield from ((Aspect.NEED, _asked(side, need)) for need in of.needs)
        yield from ((Aspect.MOVE, move) for move in of.moves)
    elif record.thing is Thing.GATE:
        yield from ((Aspect.MUST, _asked(side, must)) for must in of.must)
    elif record.thing is Thing.PHASE:
        yield from ((Aspect.EXIT, Way(e.to, side.text(e.when))) for e in of.exits)


def part_keys(side: Side, record: Record) -> Iterator[tuple[Aspect, Hashable]]:
    """The same in the common tongue: equal when all of them are the same."""
    of = record.of
    yield Aspect.EDGE, frozenset((side.id(e.before), e.hard, e.reason, e.kind) for e in _written(side, record))
    if isinstance(of, Item):
        yield Aspect.NEED, tuple((side.tree(n.that), n.reason, n.kind) for n in of.needs)
        yield Aspect.MOVE, tuple(_move_key(side, move) for move in of.moves)
    elif record.thing is Thing.GATE:
        yield Aspect.MUST, tuple((side.tree(m.that), m.words) for m in of.must)
        yield Aspect.PHASES, tuple(map(side.phase, of.phases))


def part_differences(both: Both) -> Iterator[Difference]:
    """Of everything that a thing has several of, what differs."""
    if hasattr(both.old.of, "after"):
        yield from _edges(both)
    if isinstance(both.old.of, Item):
        yield from _needs(both)
        yield from _moves(both)
    elif both.old.thing is Thing.GATE:
        yield from _musts(both)
    elif both.old.thing is Thing.PHASE:
        yield from _exits(both)


def _written(side: Side, record: Record) -> list[Edge]:
    """Its edges but the one that an ordered flow gives to each of its items."""
    return [e for e in getattr(record.of, "after", ()) if not side.implied(record.of, e)]


def _edges(both: Both) -> Iterator[Difference]:
    old_side, old, new_side, new = both
    was = {old_side.id(e.before): e for e in sorted(old.of.after, key=lambda e: e.hard)}
    now = {new_side.id(e.before): e for e in sorted(new.of.after, key=lambda e: e.hard)}
    for before in dict.fromkeys((*was, *now)):
        a, b = was.get(before), now.get(before)
        if a is None or b is None:
            only_of_order = old_side.implied(old.of, a) if a else b is not None and new_side.implied(new.of, b)
            if not only_of_order:
                yield Difference(Aspect.EDGE, a, b)
        elif a.hard != b.hard:
            yield Difference(Aspect.EDGE, a, b)
        else:
            if a.kind != b.kind:
                yield Difference(Aspect.EDGE_KIND, a, b)
            if a.reason != b.reason:
                yield Difference(Aspect.EDGE_REASON, a, b)


def _needs(both: Both) -> Iterator[Difference]:
    old_side, old, new_side, new = both
    for a, b in paired(old.of.needs, new.of.needs, [_by_meaning(both), _by_what_is_read(both)]):
        before, after = _asked(old_side, a), _asked(new_side, b)
        if a is None or b is None:
            yield Difference(Aspect.NEED, before, after)
        elif (trees := (old_side.tree(a.that), new_side.tree(b.that))) and trees[0] != trees[1]:
            yield Difference(Aspect.NEED, before, after, trees)
        else:
            if a.kind != b.kind:
                yield Difference(Aspect.NEED_KIND, before, after)
            if a.reason != b.reason:
                yield Difference(Aspect.NEED_REASON, before, after)


def _moves(both: Both) -> Iterator[Difference]:
    old_side, old, new_side, new = both
    by_signal = (lambda m: old_side.name(m.signal), lambda m: new_side.name(m.signal))
    for a, b in paired(old.of.moves, new.of.moves, [by_signal]):
        if a is None or b is None or _move_key(old_side, a) != _move_key(new_side, b):
            yield Difference(Aspect.MOVE, a, b)


def _musts(both: Both) -> Iterator[Difference]:
    old_side, old, new_side, new = both
    by_words = (lambda m: m.words, lambda m: m.words)
    for a, b in paired(old.of.must, new.of.must, [_by_meaning(both), by_words, _by_what_is_read(both)]):
        before, after = _asked(old_side, a), _asked(new_side, b)
        if a is None or b is None:
            yield Difference(Aspect.MUST, before, after)
        elif (trees := (old_side.tree(a.that), new_side.tree(b.that))) and trees[0] != trees[1]:
            yield Difference(Aspect.MUST, before, after, trees)
        elif a.words != b.words:
            yield Difference(Aspect.MUST_WORDS, before, after)


def _exits(both: Both) -> Iterator[Difference]:
    old_side, old, new_side, new = both

    def way(side: Side) -> Callable[[Exit], Hashable]:
        return lambda e: (side.phase(e.to), side.tree(e.when))

    to = (lambda e: old_side.phase(e.to), lambda e: new_side.phase(e.to))
    pairs = paired(old.of.exits, new.of.exits, [(way(old_side), way(new_side)), to])
    for a, b in pairs:
        before = a and Way(a.to, old_side.text(a.when))
        after = b and Way(b.to, new_side.text(b.when))
        if a is None or b is None:
            yield Difference(Aspect.EXIT, before, after)
        elif (trees := (old_side.tree(a.when), new_side.tree(b.when))) and trees[0] != trees[1]:
            yield Difference(Aspect.EXIT, before, after, trees)
    places = [new.of.exits.index(b) for a, b in pairs if a is not None and b is not None]
    if places != sorted(places):
        yield Difference(Aspect.EXIT_ORDER, tuple(e.to for e in old.of.exits), tuple(e.to for e in new.of.exits))


Key: TypeAlias = tuple[Callable[[Any], Hashable], Callable[[Any], Hashable]]
"""A key of the old ones and one of the new ones; None is no key."""


def paired(old: Sequence[T], new: Sequence[T], keys: Sequence[Key]) -> list[tuple[T | None, T | None]]:
    """By the first key, what is left by the next; of those with one key the first with the first, and so on."""
    mates: dict[int, int] = {}
    for of_old, of_new in keys:
        taken = set(mates.values())
        left: dict[Hashable, list[int]] = {}
        for j, each in enumerate(new):
            if j not in taken:
                left.setdefault(of_new(each), []).append(j)
        left.pop(None, None)
        for i, each in enumerate(old):
            if i not in mates and (found := left.get(of_old(each))):
                mates[i] = found.pop(0)
    taken = set(mates.values())
    rest: list[tuple[T | None, T | None]] = [(None, each) for j, each in enumerate(new) if j not in taken]
    return [*((each, new[mates[i]] if i in mates else None) for i, each in enumerate(old)), *rest]


def _by_meaning(both: Both) -> Key:
    return (lambda asked: both.old_side.tree(asked.that)), (lambda asked: both.new_side.tree(asked.that))


def _by_what_is_read(both: Both) -> Key:
    """What is asked of the same signals, facts and things is the same question with another bound."""

    def key(side: Side) -> Callable[[Need | Must], Hashable]:
        def of(asked: Need | Must) -> Hashable:
            tree, rows = side.tree(asked.that), side.rows.conditions
            return names_used(tree, rows), facts_used(tree, rows), refs_used(tree, rows)

        return of

    return key(both.old_side), key(both.new_side)


def _asked(side: Side, asked: Need | Must | None) -> Asked | None:
    if asked is None:
        return None
    if isinstance(asked, Need):
        return Asked(side.text(asked.that), asked.reason, asked.kind)
    return Asked(side.text(asked.that), asked.words)


def _move_key(side: Side, move: Move) -> Hashable:
    return side.name(move.signal), move.to, move.same_as and side.name(move.same_as), move.in_s
