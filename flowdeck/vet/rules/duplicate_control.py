"""One thing verified by two lists of a phase.

The second one is answered from the memory of the first. Where a second look is meant, since the thing may have changed,
say so: `reverify: true`.
"""

from collections.abc import Iterator

from flowdeck.model.deck import Checklist, Item
from flowdeck.model.diagnostic import Level
from flowdeck.vet.owing import claims_of
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.WARNING
SOURCE = "CR-177549 App. A(11), second-hand"


def find(s: Subject) -> Iterator[Finding]:
    seen: dict[tuple[str, str], str] = {}
    for checklist, _, line in s.lines:
        if line.reverify:
            continue
        for verified in line.verifies:
            first = seen.setdefault((checklist.phase, verified), line.id)
            if first != line.id and first not in checklist.lines and _together(s, first, checklist, line):
                message = f"'{verified}' is verified by '{first}' and again by '{line.id}'"
                yield s.at(line.id), f"{message}; where a second look is meant, say reverify: true"


def _together(s: Subject, first: str, checklist: Checklist, line: Item) -> bool:
    """Whether both can be owed in one flight: not one or the other."""
    one = next(each for each in s.deck.checklists.values() if first in each.lines)
    claims = [claim for thing in (one, s.deck.items[first], checklist, line) for claim in claims_of(thing, None)]
    return not s.prover.never(*claims)
