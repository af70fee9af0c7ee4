"""The shape of aircraft files: the tables from which an arrival is worked out. Ranges are what can be believed."""

from typing import Annotated, Literal

from pydantic import Field

from flowdeck.phasefile.scalars import Number, Text
from flowdeck.phasefile.shapes import Shape

Knots = Annotated[Number, Field(ge=40, le=450)]
Kilograms = Annotated[Number, Field(ge=500, le=600_000)]
Metres = Annotated[Number, Field(ge=100, le=6000)]
FlapDegrees = Annotated[Number, Field(ge=0, le=60)]
Flow = Annotated[Number, Field(gt=0, le=60_000)]
Slowing = Annotated[Number, Field(ge=0.05, le=8)]
Surface = Literal["dry", "wet", "contaminated"]
Percent = Annotated[Number, Field(ge=0, le=50)]


class FlapShape(Shape):
    """A flap step: the slowest speed that may be selected with it, and the fastest at which it may be out."""

    flap_deg: FlapDegrees
    minimum_kt: Knots
    limit_kt: Knots | None = None


class StepShape(Shape):
    """A configuration in the order flown: its speed, where it comes at the latest, how it slows at idle thrust."""

    flap_deg: FlapDegrees
    gear: Literal["up", "down"]
    speed_kt: Knots | None = None
    by_nm: Annotated[Number, Field(ge=0, le=60)] = 0.0
    level_kt_s: Slowing
    descending_kt_s: Slowing


class ReferenceShape(Shape):
    mass_kg: Kilograms
    speed_kt: Knots


class StoppingShape(Shape):
    """Landing distances from 50 ft to a stop, unfactored, for one flap, surface and autobrake step."""

    flap_deg: FlapDegrees
    surface: Surface
    brake: Text
    mass_kg: Annotated[list[Kilograms], Field(min_length=2, max_length=40)]
    distance_m: Annotated[list[Metres], Field(min_length=2, max_length=40)]


class CorrectionsShape(Shape):
    headwind_pct_kt: Percent
    tailwind_pct_kt: Percent
    altitude_pct_1000ft: Percent
    warm_pct_10c: Percent
    fast_pct_kt: Percent


class DescentShape(Shape):
    mach: Annotated[Number, Field(ge=0.3, le=0.95)]
    speed_kt: Knots
    gradient_ft_nm: Annotated[Number, Field(ge=100, le=900)]


class BurnShape(Shape):
    cruise_kgh: Flow
    descent_kgh: Flow
    approach_kgh: Flow
    hold_kgh: Flow


class LimitsShape(Shape):
    landing_mass_kg: Kilograms
    crosswind_kt: Annotated[Number, Field(ge=5, le=60)]
    tailwind_kt: Annotated[Number, Field(ge=0, le=25)]


class AircraftShape(Shape):
    """An aircraft file."""

    aircraft: Text
    reference_mass_kg: Kilograms
    flaps: Annotated[list[FlapShape], Field(min_length=2, max_length=12)]
    reference: Annotated[list[ReferenceShape], Field(min_length=2, max_length=40)]
    steps: Annotated[list[StepShape], Field(min_length=2, max_length=20)]
    descent: DescentShape
    burn: BurnShape
    limits: LimitsShape
    brakes: Annotated[list[Text], Field(min_length=1, max_length=8)]
    stopping: Annotated[list[StoppingShape], Field(min_length=1, max_length=80)]
    corrections: CorrectionsShape
