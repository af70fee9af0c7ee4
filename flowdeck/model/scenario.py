"""A scenario: what a flight is flown in. It owns motion, weather, clearances, facts and faults."""

from typing import Literal, TypeAlias

from msgspec import Struct

from flowdeck.arrival.plan import Arrival
from flowdeck.model.condition import Condition, Scalar
from flowdeck.model.deviation import Slip
from flowdeck.model.seats import Seat

SURROUNDINGS: dict[str, Scalar] = {
    "pressure_reported_hpa": 1013.0,
    "pressure_error_hpa": 0.0,
    "surface_temperature_c": 12.0,
    "headwind_kt": 5.0,
    "visibility_m": 9999.0,
    "cloud_base_ft": 60000.0,
    "cloud_top_ft": 60000.0,
    "precipitation": "none",
    "cleared_altitude_ft": 17000.0,
    "cleared_speed_kt": 280.0,
    "ground_power": False,
}
"""What surrounds the aeroplane, with the value when a scenario says nothing. Cloud heights: above sea level.

`pressure_error_hpa`: by how much the reported pressure is more than the true one."""


class Happening(Struct, frozen=True, kw_only=True):
    """Something the scenario does once, when condition *when* (a number in its table) comes true; None: by hand only.

    *sets* changes the surroundings (weather, clearances); *faults* hold a signal at a value; both for *for_s* seconds
    (None: for good). *tells* tells facts from outside; *interrupts* takes the crew's attention.
    *title*: what an instructor knows it by, where its words do not say. *again*: once in each approach, not once in
    the flight. *revised*: the arrival as it is from then on.
    """

    id: str
    when: int | None = None
    after_s: float = 0.0
    title: str = ""
    words: str = ""
    sets: dict[str, Scalar] = {}
    faults: dict[str, Scalar | None] = {}
    for_s: float | None = None
    tells: dict[str, bool] = {}
    interrupts_s: float | None = None
    safety: bool = False
    again: bool = False
    revised: Arrival | None = None


SlipKind: TypeAlias = Literal[
    "omit",  # never does it
    "delay",  # does it by_s seconds after it should
    "linger",  # takes by_s seconds over it, and both know that it is still being done: no slip by itself
    "hasten",  # does it (calls it, if a list) when `when` comes true, before its window
    "wrong_seat",  # the other pilot does it
    "say",  # answers or keys `value`, once
    "repeat",  # does it again by_s seconds later
    "hurry",  # reads and answers the line (or the whole list) at once, without a look
    "unread",  # calls the list complete after `lines` lines
    "no_completion",  # does not call the list complete, or only by_s seconds after its last line
    "skip",  # the reader passes over the line
    "read_first",  # leaves the item until its line has been read
    "no_call",  # never calls the list
    "hold",  # holds the list before a line, for by_s seconds (0: never resumes)
    "defer",  # defers the item to `cue`, and does it after (or `lost`: never)
    "continue",  # does not go around at a failed gate
    "go_around",  # goes around when `when` comes true
    "discontinue",
    "transfer",  # hands over control when `when` comes true
    "challenge",  # the other pilot challenges the item when it is overdue
    "swap",  # does it only after the item that should follow it, by_s seconds later at the latest
    "leave_held",  # does not take a held list up again
    "undo",  # takes back its own tick by_s seconds later, then does it right
]


class Cause(Struct, frozen=True, kw_only=True):
    """A deviation that a planted slip must cause."""

    slip: Slip
    item: str
    seat: Seat | None = None


class Planted(Struct, frozen=True, kw_only=True):
    """A slip that the scripted crew makes, and every deviation it must cause.

    *when*: the moment of `hasten`, `go_around`, `discontinue` and `transfer`; others are made only while it is true.
    """

    kind: SlipKind
    ref: str
    when: int | None = None
    by_s: float = 0.0
    value: Scalar | None = None
    cue: str | None = None
    lost: bool = False
    lines: int = 0
    causes: tuple[Cause, ...] = ()


class Leg(Struct, frozen=True, kw_only=True):
    """Where the flight stands at its start. Distances NM to the threshold, altitudes ft, speeds kt."""

    distance_nm: float
    altitude_ft: float
    ias_kt: float
    vertical_speed_fpm: float = 0.0


class Aerodrome(Struct, frozen=True, kw_only=True):
    """The invented aerodrome as the aeroplane needs it.

    *restart_nm*: where a second approach begins; *taxi_s*: seconds of taxi from the runway to the stand.
    """

    name: str
    elevation_ft: float
    runway_deg: float
    angle_deg: float = 3.0
    fix_nm: float = 6.2
    go_around_ft: float = 3000.0
    restart_nm: float = 16.0
    taxi_s: float = 150.0
    stand_m: float = 60.0


class Scenario(Struct, frozen=True, kw_only=True, eq=False):
    """See the module. *conditions* is a table of its own, after the deck's language and signals.

    *arrival*: what the flight is watched against; its brief has given *plan*, *place* and the surroundings.
    *pace*: how long each seat takes, as a multiple of the usual. *varies*: facts at the start that a trial draws.
    """

    id: str
    title: str
    deck: str
    seed: int = 1
    flying: Seat = Seat.CAPTAIN
    solo: bool = True
    about: str = ""
    start: Leg
    place: Aerodrome
    plan: dict[str, Scalar] = {}
    surroundings: dict[str, Scalar] = {}
    arrival: Arrival | None = None
    signals: dict[str, Scalar] = {}
    facts: dict[str, bool] = {}
    conditions: tuple[Condition, ...] = ()
    happenings: tuple[Happening, ...] = ()
    planted: tuple[Planted, ...] = ()
    pace: dict[Seat, float] = {}
    varies: tuple[str, ...] = ()
    ends: str = ""
    limit_s: float = 7200.0
