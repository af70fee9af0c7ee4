"""The path of the brief flown forward in time by another hand, a quarter of a second at a time, to the threshold.

Nothing of the program works here but the brief itself: air, winds, tracks and laws are written out once more, from
the standard atmosphere (ICAO Doc 7488) and from what `flowdeck.arrival.descend` says of its law. The legs of the plan
say only when to go over from one law to the next.
"""

from cmath import rect
from math import radians, sqrt, tan
from typing import NamedTuple

import pytest
from hypothesis import HealthCheck, given, settings
from msgspec.structs import replace

from flowdeck.arrival.brief import Brief, make_brief
from flowdeck.arrival.plan import Arrival, Wind
from flowdeck.arrival.profile import Leg, Profile
from flowdeck.live.bundled import arrival_names, read_arrival
from tests.arrival.test_brief_limits import arrivals, number, pathed, values

STEP_S = 0.25
FT, NM = 0.3048, 1852.0
SEA_K, SEA_HPA, LAPSE = 288.15, 1013.25, 0.0065
POWER = 9.80665 / (287.05287 * LAPSE)
SOUND = sqrt(1.4 * 287.05287 * SEA_K) * 3600 / NM
"""Speed of sound at sea level, kt."""


class Day:
    """The air of one day, by altitude on the local setting."""

    def __init__(self, arrival: Arrival) -> None:
        report = arrival.weather
        assert report.qnh_hpa and report.temperature_c is not None
        self.shift = SEA_K / LAPSE * (1 - (report.qnh_hpa / SEA_HPA) ** (1 / POWER)) / FT
        field = arrival.aerodrome.elevation_ft
        self.warm = report.temperature_c + 273.15 - standard_k(field + self.shift)
        rows = [(wind.altitude_ft, rect(wind.kt, radians(wind.from_deg))) for wind in arrival.winds]
        if report.wind_from_deg is not None and report.wind_kt is not None:
            rows.append((field, rect(report.wind_kt, radians(report.wind_from_deg))))
        self.winds = sorted(rows, key=lambda row: row[0])

    def wind(self, altitude: float) -> complex:
        """Where it blows from; north is real, east imaginary. Straight between heights, level beyond them."""
        below = [row for row in self.winds if row[0] <= altitude]
        above = [row for row in self.winds if row[0] > altitude]
        if not below or not above:
            return (below[-1:] or above[:1] or [(0.0, 0j)])[0][1]
        (low, one), (high, other) = below[-1], above[0]
        return one + (other - one) * (altitude - low) / (high - low)

    def mach(self, cas: float, altitude: float) -> float:
        impact = (1 + 0.2 * (cas / SOUND) ** 2) ** 3.5 - 1
        return sqrt(5 * ((impact / pressure(altitude + self.shift) + 1) ** (2 / 7) - 1))

    def cas(self, mach: float, altitude: float) -> float:
        impact = pressure(altitude + self.shift) * ((1 + 0.2 * mach**2) ** 3.5 - 1)
        return SOUND * sqrt(5 * ((impact + 1) ** (2 / 7) - 1))

    def tas(self, cas: float, altitude: float) -> float:
        kelvin = standard_k(altitude + self.shift) + self.warm
        return self.mach(cas, altitude) * SOUND * sqrt(kelvin / SEA_K)

    def ground(self, cas: float, altitude: float, track: float) -> float:
        """Along a track that is kept by steering into the wind."""
        seen = self.wind(altitude) * rect(1, -radians(track))
        return sqrt(self.tas(cas, altitude) ** 2 - seen.imag**2) - seen.real


def standard_k(feet: float) -> float:
    return SEA_K - LAPSE * min(feet * FT, 11_000)


def pressure(feet: float) -> float:
    """Of the standard atmosphere, as a share of that at sea level."""
    if feet * FT <= 11_000:
        return (standard_k(feet) / SEA_K) ** POWER
    return (216.65 / SEA_K) ** POWER * 2.718281828459045 ** (-9.80665 * (feet * FT - 11_000) / (287.05287 * 216.65))


class Here(NamedTuple):
    distance_nm: float
    altitude_ft: float
    speed_kt: float


def track(arrival: Arrival, distance: float) -> float:
    """Of the leg that leads to the next fix, the final course where none is given; true."""
    ahead = [fix for fix in arrival.approach.fixes if fix.distance_nm < distance]
    given = max(ahead, key=lambda fix: fix.distance_nm).track_deg if ahead else None
    return (arrival.approach.course_deg if given is None else given) + arrival.aerodrome.variation_deg


def changes(arrival: Arrival, day: Day, leg: Leg, here: Here, towards: float) -> Here:
    """What one second takes off: NM, ft and kt. The laws of the path."""
    step = arrival.aircraft.steps[leg.step]
    descent = arrival.aircraft.descent
    cas = day.cas(descent.mach, here.altitude_ft) if leg.speed == "mach" else here.speed_kt
    ground = day.ground(cas, here.altitude_ft, towards) / 3600
    slower = 0.0
    if leg.speed == "slowing":
        slower = step.level_kt_s if leg.vertical == "level" else step.descending_kt_s
    match leg.vertical:
        case "final":
            sink = tan(radians(arrival.approach.angle_deg)) * ground * NM / FT
        case "descent":  # in still air; while it slows, the drag that slows down in level flight is shared
            sink = descent.gradient_ft_nm * day.tas(cas, here.altitude_ft) / 3600 * (1 - slower / step.level_kt_s)
        case _:
            sink = 0.0
    return Here(ground, sink, slower)


class Flight(NamedTuple):
    end: Here
    seconds: float
    idle_s: float
    """With idle thrust for certain: on the idle descent, and slowing down in level flight."""
    slowing_final_s: float
    switches: list[tuple[Here, Leg]]
    """Where it was when each leg began."""


def fly(arrival: Arrival, profile: Profile) -> Flight:
    day = Day(arrival)
    top = profile.legs[0].far
    here = Here(top.distance_nm, top.altitude_ft, top.speed_kt)
    seconds = idle = slowing = 0.0
    switches = []
    for leg in profile.legs:
        switches.append((here, leg))
        towards = track(arrival, (leg.far.distance_nm + leg.near.distance_nm) / 2)
        while here.distance_nm > leg.near.distance_nm + 1e-7:
            first = changes(arrival, day, leg, here, towards)
            dt = min(STEP_S, (here.distance_nm - leg.near.distance_nm) / first.distance_nm)
            middle = Here(*(have - dt / 2 * rate for have, rate in zip(here, first, strict=True)))
            rate = changes(arrival, day, leg, middle, towards)
            here = Here(*(have - dt * each for have, each in zip(here, rate, strict=True)))
            if leg.speed == "mach":
                here = here._replace(speed_kt=day.cas(arrival.aircraft.descent.mach, here.altitude_ft))
            seconds += dt
            idle += dt if leg.vertical == "descent" or (leg.vertical == "level" and leg.speed == "slowing") else 0.0
            slowing += dt if leg.vertical == "final" and leg.speed == "slowing" else 0.0
    return Flight(here, seconds, idle, slowing, switches)


def ends_at_the_threshold(arrival: Arrival, brief: Brief, profile: Profile) -> Flight:
    """Within 1 ft at the threshold, and within 0.01 NM of it when the planned time is over."""
    flight = fly(arrival, profile)
    threshold = arrival.runway.elevation_ft + arrival.approach.crossing_ft
    assert flight.end.distance_nm == pytest.approx(0, abs=1e-5)
    assert flight.end.altitude_ft == pytest.approx(threshold, abs=1)
    assert flight.end.speed_kt == pytest.approx(number(brief, "approach_kt"), abs=0.1)
    over = (flight.seconds - profile.top.seconds) * Day(arrival).ground(
        flight.end.speed_kt, threshold, track(arrival, 0)
    )
    assert over / 3600 == pytest.approx(0, abs=0.01)
    for here, leg in flight.switches:
        assert here.altitude_ft == pytest.approx(leg.far.altitude_ft, abs=1)
        assert here.speed_kt == pytest.approx(leg.far.speed_kt, abs=0.1)
    return flight


@pytest.mark.parametrize("name", arrival_names())
def test_every_bundled_arrival_is_flown_to_the_threshold(name: str) -> None:
    arrival = read_arrival(name)
    brief = make_brief(arrival)
    assert brief.profile is not None
    ends_at_the_threshold(arrival, brief, brief.profile)


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(arrivals())
def test_any_arrival_is_flown_to_the_threshold(arrival: Arrival) -> None:
    brief = make_brief(arrival)
    profile = pathed(brief)
    if "approach_kt" in values(brief):
        ends_at_the_threshold(arrival, brief, profile)


@pytest.mark.parametrize("name", arrival_names())
def test_fuel_and_time_of_the_way(name: str) -> None:
    """Cruise flow to the top of descent, idle flow down, approach flow on the rest.

    Of slowing down on the final path the plan's own words leave open which flow it is; it may be either, no more.
    """
    arrival = read_arrival(name)
    brief = make_brief(arrival)
    assert brief.profile is not None
    flight, burn, day = fly(arrival, brief.profile), arrival.aircraft.burn, Day(arrival)
    top, start = brief.profile.top, arrival.start
    out = start.distance_nm - top.distance_nm
    altitude = start.altitude_ft if arrival.hold is None else arrival.hold.altitude_ft
    level_h = out / day.ground(start.speed_kt, altitude, track(arrival, start.distance_nm))
    powered = flight.seconds - flight.idle_s
    most = burn.cruise_kgh * level_h + (burn.descent_kgh * flight.idle_s + burn.approach_kgh * powered) / 3600
    least = most - (burn.approach_kgh - burn.descent_kgh) * flight.slowing_final_s / 3600
    assert least - 0.5 <= number(brief, "burn_kg") <= most + 0.5
    held = 0.0 if arrival.hold is None else arrival.hold.laps * number(brief, "lap_min")
    assert number(brief, "to_landing_min") == pytest.approx(flight.seconds / 60 + level_h * 60 + held, abs=0.02)


@pytest.mark.parametrize("altitude", [18_000.0, 30_000.0, 39_000.0])
def test_from_higher_up(altitude: float) -> None:
    """Skarn Fell from above the crossover: at a Mach number first, through the tropopause of a cold day."""
    skarn = read_arrival("skarn-fell")
    arrival = replace(skarn, start=replace(skarn.start, altitude_ft=altitude, distance_nm=200.0))
    brief = make_brief(arrival)
    assert brief.profile is not None
    flight = ends_at_the_threshold(arrival, brief, brief.profile)
    assert any(leg.speed == "mach" for _, leg in flight.switches) is (altitude > 30_000)


def test_through_a_sudden_change_of_wind() -> None:
    """Port Ennis with 40 kt ahead at 3000 ft and 40 kt behind at 4000: the law of the path changes at both heights."""
    port = read_arrival("port-ennis")
    arrival = replace(port, winds=(Wind(3000.0, 241.0, 40.0), Wind(4000.0, 61.0, 40.0)))
    brief = make_brief(arrival)
    assert brief.profile is not None
    ends_at_the_threshold(arrival, brief, brief.profile)


def test_a_plan_of_another_day_is_not_flown_to_the_threshold() -> None:
    """The measure itself: with 10 kt more wind than planned for, the same legs end elsewhere."""
    arrival = read_arrival("tarn-holm")
    brief = make_brief(arrival)
    windier = replace(arrival, winds=tuple(replace(wind, kt=wind.kt + 10) for wind in arrival.winds))
    assert brief.profile is not None
    with pytest.raises(AssertionError):
        ends_at_the_threshold(windier, brief, brief.profile)


def test_a_leg_without_a_track_is_on_the_final_course() -> None:
    """Port Ennis from 80 NM: the leg to MERLO (26 NM) has no track, so it is the final course, 241 true; the plan flies
    it on SULVA's 198 and, in the same brief, lets the aeroplane turn left by 43 at MERLO."""
    port = read_arrival("port-ennis")
    start = replace(port.start, altitude_ft=15_000.0, distance_nm=80.0, speed_kt=280.0)
    brief = make_brief(replace(port, hold=None, start=start))
    assert brief.profile is not None
    assert [turn.fix for turn in brief.turns if turn.change_deg < 0] == ["MERLO"]
    outermost = next(leg for leg in brief.profile.legs if leg.near.distance_nm >= 26)
    assert outermost.track_deg == 241


def test_fuel_from_inside_the_top_of_descent() -> None:
    """20 NM to run at Tarn Holm, above the path: no more fuel and minutes than 20 NM of the path take."""
    tarn = read_arrival("tarn-holm")
    brief = make_brief(replace(tarn, start=replace(tarn.start, distance_nm=20.0, altitude_ft=8000.0, speed_kt=220.0)))
    assert brief.profile is not None
    assert number(brief, "to_landing_min") <= brief.profile.at(20.0).seconds / 60 + 0.5
