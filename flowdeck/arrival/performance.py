"""The aeroplane's side of an arrival: its tables. Masses kg, speeds kt IAS (taken as CAS), distances m."""

from typing import Literal

from msgspec import Struct

from flowdeck.arrival.tables import Table


class Flap(Struct, frozen=True, kw_only=True):
    """*minimum_kt*: the slowest speed that may be selected with it at the reference mass; *limit_kt*: the fastest
    at which it may be out or moving (None: no limit of its own)."""

    flap_deg: float
    minimum_kt: float
    limit_kt: float | None = None


class Step(Struct, frozen=True, kw_only=True):
    """One configuration on the way down, in the order flown.

    *speed_kt*: what is flown with it before the next one is selected (None: the approach speed). *by_nm*: selected
    no nearer than this. Decelerations in kt/s with idle thrust, in level flight and on the descent.
    """

    flap_deg: float
    gear: Literal["up", "down"]
    speed_kt: float | None = None
    by_nm: float = 0.0
    level_kt_s: float
    descending_kt_s: float


class Stopping(Struct, frozen=True, kw_only=True):
    """Landing distance from 50 ft over the threshold to a stop, unfactored, by landing mass; standard day, no wind."""

    flap_deg: float
    surface: Literal["dry", "wet", "contaminated"]
    brake: str
    by_mass: Table


class Corrections(Struct, frozen=True, kw_only=True):
    """What changes a landing distance, in per cent: each kt of credited headwind takes off, the others add."""

    headwind_pct_kt: float
    tailwind_pct_kt: float
    altitude_pct_1000ft: float
    warm_pct_10c: float
    fast_pct_kt: float


class Descent(Struct, frozen=True, kw_only=True):
    """The descent with idle thrust: Mach, then speed; *gradient_ft_nm* is in still air."""

    mach: float
    speed_kt: float
    gradient_ft_nm: float


class Burn(Struct, frozen=True, kw_only=True):
    """Fuel flow of all engines together, kg/h."""

    cruise_kgh: float
    descent_kgh: float
    approach_kgh: float
    hold_kgh: float


class Limits(Struct, frozen=True, kw_only=True):
    landing_mass_kg: float
    crosswind_kt: float
    tailwind_kt: float


class Aircraft(Struct, frozen=True, kw_only=True):
    """*flaps* from clean to landing, *steps* as flown; the last of both is for landing. *brakes*: lowest first.

    *reference* gives the reference speed by landing mass; *flaps* hold for *reference_kg*, and minimum speeds grow
    with the square root of mass from there (the wing's lift at one angle; common practice).
    """

    type: str
    flaps: tuple[Flap, ...]
    reference: Table
    reference_kg: float
    steps: tuple[Step, ...]
    descent: Descent
    burn: Burn
    limits: Limits
    brakes: tuple[str, ...]
    stopping: tuple[Stopping, ...]
    corrections: Corrections

    def flap(self, flap_deg: float) -> Flap:
        """The flap step of this many degrees. Raises `KeyError`."""
        found = next((flap for flap in self.flaps if flap.flap_deg == flap_deg), None)
        if found is None:
            raise KeyError(flap_deg)
        return found
