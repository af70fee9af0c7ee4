"""Flights brought to a moment by the scripted crew, to look at or to go on from by keys."""

from collections.abc import Callable

from flowdeck.trial.flight import Flight, take_off
from flowdeck.trial.rehearse import fly_on
from tests.support.cockpit import bundled


def flown_until(scenario: str, reached: Callable[[Flight], bool], *, solo: bool | None = None) -> Flight:
    """The flight of a bundled scenario at the first moment at which *reached* is true."""
    flight, _ = take_off(*bundled(scenario), solo=solo)
    if reached(flight):
        return flight
    for step in fly_on(flight):
        if reached(step.flight):
            return step.flight
    raise AssertionError("the moment never came")


def in_phase(phase: str) -> Callable[[Flight], bool]:
    return lambda flight: flight.session.phase == phase


def done(ref: str) -> Callable[[Flight], bool]:
    return lambda flight: ref in flight.session.done
