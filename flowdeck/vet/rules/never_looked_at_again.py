"""A critical item that a list verifies once, early, though it may have changed before it matters.

A setting that rests on the runway or the weather (`reopened_by`) and is critical deserves a second, deliberate look: a
line with `reverify: true`, or a gate that asks for it.
"""

from collections.abc import Iterator

from flowdeck.model.diagnostic import Level
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.INFO
SOURCE = "CR-177549 App. A(11), second-hand"


def find(s: Subject) -> Iterator[Finding]:
    gated = [s.text(must.that) for gate in s.deck.gates.values() for must in gate.must]
    for item in s.actions:
        if not (item.critical and item.reopened_by):
            continue
        looks = s.verified_by.get(item.id, ())
        again = len(looks) > 1 or any(f"'{item.id}'" in text for text in gated)
        shown = item.seen is not None and s.text(item.seen) in gated
        if looks and not again and not shown:
            message = f"'{item.id}' is critical and may change, and nothing looks at it a second time"
            yield s.at(item.id), f"{message}; add a line with reverify: true, or let a gate ask for it"
