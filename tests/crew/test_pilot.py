"""The pilot played by the tool, over whole flights."""

from itertools import pairwise

import pytest

from flowdeck.crew.manner import BLANK
from flowdeck.crew.pilot import Pilot
from flowdeck.live.bundled import read_lapses
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.seats import Seat
from flowdeck.trial.company import accompany, pilots_of, remembered
from flowdeck.trial.flight import advance, send, take_off
from flowdeck.wire.codec import encode
from tests.support.cockpit import bundled
from tests.support.daily import some
from tests.support.played import EVERY_DAY, LAPSING, clean_with, flown_with, lapsing


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


@pytest.mark.parametrize(("seat", "seed"), some(LAPSING, EVERY_DAY))
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
    flights = [lapsing(*each) for each in EVERY_DAY]
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


@pytest.mark.parametrize("seat", list(Seat))
def test_it_takes_and_confirms_control(seat: Seat) -> None:
    """Control that the other pilot offers is taken; control that it has offered is confirmed once it was taken."""
    deck, scenario = bundled("clean")
    flight, _ = take_off(deck, scenario, solo=False, sealed=(seat,))
    pilot = Pilot(seat=seat)
    offers = flight.session.flying
    flight, _ = send(flight, inp.Transfer(at=0, seat=offers, part="offer"))
    if offers is seat:
        flight, _ = send(flight, inp.Transfer(at=0, seat=offers.other, part="take"))
    memory, events = BLANK, []
    for now in range(500, 8000, 500):
        flight, _ = advance(flight, now)
        flight, more, memory = accompany(flight, pilot, memory)
        events += more
    kind = ev.ControlConfirmed if offers is seat else ev.ControlTaken
    assert len([event for event in events if isinstance(event, kind)]) == 1


def test_what_happens_outside_takes_up_the_pilot_monitoring() -> None:
    """A radio call of half a minute: the monitoring pilot does nothing else, but answers a challenge."""
    deck, scenario = bundled("clean")
    flight, _ = take_off(deck, scenario, solo=False)
    flight, _ = send(flight, inp.Interrupt(at=0, words="A call", length_s=30))
    flight, _ = send(flight, inp.Challenge(at=0, seat=Seat.CAPTAIN, about="speed"))
    memory, events = BLANK, []
    for now in range(500, 45_000, 500):
        flight, _ = advance(flight, now)
        flight, more, memory = accompany(flight, Pilot(seat=Seat.FIRST_OFFICER), memory)
        events += more
    acts = [event.at for event in events if isinstance(event, ev.ItemDone)]
    assert [type(e) for e in events if isinstance(e, ev.Replied)] == [ev.Replied]
    assert acts and min(acts) >= 30_000


def test_taken_up_again_it_lets_nothing_slip_twice() -> None:
    """What it had begun to let slip before the flight was taken up again is known to it from the journal."""
    done = lapsing(Seat.FIRST_OFFICER, 4)
    pilot = pilots_of(done.events)[0]
    known = remembered(done.events, pilot, done.scenario).let_slip
    assert pilot.seat is Seat.FIRST_OFFICER and pilot.seed == 4 and pilot.lapses.id == "heavy"
    assert known == {f"{e.kind}/{e.ref}/1" for e in done.of(ev.LapseMade)}
