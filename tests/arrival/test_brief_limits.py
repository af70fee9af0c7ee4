"""What holds in every brief, whatever the day: minima, landing distances, miles, and each limit along the path."""

from itertools import pairwise

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from flowdeck.arrival.brief import Brief, make_brief
from flowdeck.arrival.expected import air_of
from flowdeck.arrival.plan import Arrival, Wind
from flowdeck.arrival.procedure import Fix
from flowdeck.arrival.profile import Profile
from flowdeck.live.bundled import arrival_names, read_arrival

BUNDLED = {name: read_arrival(name) for name in arrival_names()}
TARN, PORT, SKARN = (BUNDLED[name] for name in ("tarn-holm", "port-ennis", "skarn-fell"))
some = settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def values(brief: Brief) -> dict[str, float | str]:
    return {figure.key: figure.value for section in brief.sections for figure in section.figures}


def number(brief: Brief, key: str) -> float:
    value = values(brief)[key]
    assert isinstance(value, (int, float))
    return value


def weather(arrival: Arrival, **changes: object) -> Arrival:
    return replace(arrival, weather=replace(arrival.weather, **changes))


# ---- arrivals as they might be


def mass(arrival: Arrival, share: float) -> float:
    """A mass of its own aeroplane, kg: from the lightest (0) to the heaviest (1) that its tables know."""
    table = arrival.aircraft.reference
    return table.low + share * (table.high - table.low)


@st.composite
def arrivals(draw: st.DrawFn) -> Arrival:
    """A bundled arrival on another day, in another aeroplane's hands, with other limits at its fixes."""

    def to(low: float, high: float) -> float:
        return draw(st.floats(low, high))

    base = BUNDLED[draw(st.sampled_from(sorted(BUNDLED)))]
    field = base.aerodrome.elevation_ft
    heights = draw(st.lists(st.integers(1, 40), max_size=5, unique=True))  # one wind at a height
    aloft = [(field + 1000.0 * height, to(0, 360), to(0, 60)) for height in heights]
    fixes = [_fix(draw, fix, field) if draw(st.booleans()) else fix for fix in base.approach.fixes]
    started = replace(base.start, mass_kg=mass(base, to(0.125, 0.98)))
    if base.hold is None:
        started = replace(started, altitude_ft=to(field + 4000, 40_000), distance_nm=to(150, 220))
    usual = base.aircraft.descent
    descent = replace(
        usual,
        mach=usual.mach * to(0.81, 1.08),
        speed_kt=usual.speed_kt * to(0.86, 1.11),
        gradient_ft_nm=usual.gradient_ft_nm * to(0.77, 1.23),
    )
    arrival = replace(
        base,
        winds=tuple(Wind(*row) for row in aloft),
        start=started,
        aircraft=replace(base.aircraft, descent=descent),
        approach=replace(base.approach, angle_deg=to(2.6, 3.6), crossing_ft=to(40, 60), fixes=tuple(fixes)),
        policy=replace(
            base.policy, speed_limit_kt=to(235, 270), gate=replace(base.policy.gate, height_ft=to(500, 1500))
        ),
    )
    kt = to(0, 30)
    return weather(
        arrival,
        wind_from_deg=to(0, 360),
        wind_kt=kt,
        gust_kt=draw(st.one_of(st.none(), st.floats(kt, kt + 25))),
        wind_variable=False,
        temperature_c=to(-40, 42),
        qnh_hpa=to(955, 1045),
    )


def _fix(draw: st.DrawFn, fix: Fix, field: float) -> Fix:
    """The same place with other limits; they may well not be kept."""
    path = field + 318 * fix.distance_nm
    low = draw(st.one_of(st.none(), st.floats(path - 1500, path + 200)))
    high = draw(st.one_of(st.none(), st.floats(path - 500, path + 3000)))
    if low is not None and high is not None and low > high:
        low = high
    return replace(fix, at_least_ft=low, at_most_ft=high, speed_kt=draw(st.one_of(st.none(), st.floats(150, 240))))


def pathed(brief: Brief) -> Profile:
    """Its path; days on which there is none (wind above all belief) are left out."""
    assume(brief.profile is not None and brief.profile.legs)
    assert brief.profile is not None
    return brief.profile


def at(profile: Profile, distance: float) -> tuple[float, float]:
    """Altitude and speed there, straight between the points of the plan."""
    points = profile.points
    if distance >= points[-1].distance_nm:
        return points[-1].altitude_ft, points[-1].speed_kt
    near, far = next((a, b) for a, b in pairwise(points) if a.distance_nm <= distance <= b.distance_nm)
    width = far.distance_nm - near.distance_nm
    share = (distance - near.distance_nm) / width if width else 0.0
    return (
        near.altitude_ft + share * (far.altitude_ft - near.altitude_ft),
        near.speed_kt + share * (far.speed_kt - near.speed_kt),
    )


# ---- minima


@some
@given(arrivals(), st.floats(0, 150), st.sampled_from([10.0, 50.0, 100.0]))
def test_a_minimum_is_never_below_the_published(arrival: Arrival, increment: float, step: float) -> None:
    """Nor the selector below the minimum; a precision minimum in warm air is the published one."""
    policy = replace(arrival.policy, increment_ft=increment, selector_step_ft=step)
    brief = make_brief(replace(arrival, policy=policy))
    pathed(brief)  # without it there is no approach speed, so no category
    assume("published_ft" in values(brief))
    published = number(brief, "published_ft")
    assert published == arrival.approach.minima[values(brief)["category"]]  # type: ignore[index]
    assert number(brief, "minimum_ft") >= published
    assert number(brief, "minimum_selector_ft") >= number(brief, "minimum_ft")
    assert number(brief, "minimum_selector_ft") < number(brief, "minimum_ft") + step
    if arrival.approach.kind == "precision" and number(brief, "cold_ft") == 0:
        assert number(brief, "minimum_ft") == published
    assert brief.planned["planned_minimum_ft"] >= published


@some
@given(arrivals(), st.floats(-59, 20), st.floats(0, 20))
def test_colder_never_lowers_a_minimum(arrival: Arrival, air_c: float, colder: float) -> None:
    """In one category."""
    still = weather(arrival, wind_kt=0.0, gust_kt=None)
    warm = make_brief(weather(still, temperature_c=air_c))
    cold = make_brief(weather(still, temperature_c=max(-60.0, air_c - colder)))
    assume("minimum_ft" in values(warm) and "minimum_ft" in values(cold))
    assume(values(warm)["category"] == values(cold)["category"])  # colder air burns longer: lighter, slower
    assert number(cold, "minimum_ft") >= number(warm, "minimum_ft")
    assert number(cold, "missed_ft") >= number(warm, "missed_ft")


# ---- landing distance


def long_runway(arrival: Arrival) -> Arrival:
    """Six kilometres, so that the lowest autobrake step is always the one shown."""
    return replace(arrival, runway=replace(arrival.runway, landing_distance_m=6000.0))


def along(arrival: Arrival, head: float) -> Arrival:
    """The wind straight along the runway, from ahead or (negative) from behind."""
    ahead = (arrival.runway.course_deg + arrival.aerodrome.variation_deg) % 360
    return weather(
        arrival,
        wind_from_deg=ahead if head >= 0 else (ahead + 180) % 360,
        wind_kt=abs(head),
        gust_kt=None,
        wind_variable=False,
    )


def metres(arrival: Arrival) -> float:
    brief = make_brief(long_runway(arrival))
    assert values(brief)["autobrake"] in (arrival.aircraft.brakes[0], "none")
    return number(brief, "landing_required_m")


@some
@given(st.sampled_from(sorted(BUNDLED)), st.floats(-20, 45), st.floats(-20, 45), st.floats(0, 20))
def test_more_headwind_never_lengthens_the_landing(name: str, a: float, b: float, gust: float) -> None:
    """Nor does a tailwind shorten it: with the addition that each wind asks for, and the same gust above each."""
    less, more = (along(BUNDLED[name], head) for head in sorted((a, b)))
    less, more = (weather(each, gust_kt=(each.weather.wind_kt or 0) + gust) for each in (less, more))
    assert metres(more) <= metres(less)


def test_twice_the_headwind_is_no_longer_a_landing() -> None:
    """20 kt ahead against 10: the aeroplane touches down slower over the ground, and needs no more runway."""
    assert metres(along(TARN, 20)) <= metres(along(TARN, 10))


@some
@given(arrivals(), st.floats(0.06, 1), st.floats(0.06, 1))
def test_heavier_never_shortens_the_landing(arrival: Arrival, a: float, b: float) -> None:
    masses = [mass(arrival, share) for share in sorted((a, b))]
    light, heavy = (replace(arrival, start=replace(arrival.start, mass_kg=kg)) for kg in masses)
    assume(make_brief(heavy).profile is not None and make_brief(light).profile is not None)
    assume(all("landing_required_m" in values(make_brief(each)) for each in (light, heavy)))
    assert metres(heavy) >= metres(light)


@some
@given(arrivals(), st.sampled_from(["dry", "wet", "contaminated"]))
def test_the_step_shown_is_the_lowest_that_fits(arrival: Arrival, surface: str) -> None:
    """As the brief lists the steps; when none fits it says so, and no landing is possible."""
    brief = make_brief(replace(arrival, runway=replace(arrival.runway, surface=surface)))  # type: ignore[arg-type]
    assume("autobrake" in values(brief))
    rule = next(f.rule for s in brief.sections for f in s.figures if f.key == "autobrake").partition(": ")[2]
    required = {words.split()[0]: float(words.split()[1]) for words in rule.split(", ")}
    fitting = [brake for brake, needs in required.items() if needs <= arrival.runway.landing_distance_m]
    assert list(required) == list(arrival.aircraft.brakes)
    assert values(brief)["autobrake"] == (fitting[0] if fitting else "none")
    if not fitting:
        assert not brief.lands
        assert any(c.kind == "runway" and c.no_landing for c in brief.cautions)


# ---- the table of miles


@some
@given(arrivals())
def test_the_table_of_miles_is_monotone(arrival: Arrival) -> None:
    """Farther out is higher, on the path and as flown in the cold; nothing is flown below the path."""
    rows = make_brief(arrival).miles
    for out, inner in pairwise(rows):
        assert out.distance_nm > inner.distance_nm
        assert out.altitude_ft > inner.altitude_ft
        assert out.flown_ft > inner.flown_ft
    assert all(row.flown_ft >= row.altitude_ft - 0.5 for row in rows)


def test_the_table_of_miles_is_monotone_in_the_cold_far_out_too() -> None:
    """From TORVE at 17 NM, -25 C: beyond 5000 ft above the aerodrome no altitude is given, and that is said."""
    brief = make_brief(replace(SKARN, approach=replace(SKARN.approach, final_fix="TORVE")))
    flown = [row.flown_ft for row in brief.miles]
    known = [altitude for altitude in flown if altitude is not None]
    assert flown[: len(flown) - len(known)] == [None] * (len(flown) - len(known)) != []
    assert known == sorted(known, reverse=True)
    assert any("no correction has a figure" in c.words for c in brief.cautions)


# ---- along the path


@some
@given(arrivals())
def test_altitude_and_speed_only_fall_on_the_way(arrival: Arrival) -> None:
    """But for the speed at a Mach number, which rises in thicker air. Neither ever jumps from leg to leg."""
    profile = pathed(make_brief(arrival))
    for leg in profile.legs:
        assert leg.far.distance_nm >= leg.near.distance_nm
        assert leg.far.altitude_ft >= leg.near.altitude_ft - 1e-6
        if leg.speed != "mach":
            assert leg.far.speed_kt >= leg.near.speed_kt - 1e-6
    for before, after in pairwise(profile.legs):
        assert before.near == after.far
    out = profile.points
    machs = [(leg.near.distance_nm, leg.far.distance_nm) for leg in profile.legs if leg.speed == "mach"]
    for near, far in pairwise(out):
        assert far.altitude_ft >= near.altitude_ft - 1e-6
        if not any(a - 1e-9 <= near.distance_nm and far.distance_nm <= b + 1e-9 for a, b in machs):
            assert far.speed_kt >= near.speed_kt - 1e-6


@some
@given(arrivals())
def test_the_speed_limit_below_its_altitude_is_kept(arrival: Arrival) -> None:
    profile = pathed(make_brief(arrival))
    for point in profile.points:
        if point.altitude_ft < arrival.policy.speed_limit_ft - 0.01:
            assert point.speed_kt <= arrival.policy.speed_limit_kt + 1e-6


@some
@given(arrivals())
def test_descent_speed_and_mach_number_are_kept(arrival: Arrival) -> None:
    brief = make_brief(arrival)
    profile, descent = pathed(brief), arrival.aircraft.descent
    air = air_of(arrival)
    for point in profile.points:
        assert point.speed_kt <= descent.speed_kt + 1e-6
        assert air.mach(point.speed_kt, point.altitude_ft) <= descent.mach + 1e-4


def test_a_fix_far_out_does_not_let_the_mach_number_go() -> None:
    """From 37 000 ft at Mach 0.74, no faster than 270 kt from 112 NM on: at 34 000 ft 270 kt would be Mach 0.77."""
    far = Fix(name="FARRA", distance_nm=112, speed_kt=270)
    arrival = replace(
        SKARN,
        start=replace(SKARN.start, altitude_ft=37_000.0, distance_nm=180.0),
        approach=replace(SKARN.approach, fixes=(far, *SKARN.approach.fixes)),
    )
    profile, air = make_brief(arrival).profile, air_of(arrival)
    assert profile is not None
    assert max(air.mach(p.speed_kt, p.altitude_ft) for p in profile.points) <= 0.7401


@some
@given(arrivals())
def test_every_fix_is_kept_or_named(arrival: Arrival) -> None:
    """Altitudes to the foot and speeds to half a knot, from the fix inward; what is not kept stands in a caution."""
    brief = make_brief(arrival)
    profile = pathed(brief)
    named = {row.name for row in brief.fixes if row.conflict}
    assert [row.name for row in brief.fixes] == [fix.name for fix in arrival.approach.fixes]
    for fix in arrival.approach.fixes:
        altitude, speed = at(profile, fix.distance_nm)
        kept = (
            (fix.at_least_ft is None or altitude >= fix.at_least_ft - 1.01)
            and (fix.at_most_ft is None or altitude <= fix.at_most_ft + 1.01)
            and (fix.speed_kt is None or speed <= fix.speed_kt + 0.51)
        )
        assert kept or fix.name in named
        if fix.name in named:
            assert any(c.kind == "constraint" and c.words.startswith(fix.name) for c in brief.cautions)
        elif fix.speed_kt is not None:
            inward = [p.speed_kt for p in profile.points if p.distance_nm <= fix.distance_nm]
            assert max(inward) <= fix.speed_kt + 0.51


@some
@given(arrivals())
def test_the_approach_speed_is_flown_from_the_gate_on(arrival: Arrival) -> None:
    brief = make_brief(arrival)
    profile = pathed(brief)
    assume("approach_kt" in values(brief))
    gate = arrival.aerodrome.elevation_ft + arrival.policy.gate.height_ft
    below = [p.speed_kt for p in profile.points if p.altitude_ft <= gate]
    assert below and all(kt == pytest.approx(number(brief, "approach_kt")) for kt in below)


def test_landing_flap_is_out_from_the_gate_on_however_fast() -> None:
    """131 and 40 kt of addition: 171, faster than the 159 at which flap 31 is selected; it is out above the gate."""
    policy = replace(TARN.policy, additive=replace(TARN.policy.additive, cap_kt=40.0))
    gusty = weather(replace(TARN, policy=policy), wind_from_deg=73.0, wind_kt=20.0, gust_kt=55.0)
    brief = make_brief(gusty)
    profile = brief.profile
    assert profile is not None
    assert number(brief, "approach_kt") == 171
    gate = TARN.aerodrome.elevation_ft + TARN.policy.gate.height_ft
    below = [leg for leg in profile.legs if leg.near.altitude_ft < gate - 1]
    assert below and {leg.step for leg in below} == {len(TARN.aircraft.steps) - 1}


@some
@given(arrivals())
def test_flap_and_gear_come_in_time_and_at_speeds_they_bear(arrival: Arrival) -> None:
    """No nearer than asked; below the limit of the flap, and never below the minimum of what is out, or it is said.

    Minimum: at the reference mass, times the root of the mass. The landing flap has the reference speed instead.
    """
    brief = make_brief(arrival)
    profile, steps = pathed(brief), arrival.aircraft.steps
    assume("landing_mass_kg" in values(brief) and "approach_kt" in values(brief))
    said = any(c.kind == "flap_speed" for c in brief.cautions)
    root = (number(brief, "landing_mass_kg") / arrival.aircraft.reference_kg) ** 0.5
    for leg in profile.legs:
        flap = arrival.aircraft.flap(steps[leg.step].flap_deg)
        if leg.step > 0 and steps[leg.step - 1].flap_deg != flap.flap_deg and flap.limit_kt is not None:
            assert said or leg.far.speed_kt <= flap.limit_kt + 1e-6
        if leg.step < len(steps) - 1:
            assert said or leg.near.speed_kt >= flap.minimum_kt * root - 1e-6
    for i, step in enumerate(steps[1:], 1):
        without = [leg.near.distance_nm for leg in profile.legs if leg.step < i]
        assert not without or min(without) >= step.by_nm - 1e-6


def test_nobody_speeds_up_on_leaving_a_hold() -> None:
    """Port Ennis holds at 210 kt and 6000 ft: nothing on the way down is faster, the clean aeroplane's 211 neither."""
    profile = make_brief(PORT).profile
    assert PORT.hold is not None and profile is not None
    assert max(p.speed_kt for p in profile.points) <= PORT.hold.speed_kt


def test_a_hold_too_slow_for_the_clean_aeroplane_is_named() -> None:
    """190 kt in the hold, with flap up, whose minimum at 40 500 kg is 200."""
    assert PORT.hold is not None
    brief = make_brief(replace(PORT, hold=replace(PORT.hold, speed_kt=190.0)))
    assert number(brief, "minimum_flap_0_kt") == 200
    assert any(c.kind in ("flap_speed", "speed") for c in brief.cautions)
