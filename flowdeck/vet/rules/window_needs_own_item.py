"""A list whose window opens only on something that the list is to verify.

When that is forgotten, the list that would have caught it is never called. Open it on something else too:
`done('flaps-up') or since('runway-vacated') > 60`. A window on what the aeroplane shows is found as well, unless a hard
edge of the list says why it must come after that item.
"""

from collections.abc import Iterator

from flowdeck.model.diagnostic import Level
from flowdeck.vet.proof.prover import Claim
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.ERROR
SOURCE = "our proposal"


def find(s: Subject) -> Iterator[Finding]:
    for checklist in s.deck.checklists.values():
        verified = sorted({ref for line in checklist.lines for ref in s.deck.items[line].verifies})
        meant = {edge.before for edge in checklist.after if edge.hard}
        items = [s.deck.items[ref] for ref in verified if ref in s.deck.items]
        undone = tuple(formula for item in items for formula in s.prover.is_done(item.id, False))
        hidden: list[Claim] = [(i.seen, "not true") for i in items if i.seen is not None and i.id not in meant]
        opened: Claim = (checklist.opens, "true")
        if not items or s.prover.never(opened) or not s.prover.never(opened, *hidden, also=undone):
            continue
        message = f"'{checklist.id}' opens ({s.text(checklist.opens)}) only on what it is to verify"
        mend = "open it otherwise too, or say by a hard edge why it must come after that"
        yield s.at(checklist.id, "opens"), f"{message}; {mend}"
