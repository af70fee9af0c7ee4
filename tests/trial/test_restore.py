"""A flight broken off at any moment and taken up again ends as it would have ended."""

from functools import cache
from random import Random

import pytest

from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.trial.flight import Flight, send
from flowdeck.trial.rehearse import fly_on, rehearse
from flowdeck.trial.restore import interrupted, restore
from tests.support.cockpit import bundled
from tests.support.daily import some


@cache
def unbroken(name: str) -> list[tuple[ev.Event, ...]]:
    """The events of each step of a rehearsal."""
    return [step.events for step in rehearse(*bundled(name))]


def broken_off(name: str, share: float) -> list[ev.Event]:
    """The events of a rehearsal up to some share of its steps."""
    steps = unbroken(name)
    return [event for events in steps[: max(1, int(len(steps) * share))] for event in events]


def flown_on(name: str, events: list[ev.Event]) -> Flight:
    """Taken up again from its events and flown to its end by the scripted crew, which remembers nothing."""
    deck, scenario = bundled(name)
    flight, _ = interrupted(restore(deck, scenario, events))
    flight, _ = send(flight, inp.Unpause(at=flight.session.at))
    for step in fly_on(flight):
        flight = step.flight
    return flight


def check(name: str, seed: int) -> None:
    flight = flown_on(name, broken_off(name, Random(seed).random()))
    assert flight.session.ended == bundled(name)[1].ends
    assert [(str(d.slip), d.item) for d in flight.session.deviations] == []


@pytest.mark.parametrize("seed", some(range(5), range(2)))
@pytest.mark.parametrize("name", some(["clean", "icing"], ["icing"]))
def test_taken_up_again_it_ends_as_unbroken(name: str, seed: int) -> None:
    """At a random moment: the same end, and nothing slips that had not slipped before."""
    check(name, seed)


@pytest.mark.soak
@pytest.mark.parametrize("name", ["last-flight", "turnaround"])
def test_at_twenty_moments_more(name: str) -> None:
    """Those that no kill tries (see `tests/live/test_kills.py`)."""
    for seed in range(20):
        check(name, 100 + seed)


def test_events_that_begin_no_flight_are_refused() -> None:
    deck, scenario = bundled("clean")
    with pytest.raises(ValueError, match="do not begin"):
        restore(deck, scenario, [ev.Paused(at=3)])


@pytest.mark.parametrize("name", some(["last-flight", "icing", "slips"], ["icing"]))
def test_the_aeroplane_is_the_same_one(name: str) -> None:
    """At twenty moments, the last with the power off: controls, what moves and can be taken back, place, faults."""
    deck, scenario = bundled(name)
    steps = list(rehearse(deck, scenario))
    chance = Random(name)
    for index in [*sorted(chance.sample(range(5, len(steps)), 20)), len(steps) - 1]:
        live = steps[index].flight
        events = [event for step in steps[: index + 1] for event in step.events]
        again = restore(deck, scenario, events)
        assert again.plane.controls == pytest.approx(live.plane.controls, abs=0.6)
        assert again.plane.moved == live.plane.moved
        assert again.plane.faults == live.plane.faults
        assert (again.plane.on_ground, again.plane.around) == (live.plane.on_ground, live.plane.around)
        assert again.plane.distance_nm == pytest.approx(live.plane.distance_nm, abs=0.05)
        assert again.plane.altitude_ft == pytest.approx(live.plane.altitude_ft, abs=40)
        assert again.plane.taxied_m == pytest.approx(live.plane.taxied_m, abs=10)
        assert (again.fired, again.happened) == (live.fired, live.happened)
