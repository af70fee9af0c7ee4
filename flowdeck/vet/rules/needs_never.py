"""An item that may never be done when it is owed: what must hold at the moment of acting cannot.

Every crew that does it is told off for it. Mend the `needs`, or the window.
"""

from collections.abc import Iterator

from flowdeck.model.diagnostic import Level
from flowdeck.vet.owing import claims_of
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.ERROR
SOURCE = "our proposal"


def find(s: Subject) -> Iterator[Finding]:
    for item in s.deck.items.values():
        owed = claims_of(item, item.opens)
        phases = [phase for phase in item.phases if not s.prover.never(*owed, phase=phase)]
        for number, need in enumerate(item.needs):
            if phases and all(s.prover.never(*owed, (need.that, "true"), phase=phase) for phase in phases):
                message = f"'{item.id}' needs {s.text(need.that)}, which cannot hold while it is owed"
                yield s.at(item.id, "needs", number), message
