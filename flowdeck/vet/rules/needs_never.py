"""An item that may never be done when it is owed: what must hold at the moment of acting cannot.

Every crew that does it is told off for it. `when`, `unless`, the phase and what must come first count, the window does
not: one that has opened stays open. Mend the `needs`, or what they hang on.
"""

from collections.abc import Iterator

from flowdeck.model.deck import Item, ItemKind
from flowdeck.model.diagnostic import Level
from flowdeck.vet.owing import claims_of
from flowdeck.vet.proof.formula import Formula
from flowdeck.vet.proof.prover import Claim
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.ERROR
SOURCE = "our proposal"


def find(s: Subject) -> Iterator[Finding]:
    for item in s.deck.items.values():
        if not item.needs:
            continue
        lasting = item.kind in (ItemKind.STANDING_ON, ItemKind.STANDING_OFF)
        owed = claims_of(item, item.opens if lasting else None)  # a window that has opened stays open
        before = [formula for edge in item.after if edge.hard for formula in s.prover.is_done(edge.before, True)]
        also = (*before, *(() if item.again else s.prover.is_done(item.id, False)))
        alone = [
            number for number, need in enumerate(item.needs) if _never(s, item, [*owed, (need.that, "true")], also)
        ]
        for number in alone:
            message = f"'{item.id}' needs {s.text(item.needs[number].that)}, which cannot hold while it is owed"
            yield s.at(item.id, "needs", number), f"{message}; mend the need, or what comes before it"
        whole: list[Claim] = [*owed, *((need.that, "true") for need in item.needs)]
        if not alone and _never(s, item, whole, also):
            yield s.at(item.id, "needs"), f"what '{item.id}' needs excludes itself; mend one of its needs"


def _never(s: Subject, item: Item, claims: list[Claim], also: tuple[Formula, ...]) -> bool:
    return all(s.prover.never(*claims, phase=phase, also=also) for phase in item.phases)
