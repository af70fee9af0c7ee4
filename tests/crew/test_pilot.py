"""The pilot played by the tool, over whole flights."""

from itertools import pairwise

import pytest

from flowdeck.crew.pilot import Pilot
from flowdeck.live.bundled import read_lapses
from flowdeck.model import events as ev
from flowdeck.model.seats import Seat
from flowdeck.wire.codec import encode
from tests.support.played import clean_with, flown_with, lapsing


@pytest.mark.parametrize("seat", list(Seat))
def test_beside_a_competent_crew_nothing_slips(seat: Seat) -> None:
    """A quiet arrival from cruise to the dark aeroplane, with either seat played: no deviation of any class."""
    done = clean_with(seat)
    assert done.flight.session.ended == "secured"
    assert [(d.slip, d.item) for d in done.flight.session.deviations] == []


@pytest.mark.parametrize("seat", list(Seat))
def test_it_does_all_that_its_seat_owes(seat: Seat) -> None:
    """What it did is not little: acts, calls, answers and lines by its own seat, and as pilot flying the modes too."""
    done = clean_with(seat)
    mine = [event for event in done.events if isinstance(event, (ev.ItemDone, ev.LineAnswered)) and event.seat is seat]
    theirs = [e for e in done.events if isinstance(e, (ev.ItemDone, ev.LineAnswered)) and e.seat is seat.other]
    assert len(mine) > 50 and len(theirs) > 50
    assert not done.of(ev.Refused)


def test_the_same_seed_flies_the_same_flight() -> None:
    pilot = Pilot(seat=Seat.FIRST_OFFICER, seed=7, lapses=read_lapses("heavy"))
    one, two = (flown_with("clean", pilot, until="landing") for _ in range(2))
    assert [encode(event) for event in one.events] == [encode(event) for event in two.events]


def test_another_seed_takes_other_times() -> None:
    one, two = clean_with(Seat.CAPTAIN, 1), clean_with(Seat.CAPTAIN, 2)
    times = [[e.at for e in done.of(ev.ItemDone) if e.seat is Seat.CAPTAIN] for done in (one, two)]
    assert times[0] != times[1]


def test_a_human_pace() -> None:
    """No two things of the played seat within half a second, and none in a burst faster than hands are."""
    done = clean_with(Seat.FIRST_OFFICER)
    kinds = (ev.ItemDone, ev.LineAnswered, ev.LineRead, ev.ListCalled, ev.ListCompleted)
    acts = sorted(event.at for event in done.events if isinstance(event, kinds) and event.seat is Seat.FIRST_OFFICER)
    gaps = [later - earlier for earlier, later in pairwise(acts)]
    assert min(gaps) >= 500


def test_an_answer_says_what_the_aircraft_shows() -> None:
    """Lines that ask for a figure are answered with the figure, none with a bare word."""
    done = clean_with(Seat.FIRST_OFFICER)
    with_value = [e for e in done.of(ev.LineAnswered) if done.deck.items[e.line].value is not None]
    said = [e for e in with_value if e.seat is Seat.FIRST_OFFICER]
    assert said and all(event.value is not None for event in said)


@pytest.mark.parametrize(("seat", "seed"), [(Seat.FIRST_OFFICER, 1), (Seat.FIRST_OFFICER, 4), (Seat.CAPTAIN, 1)])
def test_lapses_cost_deviations_and_an_attentive_partner_goes_on(seat: Seat, seed: int) -> None:
    """With many lapses the flight still comes to its end, and nearly all that slips is the lapsing pilot's."""
    done = lapsing(seat, seed)
    slips = [d for d in done.flight.session.deviations if d.superseded_by is None]
    mine = [d for d in slips if d.seat is seat]
    assert done.flight.session.ended == "secured"
    assert len(done.of(ev.LapseMade)) >= 5 and len(mine) >= 3
    assert len(mine) > 2 * (len(slips) - len(mine))


def test_the_partner_speaks_up_and_traps() -> None:
    """Among several flights some slips are trapped by the other seat, after it had spoken up."""
    flights = [lapsing(Seat.FIRST_OFFICER, 1), lapsing(Seat.FIRST_OFFICER, 4), lapsing(Seat.CAPTAIN, 1)]
    trapped = [d for done in flights for d in done.flight.session.deviations if d.trapped_by == "other_seat"]
    assert len(trapped) >= 5
    assert not [
        d for done in flights for d in done.flight.session.deviations
        if d.trapped_by == "tool" and d.seat in done.flight.session.sealed
    ]  # fmt: skip


def test_a_lapse_is_journaled_once_and_with_its_maker() -> None:
    done = lapsing(Seat.FIRST_OFFICER, 4)
    made = [(event.kind, event.ref) for event in done.of(ev.LapseMade)]
    assert len(made) == len(set(made)) and all(e.seat is Seat.FIRST_OFFICER for e in done.of(ev.LapseMade))
