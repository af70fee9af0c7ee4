"""What the changes do to windows: from when, and until when, things may be done, before and after."""

from collections.abc import Iterable
from typing import TypeAlias

from msgspec import Struct

from flowdeck.compare.aspects import Aspect, Thing
from flowdeck.compare.change import Change, Spot, Tendency, Value
from flowdeck.compare.match import Matches
from flowdeck.compare.tendency import of_spans

_BOUNDS = (Aspect.OPENS, Aspect.DUE, Aspect.LATE, Aspect.MISSED, Aspect.COMPLETE_BY)
_ENDS = (Aspect.LATE, Aspect.MISSED, Aspect.COMPLETE_BY)


class Bound(Struct, frozen=True, kw_only=True):
    """One limit of a window. *same*: it says the same in both; with the opening it may have moved all the same."""

    aspect: Aspect
    before: Value
    after: Value
    same: bool
    tendency: Tendency | None


class Window(Struct, frozen=True, kw_only=True):
    """*things*: those with this window, of either deck. *whole*: what became of it, None where that is not known."""

    thing: Thing
    things: tuple[tuple[Spot, Spot], ...]
    bounds: tuple[Bound, ...]
    whole: Tendency | None


Key: TypeAlias = tuple[Thing, str, tuple[Bound, ...]]


def windows_of(m: Matches, changes: Iterable[Change]) -> tuple[Window, ...]:
    """Every window of which a limit changed; those of one flow that changed alike are one. *changes*: unfolded."""
    of_thing: dict[tuple[Thing, Spot, Spot], dict[Aspect, Change]] = {}
    for change in changes:
        if change.aspect in _BOUNDS and change.old is not None and change.new is not None:
            of_thing.setdefault((change.thing, change.old, change.new), {})[change.aspect] = change
    found: dict[Key, list[tuple[Spot, Spot]]] = {}
    for (thing, old, new), changed in of_thing.items():
        bounds = tuple(_bounds(m, thing, old, new, changed))
        found.setdefault((thing, new.home or new.id, bounds), []).append((old, new))
    return tuple(
        Window(thing=thing, things=tuple(things), bounds=bounds, whole=_whole(bounds))
        for (thing, _, bounds), things in found.items()
    )


def _bounds(m: Matches, thing: Thing, old: Spot, new: Spot, changed: dict[Aspect, Change]) -> Iterable[Bound]:
    a, b = m.old[thing][old.id].of, m.new[thing][new.id].of
    opens = changed.get(Aspect.OPENS)
    for aspect in _BOUNDS:
        if aspect in changed:
            change = changed[aspect]
            yield Bound(aspect=aspect, before=change.before, after=change.after, same=False, tendency=change.tendency)
            continue
        before, after = (s.told(aspect, getattr(of, aspect, None)) for s, of in ((m.old_side, a), (m.new_side, b)))
        if after is not None:
            moved = None if opens is None else of_spans(before, after, opens.tendency, False)
            yield Bound(aspect=aspect, before=before, after=after, same=True, tendency=moved)


def _whole(bounds: tuple[Bound, ...]) -> Tendency | None:
    """Wider or narrower, earlier or later as a whole; None where one of its ends is not known, or only *due* moved."""
    opens = [b for b in bounds if b.aspect is Aspect.OPENS]
    ends = [b for b in bounds if b.aspect in _ENDS]
    if not ends or any(b.tendency is None and not b.same for b in (*opens, *ends)):
        return None
    unsure = opens and not opens[0].same and any(b.same and b.tendency is None and _moves(b) for b in ends)
    begins = {b.tendency for b in opens} or {None}
    closes = {b.tendency for b in ends}
    if unsure or begins | closes == {None}:
        return None
    early, late = {Tendency.EARLIER}, {Tendency.LATER}
    if begins == closes and begins in (early, late):
        return begins.pop()
    if begins <= {Tendency.EARLIER, None} and closes <= {Tendency.LATER, None}:
        return Tendency.WIDER
    if begins <= {Tendency.LATER, None} and closes <= {Tendency.EARLIER, None}:
        return Tendency.NARROWER
    return None


def _moves(bound: Bound) -> bool:
    """Whether it counts from the opening."""
    return getattr(bound.after, "after_s", None) is not None and getattr(bound.after, "start", None) is None
