"""The shape of scenario files."""

from typing import Annotated, Literal

from pydantic import Field

from flowdeck.model.deviation import Slip
from flowdeck.model.seats import Seat
from flowdeck.phasefile.scalars import Boolean, Id, Loose, Name, Number, ScalarValue, Text, Whole
from flowdeck.phasefile.shapes import Names, Shape


class StartShape(Shape):
    distance_nm: Annotated[Number, Field(ge=0.5, le=300)]
    altitude_ft: Annotated[Number, Field(ge=0, le=45_000)]
    ias_kt: Annotated[Number, Field(ge=100, le=350)]
    vertical_speed_fpm: Annotated[Number, Field(ge=-3000, le=3000)] = 0.0


class AerodromeShape(Shape):
    name: Text
    elevation_ft: Annotated[Number, Field(ge=-1500, le=15_000)]
    runway_deg: Annotated[Number, Field(ge=0, le=360)]
    angle_deg: Annotated[Number, Field(ge=2, le=6)] = 3.0
    fix_nm: Annotated[Number, Field(ge=2, le=15)] = 6.2
    go_around_ft: Annotated[Number, Field(ge=500, le=15_000)] = 3000.0
    restart_nm: Annotated[Number, Field(ge=8, le=40)] = 16.0
    taxi_s: Annotated[Number, Field(ge=30, le=1800)] = 150.0
    stand_m: Annotated[Number, Field(ge=20, le=300)] = 60.0


class PlaceShape(Shape):
    """What of an aerodrome an arrival does not say."""

    restart_nm: Annotated[Number, Field(ge=8, le=40)] = 16.0
    taxi_s: Annotated[Number, Field(ge=30, le=1800)] = 150.0
    stand_m: Annotated[Number, Field(ge=20, le=300)] = 60.0


class RevisesShape(Shape):
    """What changes of the arrival: another file, a new report, the mass found to be another."""

    arrival: Text | None = None
    weather: Text | None = None
    mass_kg: Annotated[Number, Field(ge=500, le=600_000)] | None = None


class HappeningShape(Shape):
    happening: Id
    when: Text | None = None
    title: Text = ""
    after_s: Annotated[Number, Field(ge=0, le=3600)] = 0.0
    words: Loose = ""
    sets: dict[Name, ScalarValue] = {}
    faults: dict[Name, ScalarValue] = {}
    for_s: Annotated[Number, Field(gt=0, le=7200)] | None = None
    tells: dict[Name, Boolean] = {}
    interrupts_s: Annotated[Number, Field(gt=0, le=1800)] | None = None
    safety: Boolean = False
    again: Boolean = False
    revises: RevisesShape | None = None


class ScriptShape(Shape):
    """What an instructor brings to a scenario: happenings that come by themselves or by a key."""

    script: Id
    title: Text
    deck: Id
    happenings: Annotated[list[HappeningShape], Field(min_length=1, max_length=200)]


class CauseShape(Shape):
    slip: Slip = Field(alias="class")
    item: Id
    seat: Seat | None = None


SlipWord = Literal[
    "omit",
    "delay",
    "linger",
    "hasten",
    "wrong_seat",
    "say",
    "repeat",
    "hurry",
    "unread",
    "no_completion",
    "skip",
    "read_first",
    "no_call",
    "hold",
    "defer",
    "continue",
    "go_around",
    "discontinue",
    "transfer",
    "challenge",
    "swap",
    "leave_held",
    "undo",
]


class PlantedShape(Shape):
    slip: SlipWord
    of: Id
    when: Text | None = None
    by_s: Annotated[Number, Field(ge=0, le=3600)] = 0.0
    value: ScalarValue | None = None
    cue: Id | None = None
    lost: Boolean = False
    lines: Annotated[Whole, Field(ge=0, le=50)] = 0.0
    causes: list[CauseShape] = []


class ScenarioShape(Shape):
    scenario: Id
    title: Text
    about: Loose = ""
    deck: Id
    seed: Whole = 1.0
    flying: Seat = Seat.CAPTAIN
    solo: Boolean = True
    arrival: Text | None = None
    start: StartShape | None = None
    aerodrome: AerodromeShape | None = None
    ground: PlaceShape | None = None
    plan: dict[Name, ScalarValue] = {}
    surroundings: dict[Name, ScalarValue] = {}
    signals: dict[Name, ScalarValue] = {}
    facts: dict[Name, Boolean] = {}
    happenings: list[HappeningShape] = []
    slips: list[PlantedShape] = []
    pace: dict[Seat, Annotated[Number, Field(ge=0.2, le=10)]] = {}
    varies: Names = []
    ends: Name
    limit_s: Annotated[Number, Field(gt=0, le=20_000)] = 7200.0
