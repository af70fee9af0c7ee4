"""An item that may be put off to a moment that does not come after it.

A deferred item does not come back to mind by itself; its cue must be able to come in a phase of the item or in one that
follows.
"""

from collections.abc import Iterator

from flowdeck.model.diagnostic import Level
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.ERROR
SOURCE = "The Multitasking Myth (a review's abstract, read)"


def find(s: Subject) -> Iterator[Finding]:
    for item in s.actions:
        if item.cue is None or item.cue not in s.deck.cues:
            continue
        when = s.deck.cues[item.cue].when
        phases = set(item.phases).union(*(s.ways.after(phase) for phase in item.phases)) & set(s.deck.phases)
        if all(s.prover.never((when, "true"), phase=phase) for phase in phases):
            message = f"'{item.id}' is put off to '{item.cue}', which cannot come in its phase or after it"
            yield s.at(item.id, "defer"), message
