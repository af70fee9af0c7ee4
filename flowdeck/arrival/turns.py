"""Turns in level flight: rate and radius by bank and true airspeed."""

from math import degrees, pi, radians, tan

from flowdeck.arrival.atmosphere import NM, G
from flowdeck.arrival.bounds import within


def rate_deg_s(tas_kt: float, bank_deg: float, most: float = 3.0) -> float:
    """Rate of turn (deg/s), at most *most*: procedures take 25 deg of bank or 3 deg/s, whichever is less (Doc 8168)."""
    speed = within("TAS", tas_kt, "kt", 1, 700) * NM / 3600
    return min(most, degrees(G * tan(radians(within("bank", bank_deg, "deg", 0.1, 60))) / speed))


def radius_nm(tas_kt: float, bank_deg: float, most: float = 3.0) -> float:
    """Radius of turn (NM) at that rate."""
    return tas_kt / (20 * pi * rate_deg_s(tas_kt, bank_deg, most))
