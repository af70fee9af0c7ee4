"""Two standing items that ask for contrary things at the same moment, or one that asks for both its halves at once.

The crew can satisfy one of them only by breaking the other, and the prompts come for ever. The values that are shown
are readings at which both are owed. Let one of them give way: `unless: ...`.
"""

from collections.abc import Iterator
from itertools import combinations

from flowdeck.model.deck import Item, ItemKind
from flowdeck.model.diagnostic import Level
from flowdeck.vet.owing import claims_of
from flowdeck.vet.proof import Possible
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.ERROR
SOURCE = "our proposal"


def find(s: Subject) -> Iterator[Finding]:
    halves = [item for item in s.deck.items.values() if item.kind in (ItemKind.STANDING_ON, ItemKind.STANDING_OFF)]
    for first, second in combinations(halves, 2):
        if not set(first.phases) & set(second.phases) or not _contrary(s, first, second):
            continue
        if ItemKind.STANDING_OFF in (first.kind, second.kind) and first.partner != second.id:
            continue  # an undoing is owed only where its own item is on
        for phase in [phase for phase in first.phases if phase in second.phases]:
            found = s.prover.can(*claims_of(first, first.opens), *claims_of(second, second.opens), phase=phase)
            if isinstance(found, Possible):
                message = (
                    f"'{first.id}' and '{second.id}' can be owed at once ({found.values}); let one give way by unless"
                )
                yield s.at(second.id), message
                break


def _contrary(s: Subject, first: Item, second: Item) -> bool:
    if first.partner == second.id:
        return True
    aims = {move.signal: move.to for move in first.moves}
    if any(move.signal in aims and aims[move.signal] != move.to for move in second.moves):
        return True
    if first.seen is None or second.seen is None:
        return False
    return s.prover.never((first.seen, "true"), (second.seen, "true"))
