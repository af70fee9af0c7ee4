"""The ground side of an arrival: aerodrome, runway, and the approach to it.

Altitudes in ft, distances in NM to the threshold. Directions are magnetic, as charts print them;
*variation_deg* (east positive) makes them true.
"""

from typing import Literal

from msgspec import Struct

from flowdeck.arrival.category import Category
from flowdeck.arrival.descent import CROSSING_FT


class Aerodrome(Struct, frozen=True, kw_only=True):
    name: str
    elevation_ft: float
    variation_deg: float = 0.0
    transition_level_ft: float


class Runway(Struct, frozen=True, kw_only=True):
    """*elevation_ft* is that of the threshold, *landing_distance_m* what is available behind it."""

    name: str
    course_deg: float
    elevation_ft: float
    landing_distance_m: float
    surface: Literal["dry", "wet", "contaminated"] = "dry"


class Fix(Struct, frozen=True, kw_only=True):
    """A place that the arrival passes, and what it asks for there; None asks for nothing.

    *at_least_ft* equal to *at_most_ft* is an altitude to cross at. *speed_kt*: no faster from here on (IAS).
    *track_deg*: of the leg that leads here; None where it is the final course.
    """

    name: str
    distance_nm: float
    at_least_ft: float | None = None
    at_most_ft: float | None = None
    speed_kt: float | None = None
    track_deg: float | None = None

    @property
    def asks(self) -> str:
        """Its altitude constraint in words, empty if there is none."""
        low, high = self.at_least_ft, self.at_most_ft
        if low is not None and low == high:
            return f"at {low:.0f}"
        if low is not None and high is not None:
            return f"{low:.0f} to {high:.0f}"
        if low is not None:
            return f"at or above {low:.0f}"
        return "" if high is None else f"at or below {high:.0f}"


class Aid(Struct, frozen=True, kw_only=True):
    """A station that must be tuned and identified, whatever flies the path."""

    name: str
    kind: str
    mhz: float
    ident: str


class Approach(Struct, frozen=True, kw_only=True):
    """*fixes* in the order flown. *table*: published distances and altitudes. *minima*: altitude by category."""

    title: str
    kind: Literal["precision", "non_precision"]
    course_deg: float
    aids: tuple[Aid, ...]
    fixes: tuple[Fix, ...]
    final_fix: str
    angle_deg: float
    crossing_ft: float = CROSSING_FT
    minima: dict[Category, float]
    visibility_m: dict[Category, float] = {}
    table: tuple[tuple[float, float], ...] = ()
    missed_ft: float
    missed: str
    papi_deg: float | None = None

    @property
    def final(self) -> Fix:
        """The final approach fix."""
        return next(fix for fix in self.fixes if fix.name == self.final_fix)
