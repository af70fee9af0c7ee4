"""Landing distance of the day against the runway, and the lowest autobrake step with which it fits."""

from msgspec import Struct

from flowdeck.arrival.bounds import OutOfRange, within
from flowdeck.arrival.landing import WET, required_m
from flowdeck.arrival.performance import Aircraft, Corrections, Stopping
from flowdeck.arrival.wind import credited_kt


class Conditions(Struct, frozen=True, kw_only=True):
    """*head_kt* along the runway, negative from behind. *warm_c*: above standard.

    *fast_kt*: above the reference speed and not taken back by the headwind.
    """

    mass_kg: float
    flap_deg: float
    surface: str
    head_kt: float
    head_share: float
    tail_share: float
    pressure_altitude_ft: float
    warm_c: float
    fast_kt: float
    margin: float


class Stop(Struct, frozen=True, kw_only=True):
    """*day_m*: for the day, without margin; *required_m*: with it, rounded up. *how*: what it was made of."""

    brake: str
    day_m: float
    required_m: float
    how: str


def stops(aircraft: Aircraft, day: Conditions) -> tuple[Stop, ...]:
    """For each autobrake step, lowest first. Raises `OutOfRange` where a table ends or there is none."""
    return tuple(_stop(aircraft, day, brake) for brake in aircraft.brakes)


def lowest_that_fits(found: tuple[Stop, ...], available_m: float) -> Stop | None:
    """The first that stops within what is available; None when none does."""
    return next((stop for stop in found if stop.required_m <= available_m), None)


def _stop(aircraft: Aircraft, day: Conditions, brake: str) -> Stop:
    table, wet = _table(aircraft, day, brake)
    metres = table.by_mass.at(day.mass_kg) * wet
    parts = [f"{table.by_mass.at(day.mass_kg):.0f} m {table.surface} at {day.mass_kg:.0f} kg"]
    parts += ["15 % for a wet runway without wet figures"] if wet > 1 else []
    percent, said = _percent(aircraft.corrections, day)
    metres *= 1 + percent / 100
    needed = required_m(metres, day.margin)
    return Stop(brake=brake, day_m=metres, required_m=needed, how="; ".join([*parts, *said]))


def _table(aircraft: Aircraft, day: Conditions, brake: str) -> tuple[Stopping, float]:
    for surface, factor in ((day.surface, 1.0), *((("dry", WET),) if day.surface == "wet" else ())):
        for table in aircraft.stopping:
            if (table.flap_deg, table.surface, table.brake) == (day.flap_deg, surface, brake):
                return table, factor
    raise OutOfRange(f"landing distance: no figures for flap {day.flap_deg:g}, {day.surface}, brakes {brake}")


def _percent(rates: Corrections, day: Conditions) -> tuple[float, list[str]]:
    """What the day changes, in per cent, never less than what a standard day takes but for headwind."""
    wind = credited_kt(within("headwind", day.head_kt, "kt", -60, 100), day.head_share, day.tail_share)
    changes = (
        (-rates.headwind_pct_kt * max(0.0, wind), f"{wind:.0f} kt of headwind credited"),
        (rates.tailwind_pct_kt * max(0.0, -wind), f"{-wind:.0f} kt of tailwind reckoned"),
        (rates.altitude_pct_1000ft * max(0.0, day.pressure_altitude_ft) / 1000, "pressure altitude"),
        (rates.warm_pct_10c * max(0.0, day.warm_c) / 10, "warmer than standard"),
        (
            rates.fast_pct_kt * max(0.0, day.fast_kt),
            f"{day.fast_kt:.0f} kt of addition not taken back by headwind",
        ),
    )
    return max(-60.0, sum(change for change, _ in changes)), [
        f"{c:+.1f} % {why}" for c, why in changes if abs(c) > 0.05
    ]
