"""A list whose window opens only on something that the list is to verify.

When that is forgotten, the list that would have caught it is never called. Open it on something else too:
`done('flaps-up') or since('runway-vacated') > 60`. A window on what the aeroplane shows is found as well, unless a hard
edge of the list says why it must come after that item.
"""

from collections.abc import Iterator

from flowdeck.model.diagnostic import Level
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.ERROR
SOURCE = "our proposal"


def find(s: Subject) -> Iterator[Finding]:
    for checklist in s.deck.checklists.values():
        verified = {ref for line in checklist.lines for ref in s.deck.items[line].verifies}
        meant = {edge.before for edge in checklist.after if edge.hard}
        shown = [s.deck.items[ref].seen for ref in verified - meant if ref in s.deck.items]
        for ref in sorted(verified & s.firsts.of(checklist.opens)):
            message = f"'{checklist.id}' opens only when '{ref}' is done, which it is to verify; open it otherwise too"
            yield s.at(checklist.id, "opens"), message
        if not verified & s.firsts.of(checklist.opens):
            for row in sorted({row for row in shown if row is not None}):
                if s.prover.implies(checklist.opens, row):
                    text = s.text(row)
                    message = f"'{checklist.id}' opens only when the aeroplane shows {text}, which it is to verify"
                    yield s.at(checklist.id, "opens"), message
