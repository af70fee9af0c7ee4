"""A critical line in the second half of its list, and nothing forces it there.

What kills comes first: lists are interrupted, and it is the end that is lost. A hold before it, or a hard edge of what
it verifies, is a reason.
"""

from collections.abc import Iterator

from flowdeck.model.diagnostic import Level
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.WARNING
SOURCE = "CR-177549 App. A(10), second-hand"


def find(s: Subject) -> Iterator[Finding]:
    for checklist, number, line in s.lines:
        first_hold = min((hold.before for hold in checklist.holds), default=len(checklist.lines))
        if not line.critical or number * 2 < len(checklist.lines) or number >= first_hold:
            continue
        verified = [s.deck.items[ref] for ref in line.verifies if ref in s.deck.items]
        if any(edge.hard for item in verified for edge in item.after):
            continue
        where = f"line {number + 1} of {len(checklist.lines)}"
        yield s.at(line.id), f"'{line.id}' is critical and comes as {where}; no hold and no hard edge forces it so late"
