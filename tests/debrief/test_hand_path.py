"""The path as it was flown: only what instruments showed, one line an approach, ending at touchdown."""

from flowdeck.debrief.path import flown_of
from flowdeck.model import events as ev
from tests.debrief.by_hand import SCENARIO, started
from tests.debrief.test_hand_scenarios import debrief, every
from tests.scenarios.flown import flown


def shown(at: int, distance: float | None, altitude: float | None, *, ground: bool = False) -> ev.Trace:
    return ev.Trace(at=at, values={"distance_nm": distance, "altitude_ft": altitude, "on_ground": ground})


def test_points_are_those_shown_and_gates_stand_on_the_path() -> None:
    """Three readings, 1 NM and 320 ft apart; the gate at 2.0 s stands where the second put it."""
    gate = ev.GatePassed(at=2000, gate="stable")
    events = (started(), shown(1000, 5.0, 2000.0), shown(2000, 4.0, 1680.0), gate, shown(3000, 3.0, 1360.0))
    path = flown_of(SCENARIO, events, {("stable", 2000): "passed"})
    assert [tuple(p) for line in path.lines for p in line] == [
        (1000, 5.0, 2000.0),
        (2000, 4.0, 1680.0),
        (3000, 3.0, 1360.0),
    ]
    [at] = path.gates
    assert (at.gate, at.answer, at.point.distance_nm, at.point.altitude_ft) == ("stable", "passed", 4.0, 1680.0)


def test_nothing_is_drawn_while_a_reading_is_gone() -> None:
    """The altitude is lost from 2.0 to 3.0 s."""
    events = (started(), shown(1000, 5.0, 2000.0), shown(2000, 4.0, None), shown(3000, 3.0, 1360.0))
    points = [point.at for line in flown_of(SCENARIO, events, {}).lines for point in line]
    assert 2000 not in points and {1000, 3000} >= set(points)


def test_the_line_ends_where_the_wheels_touch() -> None:
    events = (
        started(), shown(1000, 2.0, 1100.0), shown(2000, 1.0, 780.0), shown(3000, 0.0, 430.0, ground=True),
        shown(4000, -0.5, 430.0, ground=True), shown(5000, -0.8, 430.0, ground=True),
    )  # fmt: skip
    [line] = flown_of(SCENARIO, events, {}).lines
    assert line[0].at == 1000 and line[-1].at in (2000, 3000)


def test_a_go_around_begins_another_line_and_the_second_approach_a_third() -> None:
    around = ev.PhaseEntered(at=2500, phase="go_around", left="approach", how="go_around")
    again = ev.PhaseEntered(at=4500, phase="approach", left="go_around", airborne_again=True)
    events = (
        started(), shown(1000, 3.0, 1400.0), shown(2000, 2.0, 1080.0), around, shown(3000, 1.0, 1400.0),
        shown(4000, 2.0, 3000.0), again, shown(5000, 14.0, 3000.0), shown(6000, 13.0, 2700.0),
    )  # fmt: skip
    lines = flown_of(SCENARIO, events, {}).lines
    assert len(lines) == 3
    assert [(line[0].at >= start, line[-1].at) for line, start in zip(lines, (1000, 2000, 4000), strict=True)] == [
        (True, 2000),
        (True, 4000),
        (True, 6000),
    ]


@every
def test_the_path_of_a_flight_lies_within_what_was_shown(name: str) -> None:
    """Each point has a distance and an altitude between the least and the most that any trace showed by then."""
    traces = [event for event in flown(name).events if isinstance(event, ev.Trace)]
    points = [point for line in debrief(name).flown.lines for point in line]
    for key, which in (("distance_nm", 1), ("altitude_ft", 2)):
        values = [value for t in traces if isinstance(value := t.values.get(key), float)]
        assert points and min(values) <= min(p[which] for p in points) <= max(p[which] for p in points) <= max(values)
    assert [p.at for p in points] == sorted(p.at for p in points)


@every
def test_each_point_was_shown_when_it_says(name: str) -> None:
    """The last distance and altitude shown at or before a point's moment are the point's."""
    last: dict[str, object] = {}
    by_time: dict[int, tuple[object, object]] = {}
    for event in flown(name).events:
        if isinstance(event, ev.Trace):
            last.update(event.values)
            by_time[event.at] = (last.get("distance_nm"), last.get("altitude_ft"))
    for line in debrief(name).flown.lines:
        for point in line:
            assert by_time[point.at] == (point.distance_nm, point.altitude_ft)


@every
def test_gates_in_the_air_stand_on_the_path(name: str) -> None:
    """As many as were met in the air; none on the ground."""
    air = [g for g in debrief(name).crew.gates if g.gate.startswith(("stable", "minimum"))]
    on_path = debrief(name).flown.gates
    assert [(g.gate, g.answer) for g in on_path if g.gate.startswith(("stable", "minimum"))] == [
        (g.gate, g.answer) for g in air
    ]
    assert not {g.gate for g in on_path} & {"stand-entry", "power-before-cut", "apu-shutdown"}


def test_lines_of_the_two_approaches() -> None:
    assert len(debrief("go-around").flown.lines) == 3
    assert len(debrief("clean").flown.lines) == 1
