"""How long it takes to read a list: our proposal, for comparing with the time there is."""

from flowdeck.compare.workload import LINE_S
from flowdeck.model.deck import Checklist, Deck
from flowdeck.model.seats import Owner

LOOK_S = 1.5
"""To look, where the aeroplane shows something; each of two pilots who both answer."""


def seconds(deck: Deck, checklist: Checklist) -> float:
    """To read and answer all lines of a list, without its holds, and to call it complete."""
    total = LINE_S
    for ref in checklist.lines:
        line = deck.items[ref]
        looks = 2 if line.by is Owner.BOTH else 1
        total += LINE_S + (LOOK_S * looks if line.seen is not None or line.value is not None else 0.0)
    return total
