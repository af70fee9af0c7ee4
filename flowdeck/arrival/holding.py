"""Holding: how fast at most, how long a lap takes. Altitudes ft, speeds kt IAS, times min."""

from flowdeck.arrival.bounds import within

ICAO_KT = ((14_000.0, 230.0), (20_000.0, 240.0), (34_000.0, 265.0))
"""Highest speed up to an altitude, one edition of ICAO Doc 8168 (reproduced); an older one has 210, 220, 240, 265."""
US_KT = ((6_000.0, 200.0), (14_000.0, 230.0), (45_000.0, 265.0))
"""The same in the United States (reproduced)."""
_TURN_DEG_S = 3.0
OUTBOUND_LOW_MIN, OUTBOUND_HIGH_MIN, OUTBOUND_CHANGE_FT = 1.0, 1.5, 14_000.0
"""Minutes outbound up to 14 000 ft and above (ICAO Doc 8168, reproduced)."""


def fastest_kt(altitude_ft: float, edition: tuple[tuple[float, float], ...] = ICAO_KT) -> float:
    """The highest holding speed at an altitude. Raises `OutOfRange` above the edition's last one."""
    within("holding altitude", altitude_ft, "ft", 0, edition[-1][0])
    return next(kt for top, kt in edition if altitude_ft <= top)


def outbound_min(altitude_ft: float) -> float:
    return OUTBOUND_LOW_MIN if altitude_ft <= OUTBOUND_CHANGE_FT else OUTBOUND_HIGH_MIN


def lap_min(altitude_ft: float, leg_min: float | None = None, turn_deg_s: float = _TURN_DEG_S) -> float:
    """A lap in still air: two legs and two half turns at *turn_deg_s*."""
    leg = outbound_min(altitude_ft) if leg_min is None else within("holding leg", leg_min, "min", 0.5, 10)
    return 2 * leg + 360 / within("rate of turn", turn_deg_s, "deg/s", 0.5, 3) / 60
