"""Every ending is reached by hand, from the keyboard alone, on the bundled deck."""

import pytest

from flowdeck.model.deviation import Severity, Slip
from tests.support.cockpit import cockpit
from tests.support.moments import done, flown_until, in_phase
from tests.support.pilot import rest


async def test_a_whole_arrival_by_two_keys() -> None:
    """From cruise to a dark aeroplane: f and j, and the value asked for; nothing slips, and the ending says so."""
    async with cockpit("clean") as c:
        await c.fly("secured")
        assert [d for d in c.session.deviations if d.severity is not Severity.ADVICE] == []
        c.app.flight.frame()
        await rest(c.pilot)
        assert c.app.screen.id == "ending"


async def test_turnaround_by_keys() -> None:
    """A day flight goes from the stand into the turnaround and ends ready for the next leg."""
    flight = flown_until("turnaround", in_phase("shutdown"), solo=True)
    async with cockpit(flight=flight) as c:
        await c.fly("ready")
        assert c.session.ended == "ready"


async def test_go_around_and_second_approach_by_keys() -> None:
    """g on final; the missed approach is flown, the decision made, and a second approach lands."""
    flight = flown_until("clean", lambda f: f.plane.distance_nm < 3.5, solo=True)
    async with cockpit(flight=flight) as c:
        await c.press("g")
        assert c.session.phase == "go_around"
        assert "Go-around" in c.text("rail")
        await c.fly("approach", step_s=2)
        assert c.session.approach == 2
        assert "landing-list" not in c.session.done
        await c.fly("landing", step_s=2)
        assert "landing-list" in c.session.done


async def test_a_failed_gate_that_is_continued_by_hand() -> None:
    """Nobody touches anything from 7 NM: the gate fails in the margin, and going on is a warning in red."""
    flight = flown_until("clean", done("gear-down"), solo=True)
    async with cockpit(flight=flight) as c:
        await c.until(lambda f: any(d.slip is Slip.CONTINUED_PAST_GATE for d in f.session.deviations), step_s=3)
        [on] = [d for d in c.session.deviations if d.slip is Slip.CONTINUED_PAST_GATE][:1]
        assert on.severity is Severity.WARNING
        assert "continued past gate" in c.text("margin")


async def test_a_discontinued_approach_is_named_on_the_rail() -> None:
    """G while still high: the rail says what it is, and the flight is in the phase of the go-around."""
    flight = flown_until("clean", lambda f: f.plane.distance_nm < 25, solo=True)
    async with cockpit(flight=flight) as c:
        await c.press("G")
        assert c.session.phase == "go_around"
        assert "Discontinued" in c.text("rail")


@pytest.mark.parametrize("key", ["g", "G"])
async def test_no_go_around_on_the_ground(key: str) -> None:
    flight = flown_until("clean", in_phase("taxi_in"), solo=True)
    async with cockpit(flight=flight) as c:
        await c.press(key)
        assert c.session.phase == "taxi_in"
        assert "no go-around leads out of this phase" in c.text("hints")
