"""What took its own witness away: a reading from before a control had time to move contradicts nobody."""

import pytest

from flowdeck.model import inputs as inp
from flowdeck.model.deviation import Slip
from tests.engine.test_edges import changed
from tests.engine.test_slips import flight, only, prepared
from tests.support.bench import CPT, FO, BenchFlight
from tests.support.small import APPROACH, small_deck

LIST = "landing-list"


def lowered(*, gear: str, heard_ms: int) -> BenchFlight:
    """The gear, six seconds on its way; *gear* is what it shows meanwhile, heard last *heard_ms* after the act."""
    f = prepared(flight()).reads(distance_nm=7.5)
    f.send(inp.CallList(at=f.now, seat=CPT, checklist=LIST))
    f.send(inp.ReadLine(at=f.now, seat=FO, checklist=LIST))
    f.send(inp.Act(at=f.now, seat=FO, item="gear-down"))
    f.values["gear"] = gear
    f.now += heard_ms
    f.send(inp.Sample(at=f.now))
    return f


def answered(f: BenchFlight, after_ms: int) -> list[str]:
    f.now += after_ms
    f.send(inp.Answer(at=f.now, seat=CPT, line="ll-gear"))
    return only(f, Slip.UNVERIFIED)


@pytest.mark.parametrize("after_ms", [1, 1000, 4999])
def test_the_last_reading_before_it_moved_is_held_against_nobody(after_ms: int) -> None:
    """Heard last 100 ms before the control is there, then no more: not known, so not contradicted."""
    f = lowered(gear="up", heard_ms=5900)
    f.silent.add("gear")
    assert answered(f, 100 + after_ms) == []


def test_a_reading_of_the_moment_it_is_there_counts() -> None:
    f = lowered(gear="up", heard_ms=6000)
    f.silent.add("gear")
    assert answered(f, 500) == ["ll-gear"]


def test_still_on_its_way_it_is_shown_as_it_is() -> None:
    """Answered down while the gear is seen to move: contradicted, as before."""
    assert answered(lowered(gear="moving", heard_ms=3000), 500) == ["ll-gear"]


def test_heard_since_and_otherwise_it_is_contradicted() -> None:
    assert answered(lowered(gear="up", heard_ms=7000), 500) == ["ll-gear"]


def test_done_and_shown_there_is_nothing_to_say() -> None:
    assert answered(lowered(gear="down", heard_ms=7000), 500) == []


def test_a_planned_figure_need_not_be_heard_again() -> None:
    """What does not age is as good as heard: a control that misses the planned figure is contradicted by it."""
    text = changed(
        APPROACH, 'seen: "selected_altitude_ft == 3000"', 'seen: "selected_altitude_ft == cleared_altitude_ft"'
    )
    f = prepared(BenchFlight(small_deck(approach=text), cleared_altitude_ft=3000.0)).reads(distance_nm=9.0)
    f.silent.add("cleared_altitude_ft")
    f.reads(altitude_ft=2400.0).does(FO, "missed").wait(8)
    assert only(f, Slip.UNVERIFIED) == ["missed"]
