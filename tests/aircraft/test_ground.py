"""On the ground everything waits for the crew: the roll-out, the taxi, the stand, and the engines."""

import pytest
from msgspec.structs import replace

from flowdeck.aircraft.motion import stand_distance_m, taxi_m
from flowdeck.aircraft.state import Aeroplane, with_faults
from flowdeck.model.session import Session
from tests.aircraft.conftest import SCENARIO, aeroplane, flown


def told(*facts: str) -> Session:
    return Session(phase="taxi_in", facts=dict.fromkeys(facts, True))


LANDED = told()
VACATED = told("runway_vacated")
ROUTE = told("runway_vacated", "taxi_route_agreed")
GUIDED = told("runway_vacated", "taxi_route_agreed", "guidance_seen")


def end(plane: Aeroplane, seconds: float, session: Session) -> Aeroplane:
    *_, last = flown(plane, seconds, session)
    return last


def taxiing(**at: object) -> Aeroplane:
    usual: dict[str, object] = {"on_ground": True, "altitude_ft": 430.0, "groundspeed_kt": 10.0, "ias_kt": 10.0}
    return aeroplane({"gear": "down"}, **{**usual, "distance_nm": 0.0, **at})


def test_the_roll_slows_to_a_walk_and_waits_on_the_runway(landed: Aeroplane) -> None:
    slow = end(landed, 40, LANDED)
    assert slow.groundspeed_kt == 15.0
    assert slow.rolled_m > landed.rolled_m + 500
    assert slow.taxied_m == 0


@pytest.mark.parametrize(
    ("name", "strong", "weak"),
    [
        ("spoilers", "deployed", "stowed"),
        ("reverse", "full", "stowed"),
        ("reverse", "full", "idle"),
        ("autobrake", "high", "low"),
    ],
)
def test_what_is_not_put_out_makes_the_roll_longer(landed: Aeroplane, name: str, strong: str, weak: str) -> None:
    def roll_m(value: str) -> float:
        plane = replace(landed, controls={**landed.controls, name: value})
        return next(p.rolled_m for p in flown(plane, 120, LANDED) if p.groundspeed_kt <= 30) - landed.rolled_m

    assert roll_m(strong) + 20 < roll_m(weak)


def test_deceleration_shows_as_a_reading(landed: Aeroplane) -> None:
    first = end(landed, 1, LANDED)
    assert first.decel_kt_s == pytest.approx(landed.groundspeed_kt - first.groundspeed_kt, abs=0.1)
    assert first.decel_kt_s > 3


def test_after_vacating_it_waits_for_the_taxi_route() -> None:
    stopped = end(taxiing(), 60, VACATED)
    assert stopped.groundspeed_kt == 0
    assert 60 < stopped.taxied_m < 100
    assert end(stopped, 60, VACATED).taxied_m == stopped.taxied_m
    assert end(stopped, 30, ROUTE).taxied_m > stopped.taxied_m + 50


def test_it_stops_short_of_the_stand_until_guidance_is_seen() -> None:
    waiting = end(taxiing(taxied_m=taxi_m(SCENARIO) - 300), 120, ROUTE)
    assert waiting.groundspeed_kt == 0
    assert stand_distance_m(waiting, SCENARIO) > 20
    assert end(waiting, 60, ROUTE).taxied_m == waiting.taxied_m
    parked = end(waiting, 120, GUIDED)
    assert (stand_distance_m(parked, SCENARIO), parked.groundspeed_kt) == (pytest.approx(0, abs=0.5), 0)


def test_the_whole_taxi_takes_about_the_time_it_should() -> None:
    """The scenario gives 150 s for the way at 15 kt; stops and slow parts come on top."""
    assert taxi_m(SCENARIO) == pytest.approx(150 * 15 * 1852 / 3600)
    parked = next(p for p in flown(taxiing(), 300, GUIDED) if p.groundspeed_kt < 0.1)
    assert 150 < parked.at / 1000 < 230
    assert stand_distance_m(parked, SCENARIO) < 0.5


def test_the_parking_brake_holds_it() -> None:
    held = replace(taxiing(), controls={**taxiing().controls, "parking_brake": "set"})
    stopped = end(held, 10, GUIDED)
    assert stopped.groundspeed_kt == 0
    assert end(stopped, 60, GUIDED).taxied_m == stopped.taxied_m


def test_a_brake_that_does_not_hold_lets_it_roll() -> None:
    """A fault beats the control: set, and yet off."""
    set_ = replace(taxiing(), controls={**taxiing().controls, "parking_brake": "set"})
    rolling = end(with_faults(set_, {"parking_brake": "off"}, None), 30, ROUTE)
    assert rolling.groundspeed_kt > 5


@pytest.mark.parametrize("engine", [1, 2])
def test_an_engine_that_is_cut_runs_down_below_20_percent(engine: int) -> None:
    """Within about half a minute (our proposal), while the other one goes on turning."""
    running = end(taxiing(), 15, VACATED)
    cut = replace(running, controls={**running.controls, f"fuel_lever_{engine}": "cutoff"})
    turning = [getattr(p, f"turning_{engine}") for p in flown(cut, 60, VACATED)]
    assert turning[0] > 50
    assert turning == sorted(turning, reverse=True)
    below = next(second for second, now in enumerate(turning, start=1) if now < 20)
    assert 15 <= below <= 40
    assert turning[-1] == 0
    assert getattr(end(cut, 60, VACATED), f"turning_{3 - engine}") == pytest.approx(60.0)


def test_nothing_is_burnt_by_engines_that_stand() -> None:
    off = {"fuel_lever_1": "cutoff", "fuel_lever_2": "cutoff"}
    cut = replace(taxiing(turning_1=0.0, turning_2=0.0), controls={**taxiing().controls, **off})
    assert end(cut, 60, VACATED).fuel_kg == cut.fuel_kg
