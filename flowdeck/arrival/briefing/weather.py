"""Weather of the arrival: what is reported, the wind on the runway, pressure and temperature, ice."""

from math import ceil

from flowdeck.arrival.altimetry import density_altitude_ft, pressure_altitude_ft, qfe_hpa
from flowdeck.arrival.atmosphere import temperature_c
from flowdeck.arrival.briefing.bench import Bench
from flowdeck.arrival.expected import air_of
from flowdeck.arrival.ice import ice_of
from flowdeck.arrival.sheet import Unknown, known
from flowdeck.arrival.speeds import Wind
from flowdeck.arrival.weather import Weather, ceiling_ft, ceiling_is_unknown
from flowdeck.arrival.wind import Components, components

_DOWN = "down to 1 hPa"
"""A setting too high shows more height than there is (from memory: ICAO Annex 3 rounds a reported QNH down)."""


def reported(bench: Bench) -> None:
    report, field = bench.arrival.weather, bench.arrival.aerodrome
    sheet = bench.sheet
    for group in report.unread:
        sheet.warn("unread", f"weather: '{group}' could not be read; what it says is not known")
    for name in report.missing:
        sheet.warn("missing", f"weather: no {name} in the report")

    def text() -> None:
        if report.text:  # weather, runway visual range and low cloud in the station's own words
            sheet.put("report", "Report", report.text, rule="as received; winds true")

    def pressure() -> None:
        qnh = known(report.qnh_hpa, "pressure")
        sheet.put("qnh_hpa", "Pressure (QNH)", qnh, "hPa", rule="as reported", rounding=_DOWN)
        rule = "the setting that shows 0 at the aerodrome; ISA (ICAO Doc 7488)"
        sheet.put(
            "qfe_hpa",
            "Pressure at the aerodrome (QFE)",
            qfe_hpa(qnh, field.elevation_ft),
            "hPa",
            rule=rule,
            rounding=_DOWN,
        )
        height = pressure_altitude_ft(field.elevation_ft, qnh)
        sheet.put("pressure_altitude_ft", "Pressure altitude of the aerodrome", height, "ft", rule="ISA from QNH")

    def temperature() -> None:
        air_c = known(report.temperature_c, "temperature")
        sheet.put("temperature_c", "Temperature", air_c, "C", rule="as reported")
        height = sheet.need("pressure_altitude_ft", "pressure")
        warm = air_c - temperature_c(height)
        sheet.put("deviation_c", "Deviation from ISA", warm, "C", rule="reported less ISA at the pressure altitude")
        rule = "height in the ISA at which air is as dense; gas law"
        sheet.put("density_altitude_ft", "Density altitude", density_altitude_ft(height, air_c), "ft", rule=rule)
        bench.air = air_of(bench.arrival)

    def sight() -> None:
        metres = known(report.visibility_m, "visibility")
        rule = "as reported; it stands for 10 km or more" if metres >= 9999 else "as reported"
        sheet.put("visibility_m", "Visibility", metres, "m", rule=rule)

    def clouds() -> None:
        if ceiling_is_unknown(report):
            raise Unknown("the base of the cloud is not known")
        ceiling = ceiling_ft(report)
        if ceiling is not None:
            sheet.put("ceiling_ft", "Ceiling above the aerodrome", ceiling, "ft", rule="lowest cloud over half the sky")

    sheet.section("Weather", text, pressure, temperature, sight, clouds)


def wind(bench: Bench) -> None:
    report, sheet, limits = bench.arrival.weather, bench.sheet, bench.arrival.aircraft.limits

    def parts() -> None:
        speed = known(report.wind_kt, "wind")
        gust = report.gust_kt if report.gust_kt is not None else speed
        if report.wind_variable or (report.wind_from_deg is None and speed == 0):
            head, cross = (-speed if speed else 0.0), speed
            peak = Components(-gust, gust)
            how = "a variable wind is taken as all from behind, and all across"
        else:
            from_deg = known(report.wind_from_deg, "wind direction")
            head, cross = components(from_deg, speed, bench.course_true_deg)
            peak = _worst(report, from_deg, gust, bench.course_true_deg)
            how = f"{report.wind_from_deg:03.0f} true at {speed:.0f} kt on {bench.course_true_deg:03.0f} true"
        bench.wind = Wind(head, cross, max(0.0, gust - speed))
        key, title = ("headwind_kt", "Headwind") if head >= 0 else ("tailwind_kt", "Tailwind")
        sheet.put(key, title, abs(head), "kt", rule=how, rounding="1 kt")
        side = "right" if cross > 0 else "left"
        title = "Crosswind" if report.wind_variable else f"Crosswind from the {side}"
        sheet.put(
            "crosswind_kt", title, abs(cross), "kt", rule=f"{how}; limit {limits.crosswind_kt:g}", rounding="1 kt"
        )
        gusty = " with the gust" if gust > speed else ""
        gusty += ", the direction varying" if report.wind_between_deg else ""
        if abs(peak.cross_kt) > limits.crosswind_kt:
            words = f"crosswind {ceil(abs(peak.cross_kt))} kt{gusty}, above the limit of {limits.crosswind_kt:g} kt"
            sheet.warn("wind", words, no_landing=abs(cross) > limits.crosswind_kt)
        if -peak.head_kt > limits.tailwind_kt:
            words = f"tailwind {ceil(-peak.head_kt)} kt{gusty}, above the limit of {limits.tailwind_kt:g} kt"
            sheet.warn("wind", words, no_landing=-head > limits.tailwind_kt and not report.wind_variable)

    sheet.section(f"Wind on runway {bench.arrival.runway.name}", parts)


def _worst(report: Weather, from_deg: float, kt: float, course_deg: float) -> Components:
    """The least headwind and the most crosswind of a wind whose direction varies, whole degree by whole degree."""
    if report.wind_between_deg is None:
        return components(from_deg, kt, course_deg)
    first, last = report.wind_between_deg
    found = [components((first + turn) % 360, kt, course_deg) for turn in range(int((last - first) % 360) + 1)]
    return Components(min(each.head_kt for each in found), max((each.cross_kt for each in found), key=abs))


def icing(bench: Bench) -> None:
    sheet, policy = bench.sheet, bench.arrival.policy.icing

    def ice() -> None:
        if bench.profile is None or bench.air is None:
            raise Unknown("needs the path, which is not known")
        elevation = bench.arrival.aerodrome.elevation_ft
        found = ice_of(bench.profile, bench.air, bench.arrival.weather, elevation, policy)
        rule = f"total temperature at or below {policy.on_c:g} C and visible moisture (operator's rule)"
        sheet.put("icing", "Engine anti-ice", found.words, rule=rule)
        if found.cold_above_ft is not None:
            title = f"Total temperature {policy.on_c:g} C or less from"
            how = "planned speeds, TAT = SAT (1 + 0.2 M2)"
            sheet.put("cold_above_ft", title, found.cold_above_ft, "ft", rule=how)

    sheet.section("Ice", ice)
