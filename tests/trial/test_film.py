"""A film of a flight: at any moment, by any way there, the flight as it stood."""

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flowdeck.engine import fold
from flowdeck.model import events as ev
from flowdeck.model.session import Session, same
from flowdeck.trial.film import STILL_EVENTS, Film
from flowdeck.trial.restore import restore
from tests.scenarios.flown import Flown, flown

UPTO_MS = 2_000_000
"""A little more than the flight takes."""


def slips() -> Flown:
    return flown("slips")


@pytest.fixture(scope="module")
def film() -> Film:
    made = Film(slips().deck, slips().scenario, slips().events)
    assert made.length_ms < UPTO_MS < made.length_ms * 1.2
    return made


@settings(max_examples=60, deadline=None)
@given(st.lists(st.integers(-1000, UPTO_MS), min_size=1, max_size=6))
def test_any_way_to_a_moment_gives_the_fold_of_its_events(film: Film, moments: list[int]) -> None:
    """Forwards, backwards and by leaps; beyond the ends it stands at the ends."""
    for at in moments:
        flight = film.flight_at(at)
        bounded = min(max(0, at), film.length_ms)
        until = [event for event in slips().events if event.at <= bounded]
        assert same(flight.session, fold(Session(), until))
        assert flight.now == bounded


@pytest.mark.parametrize("share", [0.1, 0.35, 0.6, 0.85])
def test_the_readings_are_those_of_a_flight_taken_up_there(film: Film, share: float) -> None:
    """Another way to the same: `restore` shows the whole aeroplane; a trace rounds to two decimals and each second."""
    at = round(film.length_ms * share / 1000) * 1000
    shown = film.flight_at(at).readings.values
    whole = restore(slips().deck, slips().scenario, [event for event in slips().events if event.at <= at]).traced
    assert shown == whole


def test_nothing_is_stale_that_was_heard_and_had_not_changed(film: Film) -> None:
    """A gear lever that nobody moves for minutes is no old reading."""
    flight = film.flight_at(600_000)
    gear = next(signal for signal in slips().deck.signals if signal.name == "gear")
    assert flight.readings.value(gear, flight.now) == "up"
    assert max(flight.now - at for at in flight.readings.at.values()) <= 1000


def test_a_leap_is_short_once_stills_are_kept(film: Film) -> None:
    """Back to a moment passes over no more events than lie between two stills."""
    film.flight_at(film.length_ms)
    assert len(film._stills) == len(slips().events) // STILL_EVENTS + 1


def test_bookmarks_are_in_time_and_of_every_kind(film: Film) -> None:
    marks = film.bookmarks()
    assert all(a.at <= b.at for a, b in pairwise(marks))
    counts = {kind: sum(mark.kind == kind for mark in marks) for kind in {mark.kind for mark in marks}}
    assert counts == {
        "phase": 1 + len(slips().of(ev.PhaseEntered)),
        "gate": len(slips().of(ev.GatePassed)) + len(slips().of(ev.GateFailed)),
        "list": len(slips().of(ev.ListCalled)),
        "slip": len(slips().of(ev.DeviationRaised)),
        "end": 1,
    }


def test_a_note_is_a_bookmark_at_its_moment_and_changes_no_session(film: Film) -> None:
    noted = film.with_note(ev.Noted(at=film.length_ms, about=600_000, words="Who had the radio here?"))
    mark = next(mark for mark in noted.bookmarks() if mark.kind == "note")
    assert (mark.at, mark.words) == (600_000, "Who had the radio here?")
    before, after = film.flight_at(film.length_ms).session, noted.flight_at(film.length_ms).session
    assert after.seq == before.seq + 1
    assert (before.items, before.deviations, before.ended) == (after.items, after.deviations, after.ended)


def test_the_path_so_far(film: Film) -> None:
    """Every trace up to the moment that showed both readings, and none after it."""
    far, near = film.path_until(300_000), film.path_until(900_000)
    assert near[: len(far)] == far and 250 < len(far) < 350 and len(near) > 850


def test_events_that_begin_no_flight() -> None:
    with pytest.raises(ValueError, match="do not begin with the start of a flight"):
        Film(slips().deck, slips().scenario, slips().events[1:])
