"""The final descent: gradients, rates, the table of distance and altitude, where the runway should be seen."""

from collections.abc import Sequence
from math import atan, degrees, radians, sin, tan

from flowdeck.arrival.atmosphere import FT, NM
from flowdeck.arrival.bounds import OutOfRange, within

FT_PER_NM = NM / FT
CROSSING_FT = 50.0
"""Above the threshold, where a continuous descent ends (FAA AC 120-108, reproduced)."""


def gradient_ft_per_nm(angle_deg: float) -> float:
    """Feet lost in each nautical mile over the ground on a path of *angle_deg* (0 to 15)."""
    return FT_PER_NM * tan(radians(within("angle", angle_deg, "deg", 0, 15)))


def angle_deg(gradient: float) -> float:
    """The angle of a gradient in ft per NM: the inverse of `gradient_ft_per_nm`."""
    return degrees(atan(within("gradient", gradient, "ft/NM", 0, 1630) / FT_PER_NM))


def rate_fpm(angle: float, speed_kt: float) -> float:
    """Rate of descent (ft/min) on a path of *angle* degrees.

    By the sine, as the Rate of Descent Table of the U.S. Terminal Procedures Publication has it (reproduced): the
    speed is taken along the path.
    """
    along = within("speed", speed_kt, "kt", 0, 400) * FT_PER_NM / 60
    return along * sin(radians(within("angle", angle, "deg", 0, 15)))


def path_altitude_ft(distance_nm: float, angle: float, threshold_ft: float, crossing_ft: float = CROSSING_FT) -> float:
    """Altitude (ft) on the path at a distance from the threshold; *threshold_ft*: its elevation."""
    return threshold_ft + crossing_ft + within("distance", distance_nm, "NM", 0, 100) * gradient_ft_per_nm(angle)


def path_table(
    distances_nm: Sequence[float], fix_nm: float, fix_ft: float, angle: float
) -> tuple[tuple[float, float], ...]:
    """Distance (NM) and altitude (ft) on a path through a fix, for each distance not beyond it. Altitudes are exact."""
    per_nm = gradient_ft_per_nm(angle)
    if any(distance > fix_nm for distance in distances_nm):
        raise OutOfRange(f"distance: the path begins at {fix_nm:g} NM; found {max(distances_nm):g}")
    return tuple((distance, fix_ft - (fix_nm - distance) * per_nm) for distance in distances_nm)


def visual_descent_point_nm(minimum_ft: float, touchdown_ft: float, angle: float = 3.0) -> float:
    """Distance (NM) to the touchdown zone at which the path leaves the minimum. From memory."""
    height = within("height of the minimum", minimum_ft - touchdown_ft, "ft", 0, 10_000)
    return height / gradient_ft_per_nm(angle)
