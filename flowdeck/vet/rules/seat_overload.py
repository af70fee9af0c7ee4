"""One seat has more than 65 in a hundred of the actions, lines and calls of a phase, whoever flies.

The other pilot has time to lose the picture, and this one none to keep it. Phases with fewer than ten are left out.
"""

from collections.abc import Iterator

from flowdeck.model.diagnostic import Level
from flowdeck.model.seats import Seat
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.WARNING
SOURCE = "our proposal, after CR-177549 (second-hand)"
MOST = 0.65
FEWEST = 10


def find(s: Subject) -> Iterator[Finding]:
    for name in s.deck.phases:
        items = [item for item in s.deck.items.values() if item.phases[0] == name]
        if len(items) < FEWEST:
            continue
        for seat in Seat:
            shares = [_share([item.by.seats(flying) for item in items], seat) for flying in Seat]
            if min(shares) > MOST:
                title = seat.value.replace("_", " ")
                message = f"the {title} has {min(shares):.0%} of the {len(items)} items of '{name}', whoever flies"
                yield s.at(name), message.replace("%", " in a hundred")


def _share(owners: list[tuple[Seat, ...]], seat: Seat) -> float:
    return sum(seats == (seat,) for seats in owners) / len(owners)
