"""Bundled scenarios rehearsed once a test run, with all that happened in them."""

from functools import cache
from typing import TypeVar

from msgspec import Struct

from flowdeck.engine import fold
from flowdeck.live.bundled import read_arrival, read_scenario
from flowdeck.model import events as ev
from flowdeck.model.deck import Deck
from flowdeck.model.scenario import Scenario
from flowdeck.model.session import Session
from flowdeck.phasefile.loadscenario import arrivals_of, load_scenario
from flowdeck.trial.flight import Flight
from flowdeck.trial.rehearse import rehearse

E = TypeVar("E", bound=ev.Event)


class Flown(Struct, frozen=True):
    """A finished rehearsal and its events."""

    deck: Deck
    scenario: Scenario
    flight: Flight
    events: tuple[ev.Event, ...]

    def of(self, kind: type[E]) -> list[E]:
        return [event for event in self.events if isinstance(event, kind)]

    def session_after(self, number: int) -> Session:
        """The session as its first *number* events left it."""
        return fold(Session(), self.events[:number])


def fly(deck: Deck, scenario: Scenario) -> Flown:
    steps = list(rehearse(deck, scenario))
    return Flown(deck, scenario, steps[-1].flight, tuple(event for step in steps for event in step.events))


@cache
def _loaded(name: str) -> tuple[Deck, Scenario]:
    deck, scenario, _ = read_scenario(name)
    return deck, scenario


@cache
def flown(name: str) -> Flown:
    """The bundled scenario *name*, rehearsed."""
    return fly(*_loaded(name))


def variant(name: str, text: str) -> Flown:
    """A scenario given as text, for the deck of the bundled scenario *name*, rehearsed."""
    deck, _ = _loaded(name)
    raw = text.encode()
    arrivals = {name: read_arrival(name) for name in arrivals_of("variant.yaml", raw)}
    scenario, _ = load_scenario("variant.yaml", raw, deck, arrivals)
    return fly(deck, scenario)
