"""From matched things to single changes, before those that are one decision are put together."""

from collections.abc import Iterator
from operator import attrgetter

from flowdeck.compare.alike import place_of
from flowdeck.compare.aspects import FIELDS, Aspect, Thing
from flowdeck.compare.change import Change, Tendency, Value
from flowdeck.compare.match import Matches
from flowdeck.compare.order import reordered
from flowdeck.compare.parts import Both, part_differences
from flowdeck.compare.records import Record, spot_of
from flowdeck.compare.tendency import of_conditions, of_spans
from flowdeck.compare.whole import came_and_went
from flowdeck.model.deck import Item, Limit

A = Aspect
_IN_SOMETHING = (Thing.ACTION, Thing.LINE, Thing.HOLD)
_SEVERAL_PHASES = (Thing.CALL, Thing.ANSWER, Thing.STANDING, Thing.GATE)


def changes_of(m: Matches) -> Iterator[Change]:
    """Every single change, in no order that matters."""
    quick = not m.unnamed[0] and not m.unnamed[1]
    for thing, pairs in m.pairs.items():
        there, here = m.old[thing], m.new[thing]
        for old_id, new_id in pairs.items():
            old, new = there[old_id], here[new_id]
            if not (quick and old_id == new_id and isinstance(old.of, Item) and _untouched(m, old, new)):
                yield from _of_pair(m, old, new)
    yield from came_and_went(m)
    yield from reordered(m)


_REFS = ("opens", "when", "unless", "seen")
_LIMITS = ("due", "late", "missed")
_OTHER = ("id", "kind", "partner", "needs", *_REFS, *_LIMITS)
_refs, _limits = attrgetter(*_REFS), attrgetter(*_LIMITS)
_plain = attrgetter(*(field for field in Item.__struct_fields__ if field not in _OTHER))


def _untouched(m: Matches, old: Record, new: Record) -> bool:
    """Whether an item is written in the same words; most of a revised deck is."""
    a, b = old.of, new.of
    if _plain(a) != _plain(b) or len(a.needs) != len(b.needs):
        return False
    was, now = m.old_side.deck.conditions, m.new_side.deck.conditions

    def same(x: int | None, y: int | None) -> bool:
        return x is y is None or (x is not None and y is not None and was[x].text == now[y].text)

    def same_limit(x: Limit | None, y: Limit | None) -> bool:
        if x is None or y is None:
            return x is y
        return x.after_s == y.after_s and x.start == y.start and same(x.when, y.when)

    return (
        all(map(same, _refs(a), _refs(b)))
        and all(map(same_limit, _limits(a), _limits(b)))
        and all(
            same(x.that, y.that) and (x.reason, x.kind) == (y.reason, y.kind)
            for x, y in zip(a.needs, b.needs, strict=True)
        )
    )


def _of_pair(m: Matches, old: Record, new: Record) -> Iterator[Change]:
    was, now = spot_of(old), spot_of(new)

    def change(aspect: Aspect, before: Value, after: Value, tendency: Tendency | None = None) -> Change:
        return Change(thing=new.thing, aspect=aspect, old=was, new=now, before=before, after=after, tendency=tendency)

    if old.id != new.id and new.thing is not Thing.ANSWER and not (old.id in m.unnamed[0] and new.id in m.unnamed[1]):
        yield change(A.NAME, _name(old), _name(new))
    if place_of(m.old_side, old) != place_of(m.new_side, new):
        inside = new.thing in _IN_SOMETHING
        yield change(A.PLACE, old.home if inside else old.phase, new.home if inside else new.phase)
    if new.thing in _SEVERAL_PHASES:
        phases = m.old_side.key(A.PHASES, old.of.phases), new.of.phases
        by_place = phases == ((m.old_side.phase(old.phase),), (new.phase,)) and new.thing is not Thing.GATE
        if phases[0] != phases[1] and not by_place:
            yield change(A.PHASES, old.of.phases, new.of.phases)
    opening: Tendency | None = None
    opening_same = True
    for aspect in FIELDS[new.thing]:
        a, b = m.old_side.raw(old.of, aspect), m.new_side.raw(new.of, aspect)
        if m.old_side.key(aspect, a) == m.new_side.key(aspect, b):
            continue
        if aspect is A.WITHIN_S and (old.of.orders, new.of.orders) != ("go_around", "go_around"):
            continue  # a stop has no seconds
        shown = m.old_side.told(aspect, a), m.new_side.told(aspect, b)
        tendency = _tendency(m, new.thing, aspect, (a, b), shown, (opening, opening_same))
        if aspect is A.OPENS:
            opening, opening_same = tendency, False
        yield change(aspect, *shown, tendency)
    if new.thing is Thing.FLOW and min(len(old.of.items), len(new.of.items)) > 1:
        ordered = m.old_side.ordered(old.id), m.new_side.ordered(new.id)
        if ordered[0] != ordered[1]:
            yield change(A.ORDERED, *ordered)
    for found in part_differences(Both(m.old_side, old, m.new_side, new)):
        tendency = found.trees and of_conditions(new.thing, found.aspect, found.trees, m.new_side.rows.conditions)
        yield change(found.aspect, found.before, found.after, tendency)


def _name(record: Record) -> str:
    """A standing item has one name for both of its halves."""
    return record.id.removesuffix("-on").removesuffix("-off") if record.thing is Thing.STANDING else record.id


def _tendency(
    m: Matches,
    thing: Thing,
    aspect: Aspect,
    raw: tuple[object, object],
    shown: tuple[Value, Value],
    opening: tuple[Tendency | None, bool],
) -> Tendency | None:
    keys = m.old_side.key(aspect, raw[0]), m.new_side.key(aspect, raw[1])
    if aspect is A.WITHIN_S:
        return Tendency.LATER if keys[1] > keys[0] else Tendency.EARLIER
    if isinstance(raw[0], Limit) and isinstance(raw[1], Limit):
        if keys[0][0] is not None and keys[1][0] is not None:
            return of_conditions(thing, aspect, (keys[0][0], keys[1][0]), m.new_side.rows.conditions)
        return of_spans(*shown, *opening)
    if hasattr(shown[0], "text") and hasattr(shown[1], "text"):
        return of_conditions(thing, aspect, keys, m.new_side.rows.conditions)
    return None
