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
    windows = [(item.id, "due", item.due, "late", item.late) for item in s.deck.items.values()]
    windows += [(each.id, "due", each.due, "late", each.late) for each in s.deck.checklists.values()]
    windows += [(item.id, "due", item.due, "missed", item.missed) for item in s.deck.items.values()]
    windows += [(item.id, "late", item.late, "missed", item.missed) for item in s.deck.items.values()]
    for ref, first, sooner, second, later in windows:
        if sooner is not None and later is not None and _no_sooner(s, sooner, later):
            message = f"'{ref}' is {first} ({_said(s, sooner)}) only when it is {second} already ({_said(s, later)})"
            yield s.at(ref, first), f"{message}; give it time to be put right"


def _said(s: Subject, limit: Limit) -> str:
    return s.text(limit.when) if limit.when is not None else f"after {limit.after_s or 0:g} s"


def _no_sooner(s: Subject, due: Limit, late: Limit) -> bool:
    if due.after_s is not None and late.after_s is not None:
        return due.start == late.start and due.after_s >= late.after_s
    if due.when is None or late.when is None:
        return False
    return s.prover.implies(due.when, late.when)
