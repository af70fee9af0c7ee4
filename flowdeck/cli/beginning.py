"""How a command begins a flight: its first events, the tool's seats, the journal, the host."""

import time

from flowdeck.crew.pilot import Pilot
from flowdeck.live.host import Host
from flowdeck.live.journal import Journal
from flowdeck.model.deck import Deck
from flowdeck.model.scenario import Scenario
from flowdeck.trial.company import join
from flowdeck.trial.flight import take_off


def beginning(deck: Deck, scenario: Scenario, journal: str | None, pilots: tuple[Pilot, ...], *, solo: bool) -> Host:
    """The host of a new flight. *journal*: a file to be made, None for none. Raises `Rejected` when it cannot be."""
    flight, events = take_off(deck, scenario, solo=solo, sealed=tuple(pilot.seat for pilot in pilots))
    flight, joined = join(flight, pilots)
    past = (*events, *joined)
    kept = Journal.create(journal, deck, scenario, solo=solo) if journal else None
    if kept is not None:
        kept.append(past, sure=True)
    return Host(flight, kept, time.monotonic, past=past, pilots=pilots)
