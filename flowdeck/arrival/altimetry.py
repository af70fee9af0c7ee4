"""Altimeter settings, and what cold does to the heights that an altimeter shows."""

from math import pow

from flowdeck.arrival.atmosphere import (
    FT,
    LAPSE,
    SEA_LEVEL_K,
    TROPOPAUSE_M,
    G,
    R,
    density_kgm3,
    height_ft,
    pressure_hpa,
    temperature_c,
)
from flowdeck.arrival.bounds import rounded_up, within

COLD_LAPSE = 0.00198
"""Degrees C per ft, as ICAO Doc 8168 has it."""
HIGHEST_FT = 5000.0
"""Height to which the correction for cold holds (FAA AIM 7-3-5: no extrapolation beyond the table)."""
_COLD_KELVIN = 273.0
"""As Doc 8168 has it; 273.15 misses cells of its own table."""


def pressure_altitude_ft(altitude_ft: float, qnh_hpa: float) -> float:
    """What an altimeter set to *qnh_hpa* shows as *altitude_ft*, shown with 1013.25 set. Exact in the ISA."""
    return altitude_ft + _setting_ft(qnh_hpa)


def altitude_ft(pressure_altitude: float, qnh_hpa: float) -> float:
    """The altitude (ft) shown with *qnh_hpa* set at a pressure altitude (ft): the inverse of `pressure_altitude_ft`."""
    return pressure_altitude - _setting_ft(qnh_hpa)


def _setting_ft(qnh_hpa: float) -> float:
    """The height in the ISA at which the pressure is the QNH: by so much altitudes stand below pressure altitudes."""
    return height_ft(within("QNH", qnh_hpa, "hPa", 850, 1085))


def qfe_hpa(qnh_hpa: float, elevation_ft: float) -> float:
    """The setting with which an altimeter shows 0 at *elevation_ft*, where *qnh_hpa* shows the elevation."""
    return pressure_hpa(pressure_altitude_ft(within("elevation", elevation_ft, "ft", -1500, 15_000), qnh_hpa))


def density_altitude_ft(pressure_altitude: float, air_c: float) -> float:
    """The height (ft) in the ISA at which the air is as dense; by the gas law, below the tropopause."""
    deviation = air_c - temperature_c(pressure_altitude)
    ratio = density_kgm3(pressure_altitude, deviation) / density_kgm3(0)
    metres = SEA_LEVEL_K / LAPSE * (1 - pow(ratio, 1 / (G / (R * LAPSE) - 1)))
    within("density altitude", metres / FT, "ft", -20_000, TROPOPAUSE_M / FT)
    return metres / FT


def cold_correction_ft(height: float, air_c: float, elevation_ft: float = 0.0) -> float:
    """Feet to add to a published altitude, not rounded; 0 when it is not colder than standard.

    *height*: ft above the source of the altimeter setting (0 to 5000); *air_c*: temperature reported there (-60
    to 60); *elevation_ft*: of that source.
    Source: ICAO Doc 8168 Vol I, temperature corrections, para 4.3 (equation from memory; it gives all 56 cells of
    the table in FAA AIM TBL 7-3-1, reproduced).
    """
    within("height", height, "ft", 0, HIGHEST_FT)
    elevation = within("elevation", elevation_ft, "ft", -1500, 15_000)
    at_sea_level = within("temperature", air_c, "C", -60, 60) + COLD_LAPSE * elevation
    fall = height * (15 - at_sea_level) / (_COLD_KELVIN + at_sea_level - 0.5 * COLD_LAPSE * (height + elevation))
    return max(0.0, fall)


def corrected_minimum_ft(published_ft: float, air_c: float, elevation_ft: float, step_ft: float = 10.0) -> float:
    """A published minimum with its cold correction, rounded up to *step_ft*; never below what is published."""
    correction = cold_correction_ft(published_ft - elevation_ft, air_c, elevation_ft)
    return max(published_ft, rounded_up(published_ft + correction, step_ft)) if correction > 0 else published_ft
