"""Speeds, stopping distance and minima."""

from flowdeck.arrival.briefing.bench import Bench
from flowdeck.arrival.category import FINAL_KT, Category, category
from flowdeck.arrival.descent import gradient_ft_per_nm, visual_descent_point_nm
from flowdeck.arrival.minima import category_of_the_day, minimum
from flowdeck.arrival.sheet import Unknown, known
from flowdeck.arrival.speeds import additive_kt, carried_off_kt, minimum_kt, reference_kt
from flowdeck.arrival.stopping import Conditions, Stop, lowest_that_fits, stops
from flowdeck.arrival.weather import ceiling_ft


def speeds(bench: Bench) -> None:
    sheet, arrival = bench.sheet, bench.arrival

    def reference() -> None:
        if bench.mass_kg is None:
            raise Unknown("needs the landing mass, which is not known")
        kt = reference_kt(arrival.aircraft, bench.mass_kg)
        rule = f"table of the aircraft at {bench.mass_kg:.0f} kg"
        sheet.put("vref_kt", "Reference speed (VREF)", kt, "kt", rule=rule, rounding="up to 1 kt")

    def addition() -> None:
        if bench.wind is None:
            raise Unknown("needs the wind, which is not known")
        how = arrival.policy.additive
        rule = (
            f"{how.head_share:g} of {max(0.0, bench.wind.head_kt):.0f} kt headwind and {how.gust_share:g} of "
            f"{bench.wind.gust_kt:.0f} kt gust, {how.floor_kt:g} to {how.cap_kt:g} (operator's rule)"
        )
        added = additive_kt(bench.wind, how)
        sheet.put("additive_kt", "Wind addition", added, "kt", rule=rule, rounding="up to 1 kt")
        total = sheet.need("vref_kt", "reference speed") + added
        sheet.put("approach_kt", "Approach speed", total, "kt", rule="reference speed and addition")

    def flaps() -> None:
        mass = known(bench.mass_kg, "landing mass")
        for flap in arrival.aircraft.flaps[:-1]:
            least = minimum_kt(arrival.aircraft, flap, mass)
            most = "no limit" if flap.limit_kt is None else f"limit {flap.limit_kt:.0f}"
            rule = f"at {mass:.0f} kg, by the square root of mass; {most}"
            name = "Flap up" if flap.flap_deg == 0 else f"Flap {flap.flap_deg:g}"
            key = f"minimum_flap_{flap.flap_deg:g}_kt"
            sheet.put(key, f"{name}, minimum", least, "kt", rule=rule, rounding="up to 1 kt")

    sheet.section("Speeds", reference, addition, flaps)


def stopping(bench: Bench) -> None:
    sheet, arrival = bench.sheet, bench.arrival
    runway, policy = arrival.runway, arrival.policy

    def available() -> None:
        metres = runway.landing_distance_m
        sheet.put("landing_available_m", "Distance available", metres, "m", rule="published")

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

    sheet.section("Landing distance", available, distance)


def _shown(bench: Bench, stop: Stop, fits: bool, every: tuple[Stop, ...]) -> None:
    sheet, runway, margin = bench.sheet, bench.arrival.runway, bench.arrival.policy.margin
    rule = f"{stop.how}; from 50 ft to a stop, unfactored"
    sheet.put("landing_distance_m", "Distance of the day", stop.day_m, "m", rule=rule, rounding="1 m")
    rule = f"times {margin:g} (operator's margin)"
    sheet.put("landing_required_m", "Distance required", stop.required_m, "m", rule=rule, rounding="up to 1 m")
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

    def of_category() -> None:
        certified = reference_kt(arrival.aircraft, arrival.aircraft.limits.landing_mass_kg)
        if bench.approach_kt is None:
            _seen(bench, category(certified))  # it can only be that one or a higher one, which needs no less
            raise Unknown("the category needs the approach speed, which is not known")
        of = category_of_the_day(certified, bench.approach_kt)
        rule = f"{certified} kt at the maximum landing mass; 14 CFR 97.3"
        sheet.put("category", "Approach category", of, rule=rule)
        slow, fast = FINAL_KT[of]
        if not slow <= bench.approach_kt <= fast:
            made = f"procedures of category {of} are made for {slow:g} to {fast:g} kt"
            sheet.warn("speed", f"{bench.approach_kt} kt on final; {made}")
        if of not in approach.minima:
            sheet.warn("minimum", f"no minimum is published for category {of}", no_landing=True)
            return
        sheet.put("published_ft", "Published minimum", approach.minima[of], "ft", rule=f"chart, category {of}")
        _seen(bench, of)
        found.append(of)

    def increment() -> None:
        if approach.kind == "non_precision":
            rule = "operator's decision (AMC1 CAT.OP.MPA.115); for the sink in the turn to the climb"
            sheet.put("increment_ft", "Increment", policy.increment_ft, "ft", rule=rule)

    def altitude() -> None:
        if found:
            _decided(bench, found[0])

    found: list[Category] = []
    sheet.section("Minimum", of_category, increment, altitude)


def _seen(bench: Bench, of: Category) -> None:
    """The visibility of the day against what the category needs; a runway visual range counts in its place.

    That it does is from memory.
    """
    needed = bench.arrival.approach.visibility_m.get(of)
    runway, weather = bench.arrival.runway.name, bench.arrival.weather
    ranges = [metres for name, metres in weather.runway_ranges if name == runway]
    seen, what = (min(ranges), "runway visual range") if ranges else (weather.visibility_m, "visibility")
    if needed is None:
        return
    if seen is None:
        bench.sheet.warn("minimum", f"visibility is not known; category {of} needs {needed:.0f} m")
    elif seen < needed:
        words = f"{what} {seen:.0f} m, below the {needed:.0f} m of category {of}"
        bench.sheet.warn("minimum", words, no_landing=True)


def _below_cloud(bench: Bench, minimum_ft: float) -> None:
    """A ceiling forbids no approach, but whoever flies it wants to know that the runway may not come in sight."""
    ceiling, field = ceiling_ft(bench.arrival.weather), bench.arrival.aerodrome.elevation_ft
    if ceiling is not None and ceiling + field < minimum_ft:
        words = f"ceiling {ceiling:.0f} ft, the minimum is {minimum_ft - field:.0f} ft above the aerodrome"
        bench.sheet.warn("minimum", words)


def _decided(bench: Bench, of: Category) -> None:
    """The altitude at which the go-around begins."""
    sheet, arrival = bench.sheet, bench.arrival
    approach, policy = arrival.approach, arrival.policy
    air_c = known(arrival.weather.temperature_c, "temperature, which the correction for cold needs")
    found = minimum(approach, arrival.aerodrome, of, air_c, policy)
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
    flown = found.decided_ft - found.cold_ft
    _below_cloud(bench, flown)
    threshold = arrival.runway.elevation_ft
    met = (flown - threshold - approach.crossing_ft) / gradient_ft_per_nm(approach.angle_deg)
    rule = "where the path flown meets the altitude of the go-around, to the threshold"
    sheet.put("minimum_nm", "It is met at", max(0.0, met), "NM", rule=rule, rounding="0.01 NM")
    if approach.kind == "precision":
        return  # nothing need be seen before the minimum
    point = visual_descent_point_nm(flown, threshold, approach.angle_deg)
    rule = "visual descent point: height above the touchdown zone by the gradient, down to the ground (from memory)"
    sheet.put("visual_point_nm", "Runway in sight by", point, "NM", rule=rule, rounding="0.01 NM")
