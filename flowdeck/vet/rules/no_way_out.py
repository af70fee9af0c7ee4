"""A phase from which no flight comes to an end, since a condition on the way cannot be true.

The loader finds phases from which no way is drawn; this rule asks whether the ways can be gone.
"""

from collections.abc import Iterator

from flowdeck.model.diagnostic import Level
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.ERROR
SOURCE = "our proposal"


def find(s: Subject) -> Iterator[Finding]:
    ends = set(s.deck.ends)
    for name, phase in s.deck.phases.items():
        if name not in s.ways.reached or ends & s.ways.after(name):
            continue
        shut = [way for way in phase.exits if s.prover.never((way.when, "true"), phase=name)]
        if shut:
            why = f"{s.text(shut[0].when)} cannot be true there"
            yield (
                s.at(name),
                f"no flight comes from '{name}' to an end ({', '.join(s.deck.ends)}): {why}; mend 'leads_to'",
            )
