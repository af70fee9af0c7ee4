"""Flights of the small deck for the debrief, with their times worked out by hand, and bare event sequences."""

from functools import cache

from flowdeck.debrief.study import Debrief, study
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.seats import Seat
from tests.engine.test_slips import DECK, flight, on_ground
from tests.support.bench import CPT, BenchFlight
from tests.support.small import small_scenario

FO = Seat.FIRST_OFFICER
SCENARIO = small_scenario(DECK)
LIST = "landing-list"


def started(*, solo: bool = False) -> ev.FlightStarted:
    return ev.FlightStarted(at=0, phase="approach", flying=CPT, solo=solo, truths=0, facts={})


def studied(f: BenchFlight) -> Debrief:
    return study(f.deck, SCENARIO, tuple(f.events))


def parked(*, solo: bool = False) -> BenchFlight:
    """A whole flight without a slip. On the ground everything is done by 24.0 s; then, in seconds:

    brake 24.0, cut 25.0, papers 26.0; the ground list opens at 29.0, is called at 30.0; brake read 31.0 and answered
    32.5, lever read 33.5 and answered 35.0, complete at 36.0.
    """
    f = on_ground(flight(solo=solo)).does(CPT, "brake", parking_brake="set").does(FO, "cut", fuel_lever_1="cutoff")
    f.does(FO, "papers").wait(3).calls(CPT, "ground-list")
    f.asks(FO, "ground-list").says(CPT, "gl-brake").asks(FO, "ground-list").says(FO, "gl-lever")
    return f.completes(FO, "ground-list")


@cache
def whole() -> Debrief:
    return studied(parked())


def undoes(f: BenchFlight, seat: Seat) -> BenchFlight:
    f.send(inp.Undo(at=f.now, seat=seat))
    return f


def holds(f: BenchFlight, seat: Seat, checklist: str = LIST) -> BenchFlight:
    f.send(inp.HoldList(at=f.now, seat=seat, checklist=checklist))
    return f


def resumes(f: BenchFlight, seat: Seat, *, restart: bool = False) -> BenchFlight:
    f.send(inp.ResumeList(at=f.now, seat=seat, checklist=LIST, restart=restart))
    return f
