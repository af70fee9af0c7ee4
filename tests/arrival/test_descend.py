"""The path worked out backward: it keeps its own limits, and flown forward it ends where it began."""

from math import radians, tan

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from flowdeck.arrival.air import Air
from flowdeck.arrival.bounds import OutOfRange
from flowdeck.arrival.descend import Law, Task, descend, moved
from flowdeck.arrival.expected import air_of, task_of
from flowdeck.arrival.procedure import Fix
from flowdeck.arrival.profile import Leg, Point, Profile
from flowdeck.live.bundled import arrival_names, read_arrival

ARRIVAL = read_arrival("tarn-holm")
TASK = task_of(ARRIVAL, 136)
AIR = air_of(ARRIVAL)
winds = st.lists(
    st.tuples(st.floats(0, 40_000), st.floats(0, 360), st.floats(0, 60)), max_size=4, unique_by=lambda w: w[0]
)
airs = st.builds(Air, st.floats(960, 1040), st.floats(-40, 25), winds.map(tuple))
limits = st.tuples(
    st.floats(8, 60), st.one_of(st.none(), st.floats(3500, 14_000)), st.one_of(st.none(), st.floats(180, 280))
)
fixes = st.lists(limits, max_size=3, unique_by=lambda f: round(f[0])).map(
    lambda rows: tuple(Fix(name=f"F{i}", distance_nm=d, at_most_ft=h, speed_kt=v) for i, (d, h, v) in enumerate(rows))
)
tasks = st.builds(
    lambda angle, kt, cruise, mach, gradient, some: replace(
        TASK,
        angle_deg=angle,
        approach_kt=kt,
        cruise_ft=cruise,
        descent=replace(TASK.descent, mach=mach, gradient_ft_nm=gradient),
        fixes=some,
    ),
    st.floats(2.5, 3.7),
    st.integers(120, 150),
    st.floats(5000, 38_000),
    st.floats(0.6, 0.8),
    st.floats(250, 400),
    fixes,
)
few = settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def law(leg: Leg) -> Law:
    return leg.vertical, leg.step, leg.speed, leg.track_deg


def flown_inward(task: Task, air: Air, profile: Profile, each: float = 0.25) -> Point:
    """From the top of descent along the same legs to the threshold, in steps of another length."""
    here = profile.legs[0].far
    for leg in profile.legs:
        left = here.distance_nm - leg.near.distance_nm
        while left > 1e-12:
            step = min(each, left)
            here = moved(task, air, law(leg), here, -step)
            left -= step
    return here


@pytest.mark.parametrize("name", arrival_names())
def test_flown_forward_every_bundled_path_ends_at_the_threshold(name: str) -> None:
    """Within 1 ft and 0.01 NM; it is far closer."""
    arrival = read_arrival(name)
    task, air = task_of(arrival, 137), air_of(arrival)
    end = flown_inward(task, air, descend(task, air))
    assert end.distance_nm == pytest.approx(0, abs=1e-6)
    assert end.altitude_ft == pytest.approx(task.threshold_ft, abs=0.05)
    assert end.speed_kt == pytest.approx(137, abs=0.01)
    assert end.seconds == pytest.approx(0, abs=0.05)


@few
@given(tasks, airs)
def test_flown_forward_any_path_ends_at_the_threshold(task: Task, air: Air) -> None:
    end = flown_inward(task, air, descend(task, air))
    assert end.distance_nm == pytest.approx(0, abs=0.01)
    assert end.altitude_ft == pytest.approx(task.threshold_ft, abs=1)
    assert end.speed_kt == pytest.approx(task.approach_kt, abs=0.1)


def rates(leg: Leg, altitude: float, speed: float) -> tuple[float, float, float]:
    """Each second: NM over the ground, ft down, kt slower. The laws of the path, written out once more."""
    step = TASK.steps[leg.step]
    tas = AIR.tas_kt(speed, altitude)
    ground = AIR.ground_kt(tas, altitude, leg.track_deg) / 3600
    slower = 0.0
    if leg.speed == "slowing":
        slower = step.level_kt_s if leg.vertical == "level" else step.descending_kt_s
    match leg.vertical:
        case "final":
            return ground, 6076.12 * tan(radians(TASK.angle_deg)) * ground, slower
        case "descent":
            return ground, TASK.descent.gradient_ft_nm * tas / 3600 * (1 - slower / step.level_kt_s), slower
        case _:
            return ground, 0.0, slower


def test_stepped_in_time_by_another_hand_it_ends_there_too() -> None:
    """A twentieth of a second at a time, with the plainest arithmetic."""
    profile = descend(TASK, AIR)
    x, h, v = profile.top.distance_nm, profile.top.altitude_ft, profile.top.speed_kt
    for leg in profile.legs:
        while x > leg.near.distance_nm + 1e-9:
            a = rates(leg, h, v)
            dt = min(0.05, (x - leg.near.distance_nm) / a[0])
            b = rates(leg, h - a[1] * dt, v - a[2] * dt)
            x -= (a[0] + b[0]) / 2 * dt
            h -= (a[1] + b[1]) / 2 * dt
            v -= (a[2] + b[2]) / 2 * dt
    assert x == pytest.approx(0, abs=0.01)
    assert h == pytest.approx(TASK.threshold_ft, abs=1)
    assert v == pytest.approx(TASK.approach_kt, abs=0.1)


@few
@given(tasks, airs)
def test_every_limit_is_kept_on_the_way(task: Task, air: Air) -> None:
    """Altitude and speed only fall inward (but for the speed at a Mach number); fixes ahead, 250 kt below 10 000 ft."""
    profile = descend(task, air)
    for leg in profile.legs:
        assert leg.far.altitude_ft >= leg.near.altitude_ft - 1e-6
        if leg.speed != "mach":
            assert leg.far.speed_kt >= leg.near.speed_kt - 1e-6
    for p in profile.points:
        assert p.altitude_ft <= task.cruise_ft + 1e-6
        if p.altitude_ft < task.limit_ft - 1:
            assert p.speed_kt <= task.limit_kt + 1e-6
        for fix in task.fixes:
            if p.distance_nm <= fix.distance_nm:
                assert fix.at_most_ft is None or p.altitude_ft <= fix.at_most_ft + 1e-6
                assert fix.speed_kt is None or p.speed_kt <= max(fix.speed_kt, task.approach_kt) + 1e-6
        if task.threshold_ft <= p.altitude_ft <= task.stable_ft - 1:
            assert p.speed_kt == pytest.approx(task.approach_kt)
    seconds = [p.seconds for p in profile.points]
    assert seconds == sorted(seconds)


@few
@given(tasks, st.floats(5, 60))
def test_a_tailwind_moves_the_top_of_descent_out(task: Task, kt: float) -> None:
    """Wind from behind at every height, against the same path in still air."""
    behind = (task.course_deg + 180) % 360
    windy = Air(1013.25, 0, ((0, behind, kt), (40_000, behind, kt)))
    assert descend(task, windy).top.distance_nm >= descend(task, Air(1013.25, 0)).top.distance_nm - 1e-6


@few
@given(tasks, airs)
def test_flap_comes_no_nearer_than_its_place_and_never_below_the_gate(task: Task, air: Air) -> None:
    events = [event for event in descend(task, air).events if event.kind == "configure"]
    words = [
        f"flap {s.flap_deg:g}" if s.flap_deg != b.flap_deg else f"gear {s.gear}"
        for b, s in zip(task.steps, task.steps[1:], strict=False)
    ]
    assert [event.words for event in events] == words[len(words) - len(events) :]
    for event, step in zip(reversed(events), reversed(task.steps), strict=False):
        assert event.point.distance_nm >= step.by_nm - 1e-6
        assert event.point.altitude_ft >= task.stable_ft - 1e-6


def test_the_rule_of_three_to_one() -> None:
    """About three miles for each thousand feet and one for each ten knots to lose: common practice, no source.

    From 10 000 ft and 250 kt in still air, to a threshold at sea level: within seven miles of 30 + 11,
    since this aeroplane has more drag than the rule.
    """
    task = replace(TASK, threshold_ft=50.0, stable_ft=1000.0, cruise_ft=10_000.0, fixes=(), limit_ft=12_000.0)
    assert descend(task, Air(1013.25, 0)).top.distance_nm == pytest.approx(30 + 11, abs=7)


def test_a_wind_that_cannot_be_flown_against_is_an_error() -> None:
    with pytest.raises(OutOfRange, match="over the ground"):
        descend(TASK, Air(1013, 0, ((0, TASK.course_deg, 120), (40_000, TASK.course_deg, 240))))


def test_a_descent_that_never_gets_up_is_an_error() -> None:
    low = Fix(name="LOW", distance_nm=399, at_most_ft=4000)
    with pytest.raises(OutOfRange, match="no way up"):
        descend(replace(TASK, fixes=(low,)), AIR)
