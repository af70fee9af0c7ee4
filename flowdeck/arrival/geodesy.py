"""Distances and tracks by GeographicLib (C. Karney), on the WGS84 ellipsoid unless another earth is given.

Degrees, north and east positive; NM.
"""

from math import cos, pi, radians, sin
from typing import NamedTuple

from geographiclib.geodesic import Geodesic

from flowdeck.arrival.atmosphere import NM
from flowdeck.arrival.bounds import OutOfRange, within

WGS84 = Geodesic.WGS84
SPHERE = Geodesic(NM * 60 * 180 / pi, 0)
"""A globe on which a nautical mile is a minute of arc; for old tables and rules of thumb."""


class Point(NamedTuple):
    """Latitude and longitude."""

    lat_deg: float
    lon_deg: float


class Line(NamedTuple):
    """The shortest way between two points, and its true track at either end (0 to below 360)."""

    distance_nm: float
    track_deg: float
    arriving_deg: float


class Offset(NamedTuple):
    """*along_nm*: to the nearest point of the line; *across_nm*: from it, positive to the right."""

    along_nm: float
    across_nm: float


def _checked(point: Point) -> Point:
    within("latitude", point.lat_deg, "deg", -90, 90)
    within("longitude", point.lon_deg, "deg", -360, 360)
    return point


def line(start: Point, end: Point, earth: Geodesic = WGS84) -> Line:
    """The geodesic from *start* to *end*. Raises `OutOfRange`."""
    found = earth.Inverse(*_checked(start), *_checked(end))
    return Line(found["s12"] / NM, found["azi1"] % 360, found["azi2"] % 360)


def point(start: Point, track_deg: float, distance_nm: float, earth: Geodesic = WGS84) -> Point:
    """Where the geodesic that leaves *start* on a true track is after *distance_nm*."""
    found = earth.Direct(*_checked(start), track_deg, within("distance", distance_nm, "NM", -21_700, 21_700) * NM)
    return Point(found["lat2"], found["lon2"])


def offset(start: Point, track_deg: float, here: Point, earth: Geodesic = WGS84) -> Offset:
    """Where *here* lies beside the geodesic that leaves *start* on *track_deg*; within 1000 NM of start."""
    along = 0.0
    if line(start, here, earth).distance_nm > 1000:
        raise OutOfRange("offset: expected a point within 1000 NM of the start")
    for _ in range(20):
        foot = earth.Direct(*_checked(start), track_deg, along * NM)
        side = earth.Inverse(foot["lat2"], foot["lon2"], *_checked(here))
        angle = radians(side["azi1"] - foot["azi2"])
        ahead, across = side["s12"] / NM * cos(angle), side["s12"] / NM * sin(angle)
        if abs(ahead) < 1e-9:
            break
        along += ahead
    return Offset(along, across)
