"""What the weather of an arrival makes of the surroundings of a flight."""

from math import floor

from flowdeck.arrival.plan import Arrival
from flowdeck.arrival.weather import precipitation
from flowdeck.arrival.wind import components

_FAR_M = 9999.0


def surroundings_of(arrival: Arrival) -> dict[str, float | bool | str]:
    """Only what the report tells, by the names of `model.scenario.SURROUNDINGS`; cloud heights above sea level.

    A variable wind is one from behind, as in the brief.
    """
    weather = arrival.weather
    found: dict[str, float | bool | str] = {"precipitation": precipitation(weather)}
    if weather.qnh_hpa is not None:
        found["pressure_reported_hpa"] = float(floor(weather.qnh_hpa))  # a setting is never rounded up
    if weather.temperature_c is not None:
        found["surface_temperature_c"] = weather.temperature_c
    if weather.visibility_m is not None:
        found["visibility_m"] = min(weather.visibility_m, _FAR_M)
    bases = [cloud.base_ft for cloud in weather.clouds if cloud.base_ft is not None]
    if bases:
        found["cloud_base_ft"] = min(bases) + arrival.aerodrome.elevation_ft
    if weather.wind_kt is not None and weather.wind_from_deg is not None:
        course = arrival.runway.course_deg + arrival.aerodrome.variation_deg
        found["headwind_kt"] = round(components(weather.wind_from_deg, weather.wind_kt, course).head_kt, 1)
    elif weather.wind_kt is not None:
        found["headwind_kt"] = -weather.wind_kt
    return found
