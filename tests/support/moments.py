"""Flights brought to a moment by the scripted crew, to look at or to go on from by keys."""

from collections.abc import Callable, Iterator
from functools import lru_cache

from msgspec.structs import replace

from flowdeck.trial.flight import Flight, take_off
from flowdeck.trial.rehearse import Step, fly_on
from tests.support.cockpit import bundled


@lru_cache(maxsize=6)
def _flown(scenario: str, solo: bool | None) -> tuple[list[Flight], Iterator[Step]]:
    """The moments of a flight as far as anyone has asked for them, and what flies it on."""
    flight, _ = take_off(*bundled(scenario), solo=solo)
    return [flight], fly_on(flight)


def flown_until(scenario: str, reached: Callable[[Flight], bool], *, solo: bool | None = None) -> Flight:
    """The flight of a bundled scenario at the first moment at which *reached* is true; flown once for all who ask."""
    moments, further = _flown(scenario, solo)
    for flight in moments:
        if reached(flight):
            return _own(flight)
    for step in further:
        moments.append(step.flight)
        if reached(step.flight):
            return _own(step.flight)
    raise AssertionError("the moment never came")


def _own(flight: Flight) -> Flight:
    """With controls that a test may move by hand, and nobody else's aeroplane with them."""
    return replace(flight, plane=replace(flight.plane, controls=dict(flight.plane.controls)))


def in_phase(phase: str) -> Callable[[Flight], bool]:
    return lambda flight: flight.session.phase == phase


def done(ref: str) -> Callable[[Flight], bool]:
    return lambda flight: ref in flight.session.done
