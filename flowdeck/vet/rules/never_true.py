"""A condition that can never be true, whatever the aeroplane and the crew do.

What waits for it waits for ever, and nobody is told. The loader finds a single comparison beyond its signal's range;
this rule looks at the whole condition: `flap_deg > 20 and flap_deg < 11`.
"""

from collections.abc import Iterator

from flowdeck.model.diagnostic import Level
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.ERROR
SOURCE = "our proposal"


def find(s: Subject) -> Iterator[Finding]:
    for row, condition in enumerate(s.deck.conditions):
        place = s.places.of_condition(row)
        if place is not None and s.prover.never((row, "true")):
            yield place, f"'{condition.text}' can never be true, whatever is read and done; mend it, or leave it out"
