"""Wind along and across a runway or track. Directions in degrees, from where the wind blows; speeds in kt."""

from math import asin, cos, degrees, radians, sin, sqrt
from typing import NamedTuple

from flowdeck.arrival.bounds import OutOfRange, within


class Components(NamedTuple):
    """*head_kt* is negative with the wind from behind, *cross_kt* with the wind from the left."""

    head_kt: float
    cross_kt: float


class Track(NamedTuple):
    """What must be steered to keep a track, and how fast it goes over the ground."""

    heading_deg: float
    drift_deg: float
    ground_kt: float


def components(from_deg: float, wind_kt: float, track_deg: float) -> Components:
    """The parts of a wind (0 to 250 kt) along and across a track. True with true, or magnetic with magnetic."""
    speed = within("wind", wind_kt, "kt", 0, 250)
    angle = radians(from_deg - track_deg)
    return Components(speed * cos(angle), speed * sin(angle))


def keep_track(track_deg: float, tas_kt: float, from_deg: float, wind_kt: float) -> Track:
    """Heading, drift (heading to track, positive to the right) and ground speed on a track.

    Raises `OutOfRange` when the wind across is as strong as the airspeed.
    """
    wind = components(from_deg, wind_kt, track_deg)
    tas = within("TAS", tas_kt, "kt", 1, 700)
    if abs(wind.cross_kt) >= tas:
        raise OutOfRange(f"wind: {abs(wind.cross_kt):.0f} kt across a track at {tas:.0f} kt of airspeed")
    correction = degrees(asin(wind.cross_kt / tas))
    ground = sqrt(tas**2 - wind.cross_kt**2) - wind.head_kt
    return Track((track_deg + correction) % 360, -correction, ground)


def credited_kt(head_kt: float, head_share: float = 0.5, tail_share: float = 1.5) -> float:
    """The wind along the runway to reckon with: part of a headwind, more than all of a tailwind.

    Source of the shares: Regulation (EU) 965/2012, CAT.POL.A.230(d), reproduced.
    """
    return head_kt * (head_share if head_kt > 0 else tail_share)


def design_wind_kt(altitude_ft: float) -> float:
    """The wind (kt, any direction) for which procedures are designed at an altitude (0 to 40 000 ft).

    Source: ICAO Doc 8168 Vol II (read): 2 kt for each 1000 ft, and 47. On final and by dead reckoning it has 30.
    """
    return 2 * within("altitude", altitude_ft, "ft", 0, 40_000) / 1000 + 47
