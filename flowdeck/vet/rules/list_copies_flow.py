"""A list that repeats more than six tenths of a flow.

It invites the crew to read the list and do the flow by it. A list verifies what kills or breaks, not every switch.
Flows of fewer than five items are left out.
"""

from collections.abc import Iterator

from flowdeck.model.diagnostic import Level
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.WARNING
SOURCE = "TM-2010-216396 (second-hand); the number is our proposal"
MOST = 0.6
SMALLEST = 5


def find(s: Subject) -> Iterator[Finding]:
    for checklist in s.deck.checklists.values():
        verified = {ref for line in checklist.lines for ref in s.deck.items[line].verifies}
        for group in s.deck.groups.values():
            if group.kind != "flow" or len(group.items) < SMALLEST:
                continue
            again = len(verified.intersection(group.items))
            if again > MOST * len(group.items):
                message = (
                    f"'{checklist.id}' repeats {again} of {len(group.items)} items of the flow '{group.id}'; "
                    "verify what matters and leave the rest"
                )
                yield s.at(checklist.id), message
