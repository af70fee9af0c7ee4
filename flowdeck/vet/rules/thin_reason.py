"""A hard edge or a need whose reason does not say what goes wrong.

The reason is what the crew reads when it has broken the order. Three words are the least that can say anything.
"""

from collections.abc import Iterator

from flowdeck.model.deck import Checklist, Item
from flowdeck.model.diagnostic import Level
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.ERROR
SOURCE = "our proposal, after CR-177642 (from memory)"
FEWEST = 3


def find(s: Subject) -> Iterator[Finding]:
    things: list[Item | Checklist] = [*s.deck.items.values(), *s.deck.checklists.values()]
    for thing in things:
        for number, edge in enumerate(thing.after):
            if edge.hard and _is_thin(edge.reason):
                message = f"'{edge.reason}' does not say what goes wrong without this order; say it in a sentence"
                yield s.at(thing.id, "after", number), message
    for item in s.deck.items.values():
        for number, need in enumerate(item.needs):
            if _is_thin(need.reason):
                message = f"'{need.reason}' does not say what goes wrong otherwise; say it in a sentence"
                yield s.at(item.id, "needs", number), message


def _is_thin(reason: str) -> bool:
    return sum(any(c.isalnum() for c in word) for word in reason.split()) < FEWEST
