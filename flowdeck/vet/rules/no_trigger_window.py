"""A list that nobody is ever reminded of: it has neither `due` nor `late`.

A list that was not called is found only against a limit. Say when it is due, for the prompt, and when it is late.
"""

from collections.abc import Iterator

from flowdeck.model.diagnostic import Level
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.ERROR
SOURCE = "CR-177549 s5.1, second-hand"


def find(s: Subject) -> Iterator[Finding]:
    for checklist in s.deck.checklists.values():
        if checklist.due is None and checklist.late is None:
            yield s.at(checklist.id), f"'{checklist.id}' has neither 'due' nor 'late', so nobody is reminded to call it"
