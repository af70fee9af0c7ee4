"""A hard edge or a need whose reason does not say what goes wrong.

The reason is what the crew reads when it has broken the order. Three words are the least that can say anything.
"""

from collections.abc import Iterator

from flowdeck.model.diagnostic import Level
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.ERROR
SOURCE = "our proposal, after CR-177642 (from memory)"
FEWEST = 3


def find(s: Subject) -> Iterator[Finding]:
    for item in s.deck.items.values():
        for number, edge in enumerate(item.after):
            if edge.hard and len(edge.reason.split()) < FEWEST:
                yield s.at(item.id, "after", number), f"'{edge.reason}' does not say what goes wrong without this order"
        for number, need in enumerate(item.needs):
            if len(need.reason.split()) < FEWEST:
                yield s.at(item.id, "needs", number), f"'{need.reason}' does not say what goes wrong otherwise"
