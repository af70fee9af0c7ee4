"""A list of more than nine lines.

Long lists are interrupted, and rushed towards the end. Split it by system.
"""

from collections.abc import Iterator

from flowdeck.model.diagnostic import Level
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.WARNING
SOURCE = "Degani and Wiener 1993 for splitting (second-hand); the numbers: common practice, no source"
MOST_LINES = 9


def find(s: Subject) -> Iterator[Finding]:
    for checklist in s.deck.checklists.values():
        lines = len(checklist.lines)
        if lines > MOST_LINES:
            yield (
                s.at(checklist.id),
                f"'{checklist.id}' has {lines} lines; split it by system, at most {MOST_LINES} each",
            )
