"""A deck as a flat book of things, each with where it stands: what comparison goes through."""

from typing import Any, NamedTuple, TypeAlias

from msgspec import Struct

from flowdeck.compare.aspects import Thing
from flowdeck.compare.change import Spot
from flowdeck.model.deck import Checklist, Deck, ItemKind

KINDS: dict[ItemKind, Thing] = {
    ItemKind.ACTION: Thing.ACTION,
    ItemKind.LINE: Thing.LINE,
    ItemKind.CALL: Thing.CALL,
    ItemKind.ANSWER: Thing.ANSWER,
    ItemKind.STANDING_ON: Thing.STANDING,
    ItemKind.STANDING_OFF: Thing.STANDING,
}


class Record(NamedTuple):
    """*phase*, *home*: as in `Spot`. *of*: the deck's own value, whose fields are looked at."""

    thing: Thing
    id: str
    phase: str
    home: str
    of: Any


class Figure(Struct, frozen=True):
    """A value of the deck's policy."""

    figure: float


class Term(Struct, frozen=True):
    """A word of the glossary."""

    meaning: str


def spot_of(record: Record) -> Spot:
    return Spot(record.id, record.phase, record.home)


Book: TypeAlias = dict[Thing, dict[str, Record]]


def book_of(deck: Deck) -> Book:
    """Every thing of *deck* by kind and id, in the order in which they stand."""
    book: Book = {thing: {} for thing in Thing}

    def add(thing: Thing, id_: str, of: Any, phase: str = "", home: str = "") -> None:
        book[thing][id_] = Record(thing, id_, phase, home, of)

    add(Thing.DECK, deck.id, deck)
    for phase in deck.phases.values():
        add(Thing.PHASE, phase.id, phase, phase.id)
    for group in deck.groups.values():
        if group.kind == "flow":
            add(Thing.FLOW, group.id, group, group.phase)
        for id_ in group.items:
            item = deck.items[id_]
            add(KINDS[item.kind], id_, item, group.phase, group.id)
    for each in deck.checklists.values():
        add(Thing.CHECKLIST, each.id, each, each.phase)
        for id_ in each.lines:
            add(Thing.LINE, id_, deck.items[id_], each.phase, each.id)
        for hold in each.holds:
            add(Thing.HOLD, hold.id, hold, each.phase, each.id)
    for gate in deck.gates.values():
        add(Thing.GATE, gate.id, gate, gate.phases[0])
    for fact in deck.facts.values():
        add(Thing.FACT, fact.id, fact)
    for mark in deck.marks.values():
        add(Thing.MARK, mark.id, mark)
    for cue in deck.cues.values():
        add(Thing.CUE, cue.id, cue)
    for signal in deck.signals:
        add(Thing.SIGNAL, signal.name, signal)
    for name in deck.policy.__struct_fields__:
        add(Thing.POLICY, name, Figure(float(getattr(deck.policy, name))))
    for word, meaning in deck.glossary.items():
        add(Thing.TERM, word, Term(meaning))
    return book


def unnamed_lines(list_: Checklist) -> frozenset[str]:
    """Lines without a name of their own: their ids are made of the list's and of where they stand in it."""
    return frozenset(id_ for at, id_ in enumerate(list_.lines, 1) if id_ == f"{list_.id}-{at}")
