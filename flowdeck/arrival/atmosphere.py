"""The International Standard Atmosphere, its lower two layers, by geopotential height.

Source: ICAO Doc 7488, the same as the US Standard Atmosphere 1976 up to 32 km. Heights in ft, temperatures in
degrees C, pressures in hPa. *deviation_c*: the day's difference to standard, the same at every height.
"""

from math import exp, log, pow, sqrt

from flowdeck.arrival.bounds import within

G = 9.80665
"""m/s2, standard."""
R = 287.05287
"""J/(kg K), of dry air."""
GAMMA = 1.4
FT = 0.3048
"""m."""
NM = 1852.0
"""m."""
KELVIN = 273.15
SEA_LEVEL_HPA = 1013.25
SEA_LEVEL_K = 288.15
LAPSE = 0.0065
"""K/m below the tropopause."""
TROPOPAUSE_M = 11_000.0
_LOWEST_FT, _HIGHEST_FT = -2000.0, 60_000.0
_TROPOPAUSE_K = SEA_LEVEL_K - LAPSE * TROPOPAUSE_M
_EXPONENT = G / (R * LAPSE)
_TROPOPAUSE_HPA = SEA_LEVEL_HPA * pow(_TROPOPAUSE_K / SEA_LEVEL_K, _EXPONENT)


def temperature_c(height_ft: float, deviation_c: float = 0.0) -> float:
    """Air temperature at *height_ft* (-2000 to 60 000). Raises `OutOfRange`."""
    metres = within("height", height_ft, "ft", _LOWEST_FT, _HIGHEST_FT) * FT
    return SEA_LEVEL_K - LAPSE * min(metres, TROPOPAUSE_M) - KELVIN + within("deviation", deviation_c, "C", -80, 80)


def pressure_hpa(height_ft: float) -> float:
    """Static pressure at pressure height *height_ft* (-2000 to 60 000). Raises `OutOfRange`."""
    metres = within("height", height_ft, "ft", _LOWEST_FT, _HIGHEST_FT) * FT
    if metres <= TROPOPAUSE_M:
        return SEA_LEVEL_HPA * pow(1 - LAPSE * metres / SEA_LEVEL_K, _EXPONENT)
    return _TROPOPAUSE_HPA * exp(-G * (metres - TROPOPAUSE_M) / (R * _TROPOPAUSE_K))


def height_ft(pressure: float) -> float:
    """Pressure height (ft) at which the standard pressure is *pressure* hPa: the inverse of `pressure_hpa`."""
    lowest, highest = pressure_hpa(_HIGHEST_FT), pressure_hpa(_LOWEST_FT)
    within("pressure", pressure, "hPa", lowest, highest)
    if pressure >= _TROPOPAUSE_HPA:
        return SEA_LEVEL_K / LAPSE * (1 - pow(pressure / SEA_LEVEL_HPA, 1 / _EXPONENT)) / FT
    return (TROPOPAUSE_M - R * _TROPOPAUSE_K / G * log(pressure / _TROPOPAUSE_HPA)) / FT


def density_kgm3(height_ft: float, deviation_c: float = 0.0) -> float:
    """Density of dry air (kg/m3) at pressure height *height_ft*."""
    return pressure_hpa(height_ft) * 100 / (R * (temperature_c(height_ft, deviation_c) + KELVIN))


def sound_kt(air_c: float) -> float:
    """Speed of sound (kt) in air of *air_c*."""
    return sqrt(GAMMA * R * (within("temperature", air_c, "C", -120, 80) + KELVIN)) * 3600 / NM
