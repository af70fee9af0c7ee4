"""Something that stops the crew and can never let go: a hold that nothing releases, a gate that stays failed.

Also a number of the deck's own without a unit, which is compared with another: nobody can tell what it means. Give the
signal a `unit`.
"""

from collections.abc import Iterator

from flowdeck.conditions.describe import walk
from flowdeck.model.catalogue import by_name
from flowdeck.model.condition import Compare, SignalRef
from flowdeck.model.diagnostic import Level
from flowdeck.model.signals import SignalKind
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.ERROR
SOURCE = "CAP 676, from memory"


def find(s: Subject) -> Iterator[Finding]:
    for checklist in s.deck.checklists.values():
        for hold in checklist.holds:
            if s.prover.never((hold.until, "true"), phase=checklist.phase):
                text = s.text(hold.until)
                yield s.at(hold.id), f"nothing releases '{hold.id}': {text} cannot be true in '{checklist.phase}'"
    for gate in s.deck.gates.values():
        for number, must in enumerate(gate.must):
            own = sorted(s.firsts.of(must.that) & set(gate.stops))
            if own:
                message = (
                    f"'{gate.id}' asks for {s.text(must.that)} and stops '{own[0]}' until then, so it stops for ever"
                )
                yield s.at(gate.id, "must", number), message
            if gate.orders == "stop" and all(s.prover.never((must.that, "true"), phase=p) for p in gate.phases):
                message = f"'{gate.id}' stops the crew for ever: {s.text(must.that)} cannot be true in its phases"
                yield s.at(gate.id, "must", number), message
    compared, built_in = _compared(s), set(by_name())
    for signal in s.deck.signals:
        if signal.kind is SignalKind.NUMBER and not signal.unit and signal.name in compared - built_in:
            message = f"'{signal.name}' is a number without a unit; say what it counts: unit: ..."
            yield s.places.in_deck("signals", signal.name), message


def _compared(s: Subject) -> set[str]:
    found: set[str] = set()
    for condition in s.deck.conditions:
        for part in walk(condition.tree):
            if isinstance(part, Compare):
                found.update(inner.name for inner in walk(part) if isinstance(inner, SignalRef))
    return found
