"""A list without one reader or one caller, or a line without one who answers.

`both` answer a line together, each for the own side; but two cannot read or call, and `either` waits for the other.
"""

from collections.abc import Iterator

from flowdeck.model.diagnostic import Level
from flowdeck.model.seats import Owner
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.ERROR
SOURCE = "CR-177549 s5.2, second-hand"
_SHARED = (Owner.BOTH, Owner.EITHER)


def find(s: Subject) -> Iterator[Finding]:
    for checklist in s.deck.checklists.values():
        for field, owner in (("called_by", checklist.called_by), ("read_by", checklist.read_by)):
            if owner in _SHARED:
                verb = field.removesuffix("_by")
                yield s.at(checklist.id, field), f"'{checklist.id}' is {verb} by {owner}; name one pilot"
    for _, _, line in s.lines:
        if line.by is Owner.EITHER:
            yield s.at(line.id, "by"), f"'{line.id}' is answered by either, so by nobody; name one pilot, or both"
