"""What the precision lights beside a runway show at an angle of approach."""

from flowdeck.arrival.bounds import within

SWITCHES_DEG = (-0.5, -1 / 6, 1 / 6, 0.5)
"""Where one light after the other turns white, from the slope they are set for (from memory); published per runway."""


def white_lights(angle_deg: float, slope_deg: float = 3.0, switches: tuple[float, ...] = SWITCHES_DEG) -> int:
    """How many of four lights are white at an angle (0 to 10 deg) seen from the threshold: 2 is on the slope.

    Angles of the indications: FAA AIM FIG 2-1-5, ed. 3/21/24 (read).
    """
    off = within("angle", angle_deg, "deg", 0, 10) - within("slope", slope_deg, "deg", 2, 6)
    return sum(off > switch for switch in switches)
