"""A standing item that is switched on and that nothing switches off again.

Its `until` cannot come true in any of its phases; what shows it on shows it off as well; or its phases end while it may
still be on, and nothing in a later phase undoes it. Give it the later phases too, or an item there.
"""

from collections.abc import Iterator

from flowdeck.model.deck import Item, ItemKind
from flowdeck.model.diagnostic import Level
from flowdeck.vet.subject import Finding, Subject
from flowdeck.vet.ways import reach

LEVEL = Level.ERROR
SOURCE = "our proposal"


def find(s: Subject) -> Iterator[Finding]:
    for on in s.deck.items.values():
        if on.kind is not ItemKind.STANDING_ON or on.partner is None:
            continue
        off = s.deck.items[on.partner]
        if off.opens is not None and all(s.prover.never((off.opens, "true"), phase=phase) for phase in off.phases):
            yield s.at(off.id), f"'{off.id}' is never owed: {s.text(off.opens)} cannot come true in its phases"
        if on.seen is not None and off.seen is not None and s.prover.implies(on.seen, off.seen):
            yield s.at(off.id), f"'{off.id}' is shown by what shows '{on.id}' too ({s.text(off.seen)})"
        later = _phases_after(s, on)
        if later and off.seen is not None and not any(_undoes(s, item, off) for item in _in(s, later)):
            where = f"'{on.id}' may still be on in {_named(later)}, where nothing undoes it"
            message = f"{where}; name its later phases too, or add an item there"
            yield s.at(on.id), message


def _phases_after(s: Subject, on: Item) -> list[str]:
    """Phases that can be entered with it on: those behind a way out that can be gone before its undoing is owed."""
    off = s.deck.items[on.partner or ""]
    entered: set[str] = set()
    for name in on.phases:
        phase = s.deck.phases[name]
        for way in phase.exits:
            undone_first = off.opens is not None and s.prover.never(
                (way.when, "true"), (off.opens, "not true"), phase=name
            )
            if not undone_first:
                entered.add(way.to)
        if s.deck.go_around in s.ways.leads[name]:
            entered.add(s.deck.go_around)
    outside: set[str] = set()
    for first in entered - set(on.phases) - set(s.deck.ends):
        region = _beyond(s, first, on)
        if region.intersection(s.deck.ends):  # else every way leads back to where it is undone
            outside |= region
    return [name for name in s.deck.phases if name in outside]


def _beyond(s: Subject, first: str, on: Item) -> set[str]:
    """All that can follow *first* without coming back to a phase of *on*."""
    return set(reach([first], lambda name: [way for way in s.ways.leads.get(name, ()) if way not in on.phases]))


def _in(s: Subject, phases: list[str]) -> list[Item]:
    return [item for item in s.deck.items.values() if set(item.phases) & set(phases)]


def _undoes(s: Subject, item: Item, off: Item) -> bool:
    if item.seen is None or off.seen is None:
        return False
    return s.prover.implies(item.seen, off.seen)


def _named(phases: list[str]) -> str:
    return " or ".join(f"'{phase}'" for phase in phases)
