"""A critical item of a flow that no list verifies and no gate asks for.

Whether it was done rests on one memory. Give it a line, or let a gate ask for it.
"""

from collections.abc import Iterator

from flowdeck.model.diagnostic import Level
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.ERROR
SOURCE = "14 CFR 121.315, read"


def find(s: Subject) -> Iterator[Finding]:
    gated = [s.text(must.that) for gate in s.deck.gates.values() for must in gate.must]
    gated += [s.text(line.seen) for _, _, line in s.lines if line.seen is not None]
    for item in s.actions:
        if not item.critical or item.id in s.verified_by:
            continue
        if any(f"'{item.id}'" in text or (item.seen is not None and text == s.text(item.seen)) for text in gated):
            continue
        message = f"'{item.id}' is critical and in no list and no gate, so that only memory brings it back"
        yield s.at(item.id), f"{message}; give it a line that verifies it, or let a gate ask for it"
