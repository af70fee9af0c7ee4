"""What to expect along the path: the task it is integrated for, each fix against what it asks, the table of miles."""

from itertools import pairwise
from math import floor, radians, tan

from msgspec import Struct
from msgspec.structs import replace

from flowdeck.arrival.air import Air
from flowdeck.arrival.altimetry import HIGHEST_FT
from flowdeck.arrival.atmosphere import temperature_c
from flowdeck.arrival.bounds import OutOfRange
from flowdeck.arrival.descend import Task
from flowdeck.arrival.descent import path_altitude_ft
from flowdeck.arrival.minima import cold_ft
from flowdeck.arrival.plan import Arrival
from flowdeck.arrival.procedure import Fix
from flowdeck.arrival.profile import Point, Profile
from flowdeck.arrival.sheet import known
from flowdeck.arrival.turns import radius_nm

NEAR_FT = 30.0
"""A published table and the path may differ by so much before it is named (our proposal)."""
TURN_DEG = 5.0
BANK_DEG = 25.0


class FixRow(Struct, frozen=True, kw_only=True):
    """A fix with what it asks and what the plan gives. *conflict* says what does not fit, empty when all does.

    *flown_ft*: the least altitude to show on the altimeter there, cold corrected; None where nothing is asked or the
    correction has no figure.
    """

    name: str
    distance_nm: float
    asks: str
    altitude_ft: float
    speed_kt: float
    speed_limit_kt: float | None
    flown_ft: float | None
    conflict: str


class MileRow(Struct, frozen=True, kw_only=True):
    """*altitude_ft* of the path, *flown_ft* with the correction for cold (None where that has no figure),
    *published_ft* where the chart gives one."""

    distance_nm: float
    altitude_ft: float
    flown_ft: float | None
    published_ft: float | None


def air_of(arrival: Arrival) -> Air:
    """The air of the day. Raises `Unknown` without pressure or temperature.

    A variable wind is one from behind, as on the runway; a calm is a wind of 0 kt, not that of the lowest height given.
    """
    qnh = known(arrival.weather.qnh_hpa, "pressure")
    warm = known(arrival.weather.temperature_c, "temperature")
    deviation = warm - temperature_c(Air(qnh, 0).pressure_altitude_ft(arrival.aerodrome.elevation_ft))
    winds = [(w.altitude_ft, w.from_deg, w.kt) for w in arrival.winds]
    field, report = arrival.aerodrome, arrival.weather
    from_deg = report.wind_from_deg
    if from_deg is None and (report.wind_variable or report.wind_kt == 0):
        from_deg = (arrival.runway.course_deg + field.variation_deg + 180) % 360
    if from_deg is not None and report.wind_kt is not None:
        winds.append((field.elevation_ft, from_deg, report.wind_kt))
    return Air(qnh, deviation, tuple(winds))


def task_of(arrival: Arrival, approach_kt: float) -> Task:
    """The path to integrate, with true tracks."""
    approach, policy = arrival.approach, arrival.policy
    east = arrival.aerodrome.variation_deg
    ordered = sorted(approach.fixes, key=lambda fix: fix.distance_nm)
    course = approach.course_deg
    tracks = [(f.distance_nm, ((course if f.track_deg is None else f.track_deg) + east) % 360) for f in ordered]
    descent = arrival.aircraft.descent
    if arrival.hold is not None:  # nobody speeds up on leaving a hold to slow down again
        descent = replace(descent, speed_kt=min(descent.speed_kt, arrival.hold.speed_kt))
    return Task(
        threshold_ft=arrival.runway.elevation_ft + approach.crossing_ft,
        angle_deg=approach.angle_deg,
        final_nm=approach.final.distance_nm,
        stable_ft=arrival.aerodrome.elevation_ft + policy.gate.height_ft,
        cruise_ft=arrival.hold.altitude_ft if arrival.hold is not None else arrival.start.altitude_ft,
        approach_kt=approach_kt,
        course_deg=(approach.course_deg + east) % 360,
        fixes=approach.fixes,
        tracks=tuple(tracks),
        steps=arrival.aircraft.steps,
        descent=descent,
        limit_kt=policy.speed_limit_kt,
        limit_ft=policy.speed_limit_ft,
    )


def fix_rows(arrival: Arrival, profile: Profile) -> tuple[FixRow, ...]:
    """Each fix in the order flown. Those farther out than the top of descent are crossed at the cruise."""
    return tuple(_fix_row(arrival, profile.at(fix.distance_nm), fix) for fix in arrival.approach.fixes)


def _fix_row(arrival: Arrival, there: Point, fix: Fix) -> FixRow:
    conflicts = []
    if fix.at_least_ft is not None and there.altitude_ft < fix.at_least_ft - 1:
        conflicts.append(f"{fix.at_least_ft - there.altitude_ft:.0f} ft too low: go down later and steeper, or slower")
    if fix.at_most_ft is not None and there.altitude_ft > fix.at_most_ft + 1:
        conflicts.append(f"{there.altitude_ft - fix.at_most_ft:.0f} ft too high: the way down from here is too short")
    if fix.speed_kt is not None and there.speed_kt > fix.speed_kt + 0.5:
        conflicts.append(f"{there.speed_kt - fix.speed_kt:.0f} kt too fast")
    return FixRow(
        name=fix.name,
        distance_nm=fix.distance_nm,
        asks=fix.asks,
        altitude_ft=there.altitude_ft,
        speed_kt=there.speed_kt,
        speed_limit_kt=fix.speed_kt,
        flown_ft=flown_ft(arrival, fix.at_least_ft),
        conflict="; ".join(conflicts),
    )


def flown_ft(arrival: Arrival, altitude_ft: float | None) -> float | None:
    """An altitude as it is flown; None where none is asked, or cold would change it and the correction ends below."""
    air_c = arrival.weather.temperature_c
    if altitude_ft is None or air_c is None:
        return None
    if altitude_ft - arrival.aerodrome.elevation_ft > HIGHEST_FT:
        return altitude_ft if air_c > arrival.policy.cold_below_c else None
    try:
        return altitude_ft + cold_ft(altitude_ft, arrival.aerodrome, air_c, arrival.policy)
    except OutOfRange:  # colder than any figure
        return None


def uncorrected(arrival: Arrival) -> tuple[Fix, ...]:
    """The fixes whose least altitude cold would change, and for which the correction has no figure."""
    if arrival.weather.temperature_c is None:
        return ()
    asked = ((fix, fix.at_least_ft) for fix in arrival.approach.fixes)
    return tuple(fix for fix, least in asked if least is not None and flown_ft(arrival, least) is None)


def mile_rows(arrival: Arrival) -> tuple[MileRow, ...]:
    """Each whole mile inside the final fix, down to the last before the threshold, and the published distances."""
    approach = arrival.approach
    far = approach.final.distance_nm
    miles = {float(mile) for mile in range(1, floor(far) + 1)} | {d for d, _ in approach.table if d <= far}
    published = dict(approach.table)
    rows = []
    for distance in sorted(miles, reverse=True):
        altitude = path_altitude_ft(distance, approach.angle_deg, arrival.runway.elevation_ft, approach.crossing_ft)
        flown = flown_ft(arrival, altitude)
        rows.append(
            MileRow(
                distance_nm=distance,
                altitude_ft=altitude,
                flown_ft=None if flown is None else float(round(flown)),
                published_ft=published.get(distance),
            )
        )
    return tuple(rows)


def table_conflicts(rows: tuple[MileRow, ...]) -> tuple[str, ...]:
    """Where the published table and the path of the angle differ, in words."""
    return tuple(
        f"at {row.distance_nm:g} NM the chart has {row.published_ft:.0f} ft, the path {row.altitude_ft:.0f} ft"
        for row in rows
        if row.published_ft is not None and abs(row.published_ft - row.altitude_ft) > NEAR_FT
    )


class TurnRow(Struct, frozen=True, kw_only=True):
    """A change of track at a fix: by how much (positive to the right), its radius, and how far before to begin."""

    fix: str
    change_deg: float
    radius_nm: float
    lead_nm: float


def turn_rows(arrival: Arrival, profile: Profile, air: Air) -> tuple[TurnRow, ...]:
    """Turns of more than 5 degrees at a bank of 25 (no more than 3 deg/s), in the order flown, in still air."""
    final = arrival.approach.course_deg
    fixes = arrival.approach.fixes
    rows = []
    for fix, after in pairwise(fixes):
        inbound = final if fix.track_deg is None else fix.track_deg
        outbound = final if after.track_deg is None else after.track_deg
        change = (outbound - inbound + 180) % 360 - 180
        if abs(change) <= TURN_DEG:
            continue
        there = profile.at(fix.distance_nm)
        radius = radius_nm(air.tas_kt(there.speed_kt, there.altitude_ft), BANK_DEG)
        lead = radius * tan(radians(min(abs(change), 150) / 2))
        rows.append(TurnRow(fix=fix.name, change_deg=change, radius_nm=radius, lead_nm=lead))
    return tuple(rows)
