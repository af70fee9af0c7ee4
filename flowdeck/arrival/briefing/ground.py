"""What the ground gives: aids, missed approach, rates on the final path, and the numbers a flight is watched by."""

from collections.abc import Iterator

from flowdeck.arrival.bounds import OutOfRange, rounded_up
from flowdeck.arrival.briefing.bench import Bench
from flowdeck.arrival.descent import gradient_ft_per_nm, rate_fpm
from flowdeck.arrival.lights import white_lights
from flowdeck.arrival.minima import cold_ft
from flowdeck.arrival.sheet import known

_SPEEDS = (100.0, 120.0, 140.0, 160.0, 180.0)


def aids(bench: Bench) -> None:
    sheet, approach = bench.sheet, bench.arrival.approach

    def each() -> None:
        for number, aid in enumerate(approach.aids):
            again = sum(other.ident == aid.ident for other in approach.aids[:number])
            key = f"aid_{aid.ident.lower()}" + (f"_{again + 1}" if again else "")  # a localiser and its DME share one
            rule = "tuned and identified, whatever flies the path: it is the witness that is not our own computer"
            sheet.put(key, f"{aid.kind} {aid.name}", f"{aid.mhz:.2f} {aid.ident}", rule=rule)
        sheet.put("course_deg", "Course", approach.course_deg, "deg mag", rule="as published")
        per_nm = gradient_ft_per_nm(approach.angle_deg)
        sheet.put("angle_deg", "Angle of the final path", approach.angle_deg, "deg", rule="as published")
        sheet.put("gradient_ft_nm", "Feet in a mile", per_nm, "ft/NM", rule="by the tangent", rounding="1 ft")
        papi = approach.papi_deg
        if papi is not None:
            white = white_lights(approach.angle_deg, papi)
            rule = f"lights set for {papi:g} deg, seen on the path (FAA AIM FIG 2-1-5; switches from memory)"
            sheet.put("white_lights", "Lights beside the runway", f"{white} white, {4 - white} red", rule=rule)
        if papi is not None and abs(papi - approach.angle_deg) > 0.2:
            words = f"the lights beside the runway show {papi:g} deg, the path is {approach.angle_deg:g} deg"
            sheet.warn("path", words)

    def checks() -> None:
        policy = bench.arrival.policy
        off = f"{policy.low_ft:.0f} ft low, {policy.high_ft:.0f} ft high"
        rule = "operator's tolerance; a wrong pressure setting does not show in it, since the table is flown by it"
        sheet.put("mile_tolerance", "Altitude at each mile within", off, rule=rule)
        rule = "over known terrain, cold taken out: the one check that does not rest on the pressure setting"
        title = "Altimeter and radio height within"
        sheet.put("radio_tolerance_ft", title, policy.check_altimeter_ft, "ft", rule=rule)

    sheet.section("Aids and path", each, checks)


def missed(bench: Bench) -> None:
    sheet, arrival = bench.sheet, bench.arrival

    def way() -> None:
        sheet.put("missed_published_ft", "Published altitude", arrival.approach.missed_ft, "ft", rule="chart")
        sheet.put("missed", "Path", arrival.approach.missed, rule="chart")

    def altitude() -> None:
        published, step = arrival.approach.missed_ft, arrival.policy.selector_step_ft
        air_c = known(arrival.weather.temperature_c, "temperature, which the correction for cold needs")
        try:
            flown = published + cold_ft(published, arrival.aerodrome, air_c, arrival.policy)
            rule = "published, corrected for cold"
        except OutOfRange:
            flown, rule = published, "published; the correction for cold has no figure so high or so cold"
            sheet.warn("cold", f"missed approach: {rule}")
        sheet.put(
            "missed_ft", "Altitude selector", rounded_up(flown, step), "ft", rule=rule, rounding=f"up to {step:g} ft"
        )

    sheet.section("Missed approach", way, altitude)


def rates(bench: Bench) -> Iterator[tuple[float, float, bool]]:
    """Ground speed, rate of descent on the final path, and whether it is the planned one. By the sine, to 10 ft/min."""
    angle = bench.arrival.approach.angle_deg
    own = None
    if bench.air is not None and bench.approach_kt is not None:
        height = bench.arrival.aerodrome.elevation_ft + bench.arrival.policy.gate.height_ft
        try:
            tas = bench.air.tas_kt(bench.approach_kt, height)
            own = bench.air.ground_kt(tas, height, bench.course_true_deg)
        except OutOfRange:
            own = None
    others = [kt for kt in _SPEEDS if own is None or round(kt) != round(own)]
    for kt in sorted([*others, *(() if own is None else (own,))]):
        yield kt, rate_fpm(angle, kt), kt == own


_PLANNED = {
    "planned_vref_kt": "vref_kt",
    "planned_approach_kt": "approach_kt",
    "planned_minimum_ft": "minimum_ft",
    "planned_minimum_selector_ft": "minimum_selector_ft",
    "planned_missed_ft": "missed_ft",
    "planned_landing_distance_m": "landing_required_m",
    "planned_landing_mass_kg": "landing_mass_kg",
}


def planned(bench: Bench) -> dict[str, float]:
    """The numbers by which a flight is watched, named as the signals that carry them; only those that are known."""
    arrival, sheet = bench.arrival, bench.sheet
    found: dict[str, float] = {}
    figures = {figure.key: figure.value for section in sheet.sections for figure in section.figures}
    for name, key in _PLANNED.items():
        value = figures.get(key)
        if isinstance(value, (int, float)):
            found[name] = float(round(value))
    if isinstance(reserve := figures.get("reserve_kg"), float):
        found["planned_alternate_fuel_kg"] = rounded_up(reserve, 10.0)
    final = arrival.approach.final.at_least_ft
    air_c = arrival.weather.temperature_c
    if final is not None and air_c is not None:
        try:
            found["planned_fix_ft"] = final + cold_ft(final, arrival.aerodrome, air_c, arrival.policy)
        except OutOfRange as beyond:
            sheet.warn("cold", f"{arrival.approach.final_fix}: its altitude has no correction; {beyond}")
    found["planned_runway_deg"] = arrival.runway.course_deg
    found["planned_course_deg"] = arrival.approach.course_deg
    if arrival.approach.aids:
        found["planned_aid_mhz"] = arrival.approach.aids[0].mhz
    found["transition_level_ft"] = arrival.aerodrome.transition_level_ft
    found["field_elevation_ft"] = arrival.aerodrome.elevation_ft
    return found
