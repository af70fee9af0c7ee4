"""Calibrated and true airspeed, Mach, total temperature: the subsonic compressible relations of the ISA."""

from math import pow, sqrt

from flowdeck.arrival.atmosphere import KELVIN, SEA_LEVEL_HPA, SEA_LEVEL_K, pressure_hpa, sound_kt, temperature_c
from flowdeck.arrival.bounds import within

_SOUND_KT = sound_kt(SEA_LEVEL_K - KELVIN)


def mach_of_cas(cas_kt: float, pressure_altitude_ft: float) -> float:
    """Mach number at a calibrated airspeed (0 to 500 kt). Raises `OutOfRange`, also where it would be above 1."""
    impact = SEA_LEVEL_HPA * ((1 + 0.2 * (within("CAS", cas_kt, "kt", 0, 500) / _SOUND_KT) ** 2) ** 3.5 - 1)
    mach = sqrt(5 * ((impact / pressure_hpa(pressure_altitude_ft) + 1) ** (2 / 7) - 1))
    return within("Mach", mach, "", 0, 1)


def cas_of_mach(mach: float, pressure_altitude_ft: float) -> float:
    """Calibrated airspeed (kt) at a Mach number (0 to 1): the inverse of `mach_of_cas`."""
    impact = pressure_hpa(pressure_altitude_ft) * ((1 + 0.2 * within("Mach", mach, "", 0, 1) ** 2) ** 3.5 - 1)
    return _SOUND_KT * sqrt(5 * ((impact / SEA_LEVEL_HPA + 1) ** (2 / 7) - 1))


def tas_of_mach(mach: float, air_c: float) -> float:
    """True airspeed (kt) at a Mach number in air of *air_c*."""
    return within("Mach", mach, "", 0, 1) * sound_kt(air_c)


def tas_of_cas(cas_kt: float, pressure_altitude_ft: float, deviation_c: float = 0.0) -> float:
    """True airspeed (kt) at a calibrated one; *deviation_c* of the day from the ISA."""
    air_c = temperature_c(pressure_altitude_ft, deviation_c)
    return tas_of_mach(mach_of_cas(cas_kt, pressure_altitude_ft), air_c)


def cas_of_tas(tas_kt: float, pressure_altitude_ft: float, deviation_c: float = 0.0) -> float:
    """Calibrated airspeed (kt) at a true one: the inverse of `tas_of_cas`."""
    sound = sound_kt(temperature_c(pressure_altitude_ft, deviation_c))
    return cas_of_mach(within("TAS", tas_kt, "kt", 0, sound) / sound, pressure_altitude_ft)


def total_temperature_c(air_c: float, mach: float, recovery: float = 1.0) -> float:
    """Total air temperature: of air of *air_c* brought to rest at *mach* (0 to 1), of which *recovery* is measured."""
    share = within("recovery", recovery, "", 0, 1)
    return (air_c + KELVIN) * (1 + 0.2 * share * within("Mach", mach, "", 0, 1) ** 2) - KELVIN


def procedure_tas_kt(ias_kt: float, altitude_ft: float, deviation_c: float = 15.0) -> float:
    """True airspeed (kt) for the design of procedures; compressibility is left out.

    Source: ICAO Doc 8168 Vol II, conversion of IAS to TAS (formula reproduced).
    """
    altitude = within("altitude", altitude_ft, "ft", 0, 25_000)
    factor = 171233 * sqrt(288 + deviation_c - 0.00198 * altitude) / pow(288 - 0.00198 * altitude, 2.628)
    return within("IAS", ias_kt, "kt", 0, 500) * factor
