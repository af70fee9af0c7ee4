"""Reference and approach speed, and the speeds that flaps allow. kt IAS, masses kg."""

from math import ceil, sqrt
from typing import NamedTuple

from flowdeck.arrival.bounds import within
from flowdeck.arrival.performance import Aircraft, Flap
from flowdeck.arrival.policy import Additive
from flowdeck.arrival.profile import Event, Profile

_HAIR_KT = 1e-6
"""What an integration may leave."""


class Wind(NamedTuple):
    """*head_kt* along the runway (negative from behind), *gust_kt* above the steady wind, *cross_kt* from the right."""

    head_kt: float
    cross_kt: float
    gust_kt: float


def reference_kt(aircraft: Aircraft, mass_kg: float) -> int:
    """The reference speed at a landing mass, rounded up to the knot. Raises `OutOfRange` where the table ends."""
    return _up(aircraft.reference.at(mass_kg))


def additive_kt(wind: Wind, rule: Additive) -> int:
    """What the wind adds to the reference speed, rounded up to the knot.

    Source of the usual rule (half the headwind and the whole gust, 5 to 20 kt): common practice, no source.
    """
    return _up(_added_kt(wind, rule))


def carried_off_kt(wind: Wind, rule: Additive) -> float:
    """The part of the addition that takes the aeroplane over the ground faster: all but what the headwind is given for.

    Not rounded. So more headwind never makes a landing longer.
    """
    ahead = rule.head_share * max(0.0, wind.head_kt)
    return max(0.0, _added_kt(wind, rule) - ahead)


def _added_kt(wind: Wind, rule: Additive) -> float:
    within("gust", wind.gust_kt, "kt", 0, 100)
    shares = rule.head_share * max(0.0, wind.head_kt) + rule.gust_share * wind.gust_kt
    return min(rule.cap_kt, max(rule.floor_kt, shares))


def minimum_kt(aircraft: Aircraft, flap: Flap, mass_kg: float) -> int:
    """The slowest speed that may be selected with *flap* at this mass: with its square root, rounded up."""
    return _up(flap.minimum_kt * sqrt(within("mass", mass_kg, "kg", 1000, 600_000) / aircraft.reference_kg))


def flap_conflicts(aircraft: Aircraft, profile: Profile, mass_kg: float, approach_kt: float) -> tuple[str, ...]:
    """Where the path asks for a speed below the minimum of its flap or above the limit of the next, in words."""
    found: list[str] = []
    for number, step in enumerate(aircraft.steps):
        flap = aircraft.flap(step.flap_deg)
        least = minimum_kt(aircraft, flap, mass_kg)
        selected = approach_kt if step.speed_kt is None else step.speed_kt
        last = number == len(aircraft.steps) - 1
        flown = [leg.near.speed_kt for leg in profile.legs if leg.step == number]
        slowest = min([selected, *flown])  # a fix, the hold or the descent may ask for less than the step does
        if slowest < least - _HAIR_KT and not last:
            found.append(f"{slowest:.0f} kt with flap {flap.flap_deg:g} is below its minimum of {least} kt")
        if flap.limit_kt is not None and selected > flap.limit_kt:
            found.append(f"{selected:.0f} kt with flap {flap.flap_deg:g} is above its limit of {flap.limit_kt:.0f} kt")
    for event in profile.events:
        found += _too_fast(aircraft, event)
    return tuple(dict.fromkeys(found))


def _too_fast(aircraft: Aircraft, event: Event) -> list[str]:
    flap = next((f for f in aircraft.flaps if event.words == f"flap {f.flap_deg:g}"), None)
    if event.kind != "configure" or flap is None or flap.limit_kt is None or event.point.speed_kt <= flap.limit_kt:
        return []
    return [
        f"flap {flap.flap_deg:g} at {event.point.distance_nm:.1f} NM comes at {event.point.speed_kt:.0f} kt, above its "
        f"limit of {flap.limit_kt:.0f} kt"
    ]


def _up(value: float) -> int:
    return ceil(value - 1e-9)
