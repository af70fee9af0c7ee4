"""A list that takes longer to read than the time from its opening to where it is to be complete.

Told where both ends are seconds, or heights, or distances; a height counts a thousand feet a minute, a distance 140
knots within ten miles and 250 beyond. Reading: two and a half seconds
a line and for the completion call, and a second and a half for each look; a hold counts nothing.
"""

from collections.abc import Iterator

from flowdeck.model.diagnostic import Level
from flowdeck.vet.reading import seconds
from flowdeck.vet.spans import time_between
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.WARNING
SOURCE = "our proposal"


def find(s: Subject) -> Iterator[Finding]:
    for checklist in s.deck.checklists.values():
        end = checklist.complete_by or checklist.late
        there_is = None if end is None else time_between(s.deck, checklist.opens, end)
        takes = seconds(s.deck, checklist)
        if there_is is not None and takes > there_is:
            message = f"'{checklist.id}' takes about {takes:.1f} s to read and has {there_is:.1f} s"
            yield s.at(checklist.id), f"{message}; open it earlier, or shorten it"
