"""Flights brought to a moment by the scripted crew, to look at or to go on from by keys."""

from collections.abc import Callable

from flowdeck.crew.script import play
from flowdeck.crew.slips import Memory
from flowdeck.trial.flight import Flight, advance, send, take_off
from tests.support.cockpit import bundled

STEP_MS = 500


def flown_until(scenario: str, reached: Callable[[Flight], bool], *, solo: bool | None = None) -> Flight:
    """The flight of a bundled scenario at the first moment at which *reached* is true."""
    deck, loaded = bundled(scenario)
    flight, _ = take_off(deck, loaded, solo=solo)
    memory = Memory()
    now = 0
    while not reached(flight):
        assert not flight.session.ended and now < loaded.limit_s * 1000, "the moment never came"
        now += STEP_MS
        flight, _ = advance(flight, now)
        for _ in range(4):
            if reached(flight):
                return flight
            turn = play(deck, loaded, flight.session, flight.truths, memory, now)
            memory = turn.memory
            if not turn.inputs:
                break
            for input_ in turn.inputs:
                flight, _ = send(flight, input_)
    return flight


def in_phase(phase: str) -> Callable[[Flight], bool]:
    return lambda flight: flight.session.phase == phase


def done(ref: str) -> Callable[[Flight], bool]:
    return lambda flight: ref in flight.session.done
