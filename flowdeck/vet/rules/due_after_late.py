"""A prompt that comes when it is late already: nobody can put it right any more.

Both limits are on the same reading, or both in seconds from the same moment. Limits of unlike kinds are found by
`flowdeck trial`.
"""

from collections.abc import Iterator

from flowdeck.model.deck import Limit
from flowdeck.model.diagnostic import Level
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.WARNING
SOURCE = "CR-177549 App. A(12), second-hand"


def find(s: Subject) -> Iterator[Finding]:
    windows = [(item.id, item.due, item.late) for item in s.deck.items.values()]
    windows += [(each.id, each.due, each.late) for each in s.deck.checklists.values()]
    for ref, due, late in windows:
        if due is not None and late is not None and _no_sooner(s, due, late):
            yield s.at(ref), f"'{ref}' is due only when it is late already; give it time to be put right"


def _no_sooner(s: Subject, due: Limit, late: Limit) -> bool:
    if due.after_s is not None and late.after_s is not None:
        return due.start == late.start and due.after_s >= late.after_s
    if due.when is None or late.when is None:
        return False
    return s.prover.implies(due.when, late.when)
