"""A short journal of the small deck."""

import pytest

from flowdeck.model.events import Event
from flowdeck.wire.journal import event_line, header_line
from tests.support.bench import CPT, FO, BenchFlight
from tests.support.small import small_deck, small_scenario

DECK = small_deck()
SCENARIO = small_scenario(DECK)


@pytest.fixture(scope="session")
def header() -> bytes:
    return header_line(DECK, SCENARIO, solo=True, begun="2026-01-05 12:30")


@pytest.fixture(scope="session")
def events() -> tuple[Event, ...]:
    """What happened in a flight of a few seconds."""
    flight = BenchFlight(DECK).wait(1).does(CPT, "brief").does(FO, "brief").does(CPT, "speed", selected_speed_kt=150.0)
    return tuple(flight.events)


@pytest.fixture(scope="session")
def lines(header: bytes, events: tuple[Event, ...]) -> tuple[bytes, ...]:
    """The journal's lines, each with its newline."""
    return (header, *(event_line(number, event) for number, event in enumerate(events, start=1)))
