"""One seat, or one role, has more than 65 in a hundred of the actions, lines and calls of a phase.

The other pilot has time to lose the picture, and this one none to keep it. A seat counts what it has
whoever flies. Phases with fewer than ten, or with one pilot alone, are left out.
"""

from collections.abc import Iterator

from flowdeck.model.deck import Item
from flowdeck.model.diagnostic import Level
from flowdeck.model.seats import Owner, Seat
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.WARNING
SOURCE = "our proposal, after CR-177549 (second-hand)"
MOST = 0.65
FEWEST = 10


def find(s: Subject) -> Iterator[Finding]:
    for name, phase in s.deck.phases.items():
        items = [item for item in s.deck.items.values() if item.phases[0] == name]
        if len(items) < FEWEST or len(phase.seats) < 2:
            continue
        shares = {seat.label.lower(): min(_of_seat(items, seat, flying) for flying in Seat) for seat in Seat}
        for role in (Owner.PILOT_FLYING, Owner.PILOT_MONITORING):
            shares[role.replace("_", " ")] = sum(item.by is role for item in items) / len(items)
        for who, share in shares.items():
            if share > MOST:
                message = f"the {who} has {share * 100:.0f} in a hundred of the {len(items)} items of '{name}'"
                yield s.at(name), f"{message}; give some to the other pilot"


def _of_seat(items: list[Item], seat: Seat, flying: Seat) -> float:
    return sum(item.by.seats(flying) == (seat,) for item in items) / len(items)
