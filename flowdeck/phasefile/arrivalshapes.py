"""The shape of arrival files. Ranges are what can be believed of any aerodrome and any day."""

from typing import Annotated, Literal

from pydantic import Field

from flowdeck.phasefile.aircraftshapes import Kilograms, Surface
from flowdeck.phasefile.scalars import Id, Loose, Number, Text, Whole, formed
from flowdeck.phasefile.shapes import STATUS, Shape

Altitude = Annotated[Number, Field(ge=-1500, le=45_000)]
Elevation = Annotated[Number, Field(ge=-1500, le=15_000)]
Degrees = Annotated[Number, Field(ge=0, le=360)]
Distance = Annotated[Number, Field(ge=0, le=300)]
Knots = Annotated[Number, Field(ge=40, le=450)]
WindKnots = Annotated[Number, Field(ge=0, le=250)]
Angle = Annotated[Number, Field(ge=2, le=6)]
PHENOMENON = r"^[+-]?(VC)?[A-Z]{2,8}$"
"""A group of weather as a report has it: -RA, FZFG."""
Share = Annotated[Number, Field(ge=0, le=3)]


class AerodromeShape(Shape):
    name: Text
    elevation_ft: Elevation
    variation_deg: Annotated[Number, Field(ge=-60, le=60)] = 0.0
    transition_level_ft: Annotated[Number, Field(ge=2000, le=20_000)]


class RunwayShape(Shape):
    name: Text
    course_deg: Degrees
    elevation_ft: Elevation
    landing_distance_m: Annotated[Number, Field(ge=300, le=6000)]
    surface: Surface = "dry"


class AidShape(Shape):
    aid: Text
    kind: Text
    mhz: Annotated[Number, Field(ge=108, le=117.975)]
    ident: Annotated[Text, formed(r"^[A-Z]{2,4}$")]


class FixShape(Shape):
    """A fix in the order flown. At most one of the four altitude constraints; `between_ft` is lowest, highest."""

    fix: Text
    distance_nm: Distance
    at_ft: Altitude | None = None
    at_or_above_ft: Altitude | None = None
    at_or_below_ft: Altitude | None = None
    between_ft: Annotated[list[Altitude], Field(min_length=2, max_length=2)] | None = None
    speed_kt: Knots | None = None
    track_deg: Degrees | None = None


class MileShape(Shape):
    distance_nm: Distance
    altitude_ft: Altitude


class MissedShape(Shape):
    altitude_ft: Altitude
    words: Text


class MinimaShape(Shape):
    """The minimum of a category, and the visibility it needs."""

    category: Literal["A", "B", "C", "D", "E"]
    altitude_ft: Altitude
    visibility_m: Annotated[Number, Field(ge=50, le=10_000)] | None = None


class ApproachShape(Shape):
    title: Text
    kind: Literal["precision", "non_precision"]
    course_deg: Degrees
    aids: Annotated[list[AidShape], Field(min_length=1, max_length=6)]
    fixes: Annotated[list[FixShape], Field(min_length=1, max_length=40)]
    final_fix: Text
    angle_deg: Angle
    crossing_ft: Annotated[Number, Field(ge=20, le=100)] = 50.0
    minima: Annotated[list[MinimaShape], Field(min_length=1, max_length=5)]
    table: Annotated[list[MileShape], Field(max_length=40)] = []
    missed: MissedShape
    papi_deg: Angle | None = None


class ReportShape(Shape):
    """Weather as values; what is left out is not known."""

    wind_from_deg: Degrees | None = None
    wind_kt: WindKnots | None = None
    gust_kt: WindKnots | None = None
    visibility_m: Annotated[Number, Field(ge=0, le=100_000)] | None = None
    cloud_base_ft: Annotated[Number, Field(ge=0, le=60_000)] | None = None
    temperature_c: Annotated[Number, Field(ge=-60, le=60)] | None = None
    dew_point_c: Annotated[Number, Field(ge=-80, le=60)] | None = None
    pressure_hpa: Annotated[Number, Field(ge=850, le=1085)] | None = None
    phenomena: Annotated[list[Annotated[Text, formed(PHENOMENON)]], Field(max_length=8)] = []


class WindShape(Shape):
    altitude_ft: Altitude
    from_deg: Degrees
    kt: WindKnots


class StartShape(Shape):
    distance_nm: Annotated[Number, Field(ge=1, le=300)]
    altitude_ft: Altitude
    speed_kt: Knots
    mass_kg: Kilograms
    fuel_kg: Annotated[Number, Field(ge=0, le=200_000)]


class HoldShape(Shape):
    fix: Text
    laps: Annotated[Whole, Field(ge=0, le=40)]
    altitude_ft: Altitude
    speed_kt: Knots
    leg_min: Annotated[Number, Field(ge=0.5, le=10)] | None = None


class AlternateShape(Shape):
    name: Text
    fuel_kg: Annotated[Number, Field(ge=0, le=100_000)]


class AdditiveShape(Shape):
    head_share: Share = 0.5
    gust_share: Share = 1.0
    floor_kt: Annotated[Number, Field(ge=0, le=30)] = 5.0
    cap_kt: Annotated[Number, Field(ge=0, le=40)] = 20.0


class GateShape(Shape):
    height_ft: Annotated[Number, Field(ge=200, le=3000)] = 1000.0
    slow_kt: Annotated[Number, Field(ge=0, le=30)] = 5.0
    fast_kt: Annotated[Number, Field(ge=0, le=40)] = 10.0
    sink_fpm: Annotated[Number, Field(ge=300, le=2500)] = 1000.0


class IcingShape(Shape):
    on_c: Annotated[Number, Field(ge=-20, le=20)] = 10.0
    off_c: Annotated[Number, Field(ge=-20, le=25)] = 12.0
    visibility_m: Annotated[Number, Field(ge=0, le=10_000)] = 1600.0


class PolicyShape(Shape):
    """What the operator decides. Defaults: common practice, no source, unless the guide says otherwise."""

    increment_ft: Annotated[Number, Field(ge=0, le=500)] = 50.0
    additive: AdditiveShape = AdditiveShape()
    selector_step_ft: Annotated[Number, Field(ge=1, le=1000)] = 100.0
    cold_step_ft: Annotated[Number, Field(ge=1, le=100)] = 10.0
    cold_below_c: Annotated[Number, Field(ge=-40, le=15)] = 0.0
    margin: Annotated[Number, Field(ge=1, le=2.5)] = 1.15
    head_share: Annotated[Number, Field(ge=0, le=1)] = 0.5
    tail_share: Annotated[Number, Field(ge=1, le=3)] = 1.5
    gate: GateShape = GateShape()
    icing: IcingShape = IcingShape()
    low_ft: Annotated[Number, Field(gt=0, le=1000)] = 75.0
    high_ft: Annotated[Number, Field(gt=0, le=1000)] = 150.0
    speed_limit_kt: Knots = 250.0
    speed_limit_ft: Annotated[Number, Field(ge=0, le=45_000)] = 10_000.0
    check_altimeter_ft: Annotated[Number, Field(gt=0, le=1000)] = 150.0
    reserve_minutes: Annotated[Number, Field(ge=0, le=120)] = 30.0


class ArrivalShape(Shape):
    """An arrival file. `weather` is a METAR, `report` the same as values: one of the two."""

    arrival: Id
    title: Text
    about: Loose = ""
    version: Text = "1"
    status: Annotated[Text, formed(STATUS)] = "draft"
    aircraft: Text
    aerodrome: AerodromeShape
    runway: RunwayShape
    approach: ApproachShape
    weather: Text | None = None
    report: ReportShape | None = None
    winds: Annotated[list[WindShape], Field(max_length=40)] = []
    start: StartShape
    hold: HoldShape | None = None
    alternate: AlternateShape
    policy: PolicyShape = PolicyShape()
