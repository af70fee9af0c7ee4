"""The way down: path, fuel and mass rest on one another, and are worked out in rounds."""

from math import ceil

from flowdeck.arrival.air import Air
from flowdeck.arrival.bounds import OutOfRange, rounded_up
from flowdeck.arrival.briefing.bench import Bench
from flowdeck.arrival.descend import descend
from flowdeck.arrival.expected import task_of
from flowdeck.arrival.fuel import Fuel, fuel_of, hold_min, lap_of, reserve_kg
from flowdeck.arrival.holding import fastest_kt
from flowdeck.arrival.profile import Profile
from flowdeck.arrival.sheet import Unknown
from flowdeck.arrival.speeds import additive_kt, flap_conflicts, minimum_kt, reference_kt

MASS_STEP_KG = 100.0
"""Speeds and distances are taken for the landing mass rounded up to this."""
_ROUNDS = 8
_UP = "up to 1 kg"
"""Fuel that is needed; what is left is rounded down."""


def flight(bench: Bench) -> None:
    """Mass, fuel and path."""
    sheet, arrival = bench.sheet, bench.arrival
    found: list[Fuel] = []

    def worked_out() -> None:
        if bench.air is None:
            raise Unknown("needs pressure and temperature, which are not known")
        if bench.wind is None:
            raise Unknown("needs the wind, which is not known")
        found.append(_rounds(bench, bench.air))
        _fuel(bench, found[0])

    parts = [lambda: _reserves(bench), worked_out]
    if arrival.hold is not None:
        parts.insert(1, lambda: _hold_fuel(bench))
    sheet.section("Mass and fuel", *parts)
    sheet.section("Way down", lambda: _path(bench))
    if arrival.hold is not None:
        sheet.section(f"Holding at {arrival.hold.fix}", lambda: _hold_speed(bench), lambda: _laps(bench, found))


def _rounds(bench: Bench, air: Air) -> Fuel:
    """Until the landing mass stands: mass gives speed, speed gives path, path gives fuel, fuel gives mass."""
    arrival, wind = bench.arrival, bench.wind
    assert wind is not None
    added = additive_kt(wind, arrival.policy.additive)
    kt, mass = 0, arrival.start.mass_kg
    for _ in range(_ROUNDS):
        before, kt = kt, reference_kt(arrival.aircraft, _in_table(bench, mass)) + added
        if kt == before:
            break
        bench.profile = descend(task_of(arrival, kt), air)
        fuel = fuel_of(arrival, bench.profile, air)
        mass = rounded_up(fuel.mass_kg, MASS_STEP_KG)
    bench.mass_kg = mass
    bench.approach_kt = kt if _in_table(bench, mass) == mass else None
    return fuel


def _in_table(bench: Bench, mass: float) -> float:
    """The mass now may be beyond the table of landing masses: the first round then takes its end."""
    table = bench.arrival.aircraft.reference
    return min(max(mass, table.low), table.high)


def _reserves(bench: Bench) -> None:
    arrival = bench.arrival
    minutes = arrival.policy.reserve_minutes
    rule = f"to {arrival.alternate or 'the alternate'}, and {minutes:g} min at holding flow"
    bench.sheet.put("reserve_kg", "Reserves", reserve_kg(arrival), "kg", rule=rule, rounding=_UP)


def _hold_fuel(bench: Bench) -> None:
    if bench.air is None:
        raise Unknown("the hold needs pressure and temperature, which are not known")
    kg = hold_min(bench.arrival, bench.air) * bench.arrival.aircraft.burn.hold_kgh / 60
    bench.sheet.put(
        "hold_kg", "Fuel for the hold", kg, "kg", rule="holding flow over the laps, in still air", rounding=_UP
    )


def _fuel(bench: Bench, fuel: Fuel) -> None:
    arrival, sheet = bench.arrival, bench.sheet
    limit = arrival.aircraft.limits.landing_mass_kg
    rule = "mass now less the fuel burnt on the way, hold included"
    mass = rounded_up(fuel.mass_kg, MASS_STEP_KG)
    sheet.put("landing_mass_kg", "Landing mass", mass, "kg", rule=rule, rounding=f"up to {MASS_STEP_KG:g} kg")
    if fuel.mass_kg > limit:  # what is rounded up for the tables is not held against a limit
        words = f"landing mass {ceil(fuel.mass_kg)} kg, above the limit of {limit:.0f} kg"
        sheet.warn("mass", words, no_landing=True)
    rule = "flow by phase over the time of the path"
    sheet.put("burn_kg", "Fuel to the landing", fuel.path_kg, "kg", rule=rule, rounding=_UP)
    rule = "fuel now less all that is burnt"
    sheet.put("landing_fuel_kg", "Fuel at the landing", fuel.landing_kg, "kg", rule=rule, rounding="down to 1 kg")
    rule = "reserves and the fuel to the landing"
    sheet.put("leave_kg", "Fuel at which to leave", fuel.leave_kg, "kg", rule=rule, rounding=_UP)
    rule = "fuel at the landing less reserves, at holding flow; after any laps planned"
    sheet.put("hold_left_min", "Time left to hold", max(0.0, fuel.left_min), "min", rule=rule, rounding="down to 1 min")
    rule = "path, hold included"
    sheet.put("to_landing_min", "Time to the landing", fuel.minutes, "min", rule=rule, rounding="1 min")
    if fuel.landing_kg <= 0:
        sheet.warn("fuel", "the fuel does not reach the runway", no_landing=True)
    elif fuel.landing_kg < fuel.reserve_kg:
        short = fuel.reserve_kg - fuel.landing_kg
        sheet.warn("fuel", f"{short:.0f} kg short of the reserves at the landing; the alternate is gone")


def _hold_speed(bench: Bench) -> None:
    """Neither faster than the rules allow nor slower than the clean aeroplane may be flown."""
    hold, sheet, aircraft = bench.arrival.hold, bench.sheet, bench.arrival.aircraft
    assert hold is not None
    limit = fastest_kt(hold.altitude_ft)
    sheet.put("hold_limit_kt", "Fastest in the hold", limit, "kt", rule="ICAO Doc 8168, one edition (reproduced)")
    if hold.speed_kt > limit:
        sheet.warn("speed", f"{hold.speed_kt:.0f} kt in the hold, above {limit:.0f} kt")
    least = minimum_kt(aircraft, aircraft.flaps[0], bench.arrival.start.mass_kg)
    if hold.speed_kt < least:
        sheet.warn("speed", f"{hold.speed_kt:.0f} kt in the hold, below the minimum of {least} kt with flap up")


def _laps(bench: Bench, found: list[Fuel]) -> None:
    hold, air, sheet = bench.arrival.hold, bench.air, bench.sheet
    assert hold is not None
    if air is None:
        raise Unknown("a lap needs pressure and temperature, which are not known")
    minutes = lap_of(hold, air)
    rule = "two legs, two turns at 25 deg or 3 deg/s, in still air"
    sheet.put("lap_min", "A lap takes", minutes, "min", rule=rule, rounding="0.1 min")
    if not found:
        raise Unknown("laps left need the fuel at the landing, which is not known")
    laps = int(max(0.0, found[0].left_min) / minutes)
    sheet.put("laps_left", "Laps left", laps, "", rule="time left to hold by the time of a lap", rounding="down")


def _path(bench: Bench) -> None:
    """Where things begin, and whether speeds and flaps fit."""
    sheet, arrival, profile = bench.sheet, bench.arrival, bench.profile
    if profile is None or bench.mass_kg is None or bench.approach_kt is None:
        raise Unknown("needs mass and approach speed, which are not known")
    top = profile.top
    rule = "path integrated from the threshold outward, wind by height, idle descent"
    sheet.put("top_of_descent_nm", "Begin the descent at", top.distance_nm, "NM", rule=rule, rounding="0.1 NM")
    for words in flap_conflicts(arrival.aircraft, profile, bench.mass_kg, bench.approach_kt):
        sheet.warn("flap_speed", words)
    here = arrival.start.distance_nm
    if arrival.hold is not None:
        _left_high(bench, profile)
    elif here < top.distance_nm:
        high = arrival.start.altitude_ft - profile.at(here).altitude_ft
        words = f"the descent should have begun {top.distance_nm - here:.1f} NM ago; {high:.0f} ft above the path"
        sheet.warn("path", words)
    if (angle := arrival.approach.angle_deg) > _steepest(bench):
        words = f"final path of {angle:.2f} deg, steeper than {_steepest(bench):.2f} (AMC4 CAT.OP.MPA.110)"
        sheet.warn("path", words)


def _left_high(bench: Bench, profile: Profile) -> None:
    """A hold nearer than the place where the descent from it should begin is left too high."""
    arrival, hold = bench.arrival, bench.arrival.hold
    assert hold is not None
    fix = next((fix for fix in arrival.approach.fixes if fix.name == hold.fix), None)
    if fix is not None and fix.distance_nm < profile.top.distance_nm:
        high = hold.altitude_ft - profile.at(fix.distance_nm).altitude_ft
        bench.sheet.warn("path", f"leaving the hold at {fix.name} the aeroplane is {high:.0f} ft above the path")


def _steepest(bench: Bench) -> float:
    """The steepest continuous final descent by category: AMC4 CAT.OP.MPA.110 (read)."""
    try:
        slow = reference_kt(bench.arrival.aircraft, bench.arrival.aircraft.limits.landing_mass_kg) < 121
    except OutOfRange:
        slow = False
    return 4.5 if slow else 3.77
