"""A list whose completion call does not name it.

"Checklist complete" could be any list; the other pilot must hear which one is done. Let the words hold the title.
"""

from collections.abc import Iterator

from flowdeck.model.diagnostic import Level
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.ERROR
SOURCE = "CR-177549 App. A(6), second-hand"


def find(s: Subject) -> Iterator[Finding]:
    for checklist in s.deck.checklists.values():
        title = checklist.title.lower().removesuffix("checklist").removesuffix("list").strip()
        if title not in checklist.completion.lower():
            message = f"the completion call '{checklist.completion}' does not name the list '{checklist.title}'"
            yield s.at(checklist.id, "completion"), message
