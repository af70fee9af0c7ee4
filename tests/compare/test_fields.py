"""No field of a deck can differ unnoticed: each one is changed in turn, by itself, and something is told."""

from collections.abc import Iterator
from typing import Any

import pytest
from msgspec import Struct
from msgspec.structs import replace

from flowdeck.compare.aspects import FIELDS, LEFT_OUT, Aspect, Thing
from flowdeck.compare.comparison import compare
from flowdeck.model.condition import Condition, Const
from flowdeck.model.deck import (
    Checklist,
    Cue,
    Deck,
    Edge,
    Exit,
    Fact,
    Gate,
    Group,
    HoldPoint,
    Identity,
    Item,
    Limit,
    Mark,
    Move,
    Must,
    Need,
    Phase,
    Policy,
)
from flowdeck.model.seats import Owner, Seat
from flowdeck.model.signals import Signal, SignalKind
from tests.hostile.sources import full_deck

FULL = full_deck()
NEW = len(FULL.conditions)
"""The number of a condition that nothing asks yet."""
BASE = replace(FULL, conditions=(*FULL.conditions, Condition(text="1 < 0", tree=Const(False))))

_REFS = ("opens", "when", "unless", "seen", "that", "at", "until", "not_while", "committed", "sterile")
_CHOICES: dict[str, Any] = {
    "by": lambda was: Owner.EITHER if isinstance(was, Owner) else "outside" if was == "crew" else "crew",
    "called_by": lambda _: Owner.EITHER,
    "read_by": lambda _: Owner.EITHER,
    "mode": lambda was: "read_do" if was == "verify" else "verify",
    "orders": lambda was: "stop" if was == "go_around" else "go_around",
    "lasts": lambda was: "approach" if was == "flight" else "flight",
    "kind": lambda was: "damage" if was != "damage" else "safety",
    "seats": lambda _: (Seat.CAPTAIN,),
    "phases": lambda _: ("go_around",),
    "to": lambda was: 12.0 if isinstance(was, float) else "other",
    "initial": lambda was: not was,
}
_SKIPPED = {
    "id",
    "name",
    "item",
    "conditions",
    "hash",
    "items",
    "lines",
    "holds",
    "group",
    "phase",
    "before",
    "partner",
}


def other(name: str, was: Any) -> Any:
    """Another value for a field."""
    if name in _REFS:
        return NEW
    if name in _CHOICES:
        return _CHOICES[name](was)
    if isinstance(was, SignalKind):
        return SignalKind.FLAG if was is not SignalKind.FLAG else SignalKind.NUMBER
    if isinstance(was, bool):
        return not was
    if isinstance(was, (int, float)):
        return was + 1
    if name in ("due", "late", "missed", "complete_by"):
        return Limit(after_s=77.0)
    if isinstance(was, tuple):
        return (*was, "other")
    return 3.0 if name in ("low", "high", "stale_s", "at_start") else "other"


def changed_in(deck: Deck, table: str, key: Any, value: Struct, name: str) -> Deck:
    thing = replace(value, **{name: other(name, getattr(value, name))})
    there = getattr(deck, table)
    if isinstance(there, tuple):
        return replace(deck, **{table: tuple(thing if each is value else each for each in there)})
    return replace(deck, **{table: {**there, key: thing}})


TABLES = ("items", "checklists", "gates", "phases", "facts", "marks", "cues")
_INNER = {"after", "needs", "moves", "must", "exits"}


def cases() -> Iterator[tuple[str, Deck]]:
    """Each field of each kind of thing, of every thing that is in the deck."""
    for table in TABLES:
        for key, value in getattr(BASE, table).items():
            for name in value.__struct_fields__:
                if name in _SKIPPED or name in _INNER or (name == "kind" and isinstance(value, Item)):
                    continue
                if name == "within_s" and isinstance(value, Gate) and value.orders == "stop":
                    continue  # a stop has no seconds
                if name == "phases" and isinstance(value, Item) and value.kind in ("action", "line"):
                    continue
                yield f"{table} {key} {name}", changed_in(BASE, table, key, value, name)
            for name in _INNER & set(value.__struct_fields__):
                parts = getattr(value, name)
                if parts:
                    yield f"{table} {key} {name} gone", replace_in(table, key, value, name, parts[1:])
                for field in parts[0].__struct_fields__ if parts else ():
                    if (field == "to" and isinstance(parts[0], Exit)) or field == "before":
                        there = "other"
                    else:
                        there = other(field, getattr(parts[0], field))
                    part = replace(parts[0], **{field: there})
                    yield f"{table} {key} {name} {field}", replace_in(table, key, value, name, (part, *parts[1:]))
    for key, list_ in BASE.checklists.items():
        for field in ("until", "title"):
            for hold in list_.holds[:1]:
                changed = replace(hold, **{field: other(field, None)})
                yield (
                    f"hold {hold.id} {field}",
                    replace_in("checklists", key, list_, "holds", (changed, *list_.holds[1:])),
                )
    for key, group in BASE.groups.items():
        if group.kind == "flow":
            yield f"flow {key} title", changed_in(BASE, "groups", key, group, "title")
    for signal in (s for s in BASE.signals if s.name.startswith("own_")):
        for name in signal.__struct_fields__[1:]:
            yield f"signal {signal.name} {name}", changed_in(BASE, "signals", None, signal, name)
    for name in Policy.__struct_fields__:
        value = getattr(BASE.policy, name)
        yield f"policy {name}", replace(BASE, policy=replace(BASE.policy, **{name: value + 1}))
    for name in Identity.__struct_fields__:
        yield f"identity {name}", replace(BASE, identity=replace(BASE.identity, **{name: "other"}))
    for name in ("id", "start", "go_around", "revised", "ends", "committed", "sterile"):
        yield f"deck {name}", replace(BASE, **{name: other(name, getattr(BASE, name))})


def replace_in(table: str, key: str, value: Struct, name: str, parts: tuple[Any, ...]) -> Deck:
    there = getattr(BASE, table)
    return replace(BASE, **{table: {**there, key: replace(value, **{name: parts})}})


def first_of_each() -> Iterator[tuple[str, Deck]]:
    """Of these cases each field once a kind of thing, where it is met first."""
    met = set()
    for name, deck in cases():
        table, key, *field = name.split()
        of = (table, BASE.items[key].kind if table == "items" else "" if field else key, *field)
        if of not in met:
            met.add(of)
            yield name, deck


def test_each_field_alone() -> None:
    """Something is told of it, and of no more than one thing (what it changes it in, or with its other half)."""
    assert check(first_of_each()) > 250


@pytest.mark.soak
def test_each_field_of_every_thing_alone() -> None:
    assert check(cases()) > 700


def check(tried: Iterator[tuple[str, Deck]]) -> int:
    """How many were tried."""
    seen = 0
    for name, deck in tried:
        found = compare(BASE, deck).changes
        assert found, f"{name}: nothing is told"
        things = {(change.thing, change.spot.id) for change in found}
        if " after" in name:  # an ordered flow that has lost an edge is no ordered flow any more
            things -= {(Thing.FLOW, flow) for flow in BASE.groups}
        assert len(things) <= 1, name
        assert compare(deck, BASE).changes, f"{name}: nothing is told the other way round"
        seen += 1
    return seen


@pytest.mark.parametrize(
    ("of", "things"),
    [
        (Item, (Thing.ACTION,)),
        (Checklist, (Thing.CHECKLIST,)),
        (HoldPoint, (Thing.HOLD,)),
        (Gate, (Thing.GATE,)),
        (Group, (Thing.FLOW,)),
        (Phase, (Thing.PHASE,)),
        (Fact, (Thing.FACT,)),
        (Mark, (Thing.MARK,)),
        (Cue, (Thing.CUE,)),
        (Signal, (Thing.SIGNAL,)),
        (Identity, (Thing.DECK,)),
        (Deck, (Thing.DECK,)),
    ],
)
def test_every_field_has_its_place(of: type[Struct], things: tuple[Thing, ...]) -> None:
    """A field that is new in the model is compared, or stands among those left out with its reason."""
    known = {str(aspect) for thing in things for aspect in FIELDS[thing]}
    known |= {"id", "name", "after", "needs", "moves", "must", "exits"}
    if of is Deck:
        known |= {"identity", "signals", "phases", "groups", "items", "checklists", "gates", "facts", "marks", "cues"}
        known |= {"policy", "glossary"}
    for field in of.__struct_fields__:
        assert field in known or f"{of.__name__}.{field}" in LEFT_OUT, field


def test_edges_needs_and_moves_have_no_field_more() -> None:
    """They are compared as wholes, field by field in `flowdeck.compare.parts`."""
    assert Edge.__struct_fields__ == ("before", "hard", "reason", "kind")
    assert Need.__struct_fields__ == ("that", "reason", "kind")
    assert Must.__struct_fields__ == ("that", "words")
    assert Move.__struct_fields__ == ("signal", "to", "same_as", "in_s")
    assert Exit.__struct_fields__ == ("to", "when")
    assert Limit.__struct_fields__ == ("when", "after_s", "start")


def test_every_aspect_is_of_something() -> None:
    used = {aspect for fields in FIELDS.values() for aspect in fields}
    own = {Aspect.WHOLE, Aspect.NAME, Aspect.PLACE, Aspect.ORDER, Aspect.ORDERED, Aspect.PHASES, Aspect.EXIT_ORDER}
    own |= {Aspect.EDGE, Aspect.EDGE_KIND, Aspect.EDGE_REASON, Aspect.NEED, Aspect.NEED_KIND, Aspect.NEED_REASON}
    own |= {Aspect.MUST, Aspect.MUST_WORDS, Aspect.MOVE, Aspect.EXIT}
    assert used | own == set(Aspect)
