"""Where the operator's icing condition will hold: total temperature on the planned path, and moisture as reported.

A report has cloud bases and no tops, so moisture is known below and at the base and not above it.
"""

from itertools import pairwise

from msgspec import Struct

from flowdeck.arrival.air import Air
from flowdeck.arrival.airspeeds import total_temperature_c
from flowdeck.arrival.policy import Icing
from flowdeck.arrival.profile import Point, Profile
from flowdeck.arrival.weather import Weather, moisture


class Ice(Struct, frozen=True, kw_only=True):
    """*cold_above_ft*: lowest altitude of the path at which the total temperature is at or below the limit, None if
    nowhere. *base_ft*: lowest cloud, *base_c*: total temperature there. *words*: what to expect."""

    cold_above_ft: float | None
    threshold_c: float
    base_ft: float | None
    base_c: float | None
    words: str


def ice_of(profile: Profile, air: Air, weather: Weather, elevation_ft: float, policy: Icing) -> Ice:
    """The icing condition on the path. Total temperatures at planned speeds, all of the rise measured."""
    temperatures = [(p.altitude_ft, _total_c(air, p)) for p in profile.points]
    cold = _cold_from(temperatures, policy.on_c)
    threshold = temperatures[0][1]
    bases = [cloud.base_ft + elevation_ft for cloud in weather.clouds if cloud.base_ft is not None]
    base = min(bases, default=None)
    base_c = None if base is None else _total_c(air, _point_at_altitude(profile, base))
    wet = moisture(weather, policy.visibility_m)
    return Ice(
        cold_above_ft=cold,
        threshold_c=threshold,
        base_ft=base,
        base_c=base_c,
        words=_words(cold, threshold, base, base_c, wet, policy),
    )


def _cold_from(temperatures: list[tuple[float, float]], on_c: float) -> float | None:
    """Lowest altitude at or below a temperature, by altitudes and temperatures outward; linear between two points."""
    found = [altitude for altitude, total in temperatures if total <= on_c]
    for (near, warm), (far, cold) in pairwise(temperatures):
        if warm > on_c >= cold:
            found.append(near + (far - near) * (warm - on_c) / (warm - cold))
    return min(found, default=None)


def _words(
    cold: float | None, threshold: float, base: float | None, base_c: float | None, wet: bool | None, policy: Icing
) -> str:
    if cold is None:
        return f"nowhere on the path at or below {policy.on_c:g} C total temperature: not expected"
    if wet and threshold <= policy.on_c:
        return "expected down to the runway: cold, and moisture is reported at the surface"
    if base is not None and base_c is not None and base_c <= policy.on_c:
        return f"expected in cloud, from its base at {base:.0f} ft ({base_c:.0f} C) upward; its top is not reported"
    if wet is None:
        return f"possible above {cold:.0f} ft: whether there is moisture is not known"
    return f"in any cloud above {cold:.0f} ft"


def _total_c(air: Air, p: Point) -> float:
    return total_temperature_c(air.temperature_c(p.altitude_ft), air.mach(p.speed_kt, p.altitude_ft))


def _point_at_altitude(profile: Profile, altitude_ft: float) -> Point:
    """The first point of the path, from the threshold out, that is as high; the last when none is."""
    return next((p for p in profile.points if p.altitude_ft >= altitude_ft), profile.points[-1])._replace(
        altitude_ft=altitude_ft
    )
