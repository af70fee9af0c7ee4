"""One pilot beside a played one, without a screen: where a step ends, what is waited for, what is remembered."""

import pytest

from flowdeck.crew.pilot import Pilot
from flowdeck.engine.owed import Duty, owed, to_input
from flowdeck.live.bundled import read_lapses
from flowdeck.live.host import Host
from flowdeck.live.seated import Seated
from flowdeck.live.stepping import LONGEST_MS
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.deck import Deck
from flowdeck.model.lapse import LapseKind, Lapses
from flowdeck.model.seats import Owner, Seat
from flowdeck.trial.company import remembered
from tests.scenarios.flown import flown
from tests.support.cockpit import TestClock, bundled
from tests.support.daily import some
from tests.support.seat import host_with

CPT, FO = Seat.CAPTAIN, Seat.FIRST_OFFICER


def beside(pilot: Pilot) -> tuple[Host, Seated]:
    """A quiet arrival from its start with *pilot* played; the whole of it, and what the other pilot knows."""
    host = host_with(pilot, "clean", TestClock())
    return host, Seated(host)


@pytest.mark.parametrize("seed", some([1, 3], [3]))
def test_a_step_ends_where_something_is_to_be_seen(seed: int) -> None:
    """With a pilot who lets much slip: never at what is sealed."""
    host, seen = beside(Pilot(seat=FO, seed=seed, lapses=read_lapses("heavy")))
    hidden = 0
    for _ in range(25):
        before, at = {(d.ref, d.duty) for d in owed(host.flight.deck, seen.flight.session) if d.seat is CPT}, host.now
        known = len(host.events)
        told = seen.step_on()
        after = {(d.ref, d.duty) for d in owed(host.flight.deck, seen.flight.session) if d.seat is CPT}
        stirs = (ev.DeviationRaised, ev.GatePassed, ev.GateFailed, ev.PhaseEntered, ev.Heard, ev.Interrupted)
        seen_to_stir = any(isinstance(event, (*stirs, ev.Challenged)) for event in told)
        assert after - before or seen_to_stir or host.now - at >= LONGEST_MS, host.now
        hidden += sum(isinstance(e, ev.DeviationRaised) and e.seat is FO and e not in told for e in host.events[known:])
    assert hidden >= 2


def _theirs(deck: Deck, refs: tuple[str, ...]) -> list[str]:
    """What the monitoring first officer alone owes."""
    owners = (Owner.FIRST_OFFICER, Owner.PILOT_MONITORING)
    return [ref for ref in refs if ref in deck.items and deck.items[ref].by in owners]


@pytest.mark.soak
def test_nobody_waits_for_what_a_sealed_seat_leaves_undone() -> None:
    """Beside a first officer who leaves out all items: nothing that the captain owes waits for one of them, but a list
    in its time to be called. A hard order is kept by both: of what is missing there the captain speaks.
    """
    omits = Lapses(id="x", title="x", percent={LapseKind.ITEM_OMITTED: 100.0})
    host, seen = beside(Pilot(seat=FO, seed=1, lapses=omits))
    deck = host.flight.deck
    read, spoken = 0, set[str]()
    waited = let_go = False
    while host.now < 1_000_000 and not host.flight.session.ended:
        for _ in range(10):
            host.fly_step()
        seen.tick()
        session = seen.flight.session
        mine = [duty for duty in owed(deck, session) if duty.seat is CPT]
        for duty in mine:
            in_its_time = duty.duty is Duty.CALL_LIST and not session.list(duty.ref).prompted
            waited |= bool(_theirs(deck, duty.panel_first))
            let_go |= duty.ref == "approach-list" and not in_its_time
            assert not _theirs(deck, duty.panel_first) or in_its_time
            for ref in sorted(set(_theirs(deck, duty.waits_for)) - spoken):
                seen.send(inp.Challenge(at=host.now, seat=CPT, about=ref))
                spoken.add(ref)
        ready = next((duty for duty in mine if duty.ready), None)
        if ready is not None:
            seen.send(to_input(ready, host.now))
            read += ready.duty in (Duty.READ, Duty.ANSWER)
    assert read >= 2 and waited and let_go


def test_time_that_was_to_be_fast_stops_when_something_is_asked() -> None:
    """At x16 a second of the clock is sixteen of the flight: the tick ends at the question, and five seconds are left
    to answer it."""
    host, _ = beside(Pilot(seat=FO, seed=1))
    asked = 0
    for _ in range(400):
        host.send(inp.SetPace(at=host.now, pace=16))
        for event in host.fly_on(16_000):
            if isinstance(event, ev.Challenged):
                asked += 1
                assert host.flight.session.pace == 1
                assert host.now == event.at and host.flight.session.challenge is not None
        if asked >= 2:
            break
    assert asked >= 2


def test_what_the_scenario_has_done_once_is_remembered() -> None:
    """A go-around that a scenario plants, flown and taken up again: it is known to have been played."""
    done = flown("go-around")
    planted = [p for p in done.scenario.planted if p.kind in ("go_around", "discontinue")]
    hows = [event.how for event in done.events if isinstance(event, ev.PhaseEntered) and event.how]
    memory = remembered(done.events, Pilot(seat=done.scenario.flying, seed=1), done.scenario)
    kinds = {"go_around": "go_around", "discontinued": "discontinue"}
    assert hows and sorted(p.kind for p in memory.played) == sorted(
        {kinds[how] for how in hows} & {p.kind for p in planted}
    )


def test_a_wrong_word_is_said_once_also_by_a_pilot_who_is_taken_up_again() -> None:
    events = [
        ev.AnswerNotTaken(at=5000, checklist="landing-list", line="landing-gear", seat=FO, value="up"),
        ev.AnswerNotTaken(at=6000, checklist="landing-list", line="landing-flap", seat=CPT, value="up"),
    ]
    memory = remembered(events, Pilot(seat=FO, seed=1), bundled("clean")[1])
    assert memory.said == {"landing-gear"} and memory.said_at == {"landing-gear": 5000}
