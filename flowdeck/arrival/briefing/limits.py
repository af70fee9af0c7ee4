"""Speeds, stopping distance and minima."""

from flowdeck.arrival.briefing.bench import Bench
from flowdeck.arrival.category import FINAL_KT
from flowdeck.arrival.descent import visual_descent_point_nm
from flowdeck.arrival.minima import category_of_the_day, minimum
from flowdeck.arrival.sheet import Unknown, known
from flowdeck.arrival.speeds import additive_kt, carried_off_kt, minimum_kt, reference_kt
from flowdeck.arrival.stopping import Conditions, Stop, lowest_that_fits, stops


def speeds(bench: Bench) -> None:
    sheet, arrival = bench.sheet, bench.arrival

    def approach() -> None:
        if bench.mass_kg is None or bench.wind is None or bench.approach_kt is None:
            raise Unknown("needs landing mass and wind, which are not known")
        reference = reference_kt(arrival.aircraft, bench.mass_kg)
        rule = f"table of the aircraft at {bench.mass_kg:.0f} kg"
        sheet.put("vref_kt", "Reference speed (VREF)", reference, "kt", rule=rule, rounding="up to 1 kt")
        how = arrival.policy.additive
        added = additive_kt(bench.wind, how)
        rule = (
            f"{how.head_share:g} of {max(0.0, bench.wind.head_kt):.0f} kt headwind and {how.gust_share:g} of "
            f"{bench.wind.gust_kt:.0f} kt gust, {how.floor_kt:g} to {how.cap_kt:g} (operator's rule)"
        )
        sheet.put("additive_kt", "Wind addition", added, "kt", rule=rule, rounding="up to 1 kt")
        sheet.put("approach_kt", "Approach speed", reference + added, "kt", rule="reference speed and addition")

    def flaps() -> None:
        mass = known(bench.mass_kg, "landing mass")
        for flap in arrival.aircraft.flaps[:-1]:
            least = minimum_kt(arrival.aircraft, flap, mass)
            most = "no limit" if flap.limit_kt is None else f"limit {flap.limit_kt:.0f}"
            rule = f"at {mass:.0f} kg, by the square root of mass; {most}"
            name = "Flap up" if flap.flap_deg == 0 else f"Flap {flap.flap_deg:g}"
            key = f"minimum_flap_{flap.flap_deg:g}_kt"
            sheet.put(key, f"{name}, minimum", least, "kt", rule=rule, rounding="up to 1 kt")

    sheet.section("Speeds", approach, flaps)


def stopping(bench: Bench) -> None:
    sheet, arrival = bench.sheet, bench.arrival
    runway, policy = arrival.runway, arrival.policy

    def distance() -> None:
        if bench.wind is None or bench.mass_kg is None:
            raise Unknown("needs wind and landing mass, which are not known")
        day = Conditions(
            mass_kg=bench.mass_kg,
            flap_deg=arrival.aircraft.flaps[-1].flap_deg,
            surface=runway.surface,
            head_kt=bench.wind.head_kt,
            head_share=policy.head_share,
            tail_share=policy.tail_share,
            pressure_altitude_ft=sheet.need("pressure_altitude_ft", "pressure"),
            warm_c=sheet.need("deviation_c", "temperature"),
            fast_kt=carried_off_kt(bench.wind, policy.additive),
            margin=policy.margin,
        )
        found = stops(arrival.aircraft, day)
        chosen = lowest_that_fits(found, runway.landing_distance_m)
        shown = chosen or min(found, key=lambda stop: stop.required_m)
        _shown(bench, shown, chosen is not None, found)

    sheet.section("Landing distance", distance)


def _shown(bench: Bench, stop: Stop, fits: bool, every: tuple[Stop, ...]) -> None:
    sheet, runway, margin = bench.sheet, bench.arrival.runway, bench.arrival.policy.margin
    rule = f"{stop.how}; from 50 ft to a stop, unfactored"
    sheet.put("landing_distance_m", "Distance of the day", stop.day_m, "m", rule=rule, rounding="1 m")
    rule = f"times {margin:g} (operator's margin)"
    sheet.put("landing_required_m", "Distance required", stop.required_m, "m", rule=rule, rounding="up to 1 m")
    sheet.put("landing_available_m", "Distance available", runway.landing_distance_m, "m", rule="published")
    left = runway.landing_distance_m - stop.required_m
    sheet.put("landing_left_m", "Left beyond the margin", left, "m", rule="available less required")
    others = ", ".join(f"{s.brake} {s.required_m:.0f} m" for s in every)
    sheet.put("autobrake", "Autobrake", stop.brake if fits else "none", rule=f"the lowest step that fits: {others}")
    if not fits:
        words = f"runway {runway.name} is {-left:.0f} m too short even with {stop.brake} braking"
        sheet.warn("runway", words, no_landing=True)


def minima(bench: Bench) -> None:
    sheet, arrival = bench.sheet, bench.arrival
    approach, policy = arrival.approach, arrival.policy

    def altitude() -> None:
        certified = reference_kt(arrival.aircraft, arrival.aircraft.limits.landing_mass_kg)
        of = category_of_the_day(certified, bench.approach_kt or certified)
        rule = f"{certified} kt at the maximum landing mass; 14 CFR 97.3"
        sheet.put("category", "Approach category", of, rule=rule)
        slow, fast = FINAL_KT[of]
        flown = bench.approach_kt
        if flown is not None and not slow <= flown <= fast:
            sheet.warn(
                "speed", f"{flown} kt on final; procedures of category {of} are made for {slow:g} to {fast:g} kt"
            )
        if of not in approach.minima:
            sheet.warn("minimum", f"no minimum is published for category {of}", no_landing=True)
            return
        sheet.put("published_ft", "Published minimum", approach.minima[of], "ft", rule=f"chart, category {of}")
        air_c = known(arrival.weather.temperature_c, "temperature, which the correction for cold needs")
        found = minimum(approach, arrival.aerodrome, of, air_c, policy)
        if approach.kind == "non_precision":
            rule = "operator's decision (AMC1 CAT.OP.MPA.115); for the sink in the turn to the climb"
            sheet.put("increment_ft", "Increment", found.increment_ft, "ft", rule=rule)
        rule = f"ICAO Doc 8168 equation at {air_c:g} C" if found.cold_ft else "not needed at this temperature"
        rounding = f"up to {policy.cold_step_ft:g} ft"
        sheet.put("cold_ft", "Correction for cold", found.cold_ft, "ft", rule=rule, rounding=rounding)
        if found.cold_ft:
            sheet.warn("cold", f"{air_c:g} C: every published altitude below is flown with its correction")
        rule = "published, increment and correction; never below the published"
        sheet.put("minimum_ft", "The go-around begins at", found.decided_ft, "ft", rule=rule, rounding="up")
        rule = f"the minimum, up to the next {policy.selector_step_ft:g} ft"
        if approach.kind == "precision":
            rule += "; on a beam the missed-approach altitude may stand there instead"
        sheet.put("minimum_selector_ft", "Altitude selector", found.selector_ft, "ft", rule=rule, rounding="up")
        height = found.decided_ft - found.cold_ft
        point = visual_descent_point_nm(height, arrival.runway.elevation_ft, approach.angle_deg)
        rule = "where the path leaves the minimum, to the touchdown zone (from memory)"
        sheet.put("visual_point_nm", "Runway in sight by", point, "NM", rule=rule, rounding="0.01 NM")
        needed = approach.visibility_m.get(of)
        seen = arrival.weather.visibility_m
        if needed is not None and seen is not None and seen < needed:
            sheet.warn(
                "minimum", f"visibility {seen:.0f} m, below the {needed:.0f} m of category {of}", no_landing=True
            )
        elif needed is not None and seen is None:
            sheet.warn("minimum", f"visibility is not known; category {of} needs {needed:.0f} m")

    sheet.section("Minimum", altitude)
