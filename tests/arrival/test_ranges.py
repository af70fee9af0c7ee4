"""Each field's physical range: its ends are taken, and just beyond them the field, the unit and the range are named."""

import re
from collections.abc import Callable

import pytest

from flowdeck.arrival import airspeeds, altimetry, atmosphere, category, descent, geodesy, landing, turns, wind
from flowdeck.arrival.bounds import OutOfRange
from flowdeck.arrival.geodesy import Point

HERE = Point(46.0, 6.0)
Call = Callable[[float], object]
RANGES: list[tuple[str, Call, float, float, str]] = [
    ("height", atmosphere.temperature_c, -2000, 60_000, "ft"),
    ("deviation", lambda v: atmosphere.temperature_c(0, v), -80, 80, "C"),
    ("height", atmosphere.pressure_hpa, -2000, 60_000, "ft"),
    ("temperature", atmosphere.sound_kt, -120, 80, "C"),
    ("QNH", lambda v: altimetry.pressure_altitude_ft(0, v), 850, 1085, "hPa"),
    ("elevation", lambda v: altimetry.qfe_hpa(1013.25, v), -1500, 15_000, "ft"),
    ("height", lambda v: altimetry.cold_correction_ft(v, -10), 0, 5000, "ft"),
    ("temperature", lambda v: altimetry.cold_correction_ft(1000, v), -60, 60, "C"),
    ("elevation", lambda v: altimetry.cold_correction_ft(1000, -10, v), -1500, 15_000, "ft"),
    ("CAS", lambda v: airspeeds.mach_of_cas(v, 0), 0, 500, "kt"),
    ("Mach", lambda v: airspeeds.cas_of_mach(v, 0), 0, 1, ""),
    ("Mach", lambda v: airspeeds.tas_of_mach(v, 0), 0, 1, ""),
    ("recovery", lambda v: airspeeds.total_temperature_c(0, 0.5, v), 0, 1, ""),
    ("Mach", lambda v: airspeeds.total_temperature_c(0, v), 0, 1, ""),
    ("altitude", lambda v: airspeeds.procedure_tas_kt(200, v), 0, 25_000, "ft"),
    ("IAS", lambda v: airspeeds.procedure_tas_kt(v, 5000), 0, 500, "kt"),
    ("wind", lambda v: wind.components(0, v, 0), 0, 250, "kt"),
    ("TAS", lambda v: wind.keep_track(0, v, 0, 0), 1, 700, "kt"),
    ("angle", descent.gradient_ft_per_nm, 0, 15, "deg"),
    ("gradient", descent.angle_deg, 0, 1630, "ft/NM"),
    ("speed", lambda v: descent.rate_fpm(3, v), 0, 400, "kt"),
    ("angle", lambda v: descent.rate_fpm(v, 140), 0, 15, "deg"),
    ("distance", lambda v: descent.path_altitude_ft(v, 3, 0), 0, 100, "NM"),
    ("height of the minimum", lambda v: descent.visual_descent_point_nm(v, 0), 0, 10_000, "ft"),
    ("TAS", lambda v: turns.rate_deg_s(v, 25), 1, 700, "kt"),
    ("bank", lambda v: turns.rate_deg_s(200, v), 0.1, 60, "deg"),
    ("landing distance", landing.required_m, 1, 10_000, "m"),
    ("factor", lambda v: landing.required_m(1000, v), 1, 5, ""),
    ("landing distance available", lambda v: landing.margin_m(v, 1000), 1, 10_000, "m"),
    ("latitude", lambda v: geodesy.line(Point(v, 0), HERE), -90, 90, "deg"),
    ("longitude", lambda v: geodesy.line(Point(0, v), HERE), -360, 360, "deg"),
    ("distance", lambda v: geodesy.point(HERE, 0, v), -21_700, 21_700, "NM"),
]
"""What it is called, how it is given, from where to where, in what unit: physical sense, common practice, no source."""


@pytest.mark.parametrize(("name", "call", "low", "high", "unit"), RANGES)
def test_the_ends_of_a_range(name: str, call: Call, low: float, high: float, unit: str) -> None:
    call(low)
    call(high)
    for beyond in (low - 0.01, high + 0.01):
        said = re.escape(f"{name}: expected {low:g} to {high:g} {unit}, found {beyond:g}")
        with pytest.raises(OutOfRange, match=f"^{said}$"):
            call(beyond)


def test_what_is_meant_when_nothing_is_said() -> None:
    """All of the total temperature is measured; the path is 3 degrees; a path ends 50 ft over the threshold."""
    assert airspeeds.total_temperature_c(-10, 0.5) == airspeeds.total_temperature_c(-10, 0.5, 1.0)
    assert descent.visual_descent_point_nm(400, 0) == descent.visual_descent_point_nm(400, 0, 3.0)
    assert descent.path_altitude_ft(2, 3, 0) == descent.path_altitude_ft(2, 3, 0, 50)
    assert category.category(100) == "B"


def test_a_point_too_far_beside_a_line() -> None:
    with pytest.raises(OutOfRange, match=r"^offset: expected a point within 1000 NM of the start$"):
        geodesy.offset(HERE, 90, Point(0, 50))


def test_the_slowest_category_begins_at_thirty_knots() -> None:
    assert category.category(30) == "A"
    with pytest.raises(OutOfRange, match=r"^reference speed: expected 30 to 211 kt, found 29\.9$"):
        category.category(29.9)
