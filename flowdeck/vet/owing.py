"""What makes something owed: the phases and the conditions that must be met, the same for items, lists and gates."""

from collections.abc import Iterator

from msgspec import Struct

from flowdeck.model.deck import Checklist, Deck, Gate, Item, ItemKind
from flowdeck.vet.proof.prover import Claim


class Owing(Struct, frozen=True, kw_only=True):
    ref: str
    phases: tuple[str, ...]
    claims: tuple[Claim, ...]


def claims_of(thing: Item | Checklist | Gate, opens: int | None) -> tuple[Claim, ...]:
    """What must be met for a thing to be owed, where *opens* opens it."""
    found: list[Claim] = []
    if opens is not None:
        found.append((opens, "true"))
    if thing.when is not None:
        found.append((thing.when, "true"))
    if thing.unless is not None:
        found.append((thing.unless, "not true"))
    return tuple(found)


def owings(deck: Deck) -> Iterator[Owing]:
    """All items, lists and gates of a deck; lines and answers come with their list and call."""
    for item in deck.items.values():
        if item.kind not in (ItemKind.LINE, ItemKind.ANSWER):
            yield Owing(ref=item.id, phases=item.phases, claims=claims_of(item, item.opens))
    for checklist in deck.checklists.values():
        yield Owing(ref=checklist.id, phases=(checklist.phase,), claims=claims_of(checklist, checklist.opens))
    for gate in deck.gates.values():
        yield Owing(ref=gate.id, phases=gate.phases, claims=claims_of(gate, gate.at))
