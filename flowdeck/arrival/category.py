"""The approach category of an aeroplane by its speed at the threshold."""

from math import nextafter
from typing import Literal, TypeAlias

from flowdeck.arrival.bounds import within

Category: TypeAlias = Literal["A", "B", "C", "D", "E"]
_LIMITS: tuple[tuple[float, Category], ...] = ((91, "A"), (121, "B"), (141, "C"), (166, "D"))
FINAL_KT: dict[Category, tuple[float, float]] = {
    "A": (70, 100),
    "B": (85, 130),
    "C": (115, 160),
    "D": (130, 185),
    "E": (155, 230),
}
"""Speeds of the final approach segment (kt IAS), ICAO Doc 8168 Vol II, Table I-4-1-2: C reproduced, the rest from
memory."""
ICAO_HIGHEST_KT = 211.0
"""Category E ends below it in ICAO Doc 8168 Vol II; 14 CFR 97.3 has no upper end."""


def category(vref_kt: float, highest_kt: float = ICAO_HIGHEST_KT) -> Category:
    """Of a reference speed at maximum landing mass (30 kt, up to below *highest_kt*).

    It does not change with the day's mass; flown faster, the minima of a higher one hold (FAA AIM 5-4-7).
    Source: 14 CFR 97.3.
    """
    within("reference speed", vref_kt, "kt", 30, nextafter(highest_kt, 0))
    return next((name for limit, name in _LIMITS if vref_kt < limit), "E")
