"""The planned path of an arrival as a value: what is flown where, with altitude, speed and time at every point."""

from bisect import bisect_left
from typing import Literal, NamedTuple, TypeAlias

from msgspec import Struct

Vertical: TypeAlias = Literal["final", "level", "descent", "cruise"]
Speed: TypeAlias = Literal["slowing", "steady", "mach"]
EventKind: TypeAlias = Literal["top_of_descent", "slow_down", "configure", "level_off", "go_down", "stable"]


class Point(NamedTuple):
    """*seconds* to the threshold. Altitude ft, speed kt CAS."""

    distance_nm: float
    altitude_ft: float
    speed_kt: float
    seconds: float


class Leg(Struct, frozen=True, kw_only=True):
    """A stretch flown in one way, from *far* to *near*. *step*: the configuration, by its number.

    *speed*: slowing down with idle thrust, holding what there is, or at a Mach number.
    """

    far: Point
    near: Point
    vertical: Vertical
    step: int
    speed: Speed
    track_deg: float


class Event(Struct, frozen=True, kw_only=True):
    """Something the crew does on the way: where, and at which altitude and speed."""

    kind: EventKind
    words: str
    point: Point


class Profile(Struct, frozen=True, kw_only=True):
    """*points* run outward from the threshold; *legs* and *events* run inward, as flown."""

    points: tuple[Point, ...]
    legs: tuple[Leg, ...]
    events: tuple[Event, ...]

    @property
    def top(self) -> Point:
        """Where the descent begins."""
        return next((leg.far for leg in self.legs if leg.vertical != "cruise"), self.points[0])

    @property
    def far(self) -> Point:
        return self.points[-1]

    def at(self, distance_nm: float) -> Point:
        """The planned point at a distance (NM), linear between points; at its ends, the end."""
        points = self.points
        index = bisect_left(points, distance_nm, key=lambda p: p.distance_nm)
        if index == 0:
            return points[0]
        if index == len(points):
            return points[-1]
        a, b = points[index - 1], points[index]
        width = b.distance_nm - a.distance_nm
        share = (distance_nm - a.distance_nm) / width if width > 0 else 1.0
        return Point(*(x + share * (y - x) for x, y in zip(a, b, strict=True)))
