"""What has happened, in the past tense. The journal is these, and a session is their fold.

*at* is milliseconds of session time. Events carry results (a window's end, a severity), never the
rule that gave them, so that an old journal reads back the same after a deck or a rule has changed.
"""

from typing import Literal, TypeAlias

from msgspec import Struct

from flowdeck.model.condition import Scalar
from flowdeck.model.deviation import Severity, Slip, Trapper
from flowdeck.model.seats import Seat


class _Event(Struct, frozen=True, kw_only=True, tag=True, omit_defaults=True):
    at: int


class FlightStarted(_Event, frozen=True, kw_only=True, tag=True):
    """First event. *truths* is the number of conditions of the deck."""

    phase: str
    flying: Seat
    solo: bool
    truths: int
    facts: dict[str, bool | None]


class PhaseEntered(_Event, frozen=True, kw_only=True, tag=True):
    """*how*: go_around or discontinued for that phase. *airborne_again*: a new approach begins."""

    phase: str
    left: str
    how: str = ""
    airborne_again: bool = False


class FlightEnded(_Event, frozen=True, kw_only=True, tag=True):
    end: str


class TruthsChanged(_Event, frozen=True, kw_only=True, tag=True):
    """Conditions that are now true, now false, now unknown, by number."""

    true: tuple[int, ...] = ()
    false: tuple[int, ...] = ()
    unknown: tuple[int, ...] = ()


class MarkPassed(_Event, frozen=True, kw_only=True, tag=True):
    mark: str


class ItemOpened(_Event, frozen=True, kw_only=True, tag=True):
    """Its window opened: it is owed from now on."""

    item: str


class ItemFound(_Event, frozen=True, kw_only=True, tag=True):
    """It was already so when its window opened."""

    item: str
    shown: str = ""


class ItemPointed(_Event, frozen=True, kw_only=True, tag=True):
    item: str
    seat: Seat


class ItemPartly(_Event, frozen=True, kw_only=True, tag=True):
    """One of the two pilots who both owe it has done it."""

    item: str
    seat: Seat


class ItemDone(_Event, frozen=True, kw_only=True, tag=True):
    """Done on a pilot's word. *verify_at*: by then a signal should show it.

    *shown*: the state with the readings of that moment, where the state names readings.
    """

    item: str
    seat: Seat
    value: Scalar | None = None
    verify_at: int | None = None
    prompted: bool = False
    shown: str = ""


class ItemSeen(_Event, frozen=True, kw_only=True, tag=True):
    """A signal shows it: closes an open item (seat not known), or proves one that was said."""

    item: str
    shown: str = ""


class ItemUnproved(_Event, frozen=True, kw_only=True, tag=True):
    """The time to see it has passed and the signal says otherwise."""

    item: str


class ItemReopened(_Event, frozen=True, kw_only=True, tag=True):
    item: str
    because: str


class ItemLapsed(_Event, frozen=True, kw_only=True, tag=True):
    """Its phase ended without it. It may still be done, and that traps the slip."""

    item: str


class ItemWithdrawn(_Event, frozen=True, kw_only=True, tag=True):
    """No longer owed, since its condition went away; it waits for its window again."""

    item: str


class Reset(_Event, frozen=True, kw_only=True, tag=True):
    """Ticks that are void: these items, lists and gates stand as if nothing had been done."""

    items: tuple[str, ...]
    lists: tuple[str, ...]
    gates: tuple[str, ...]
    because: str


class ItemMissed(_Event, frozen=True, kw_only=True, tag=True):
    """Its last moment has passed; it may still be done, and that traps the slip."""

    item: str


class ItemOverdue(_Event, frozen=True, kw_only=True, tag=True):
    """Its late limit has passed."""

    item: str


class Prompted(_Event, frozen=True, kw_only=True, tag=True):
    """*seat* was reminded of an item or a list."""

    ref: str
    seat: Seat


class ListCalled(_Event, frozen=True, kw_only=True, tag=True):
    checklist: str
    seat: Seat


class ListOpened(_Event, frozen=True, kw_only=True, tag=True):
    """Its window opened: from now on it may be called."""

    checklist: str


class ListOverdue(_Event, frozen=True, kw_only=True, tag=True):
    """*of*: the call of the list, or its completion."""

    checklist: str
    of: Literal["call", "completion"]


class LineRead(_Event, frozen=True, kw_only=True, tag=True):
    """*passes*: the hold point that this reading goes past."""

    checklist: str
    line: str
    seat: Seat
    passes: str = ""


class LineAnswered(_Event, frozen=True, kw_only=True, tag=True):
    checklist: str
    line: str
    seat: Seat
    value: Scalar | None = None
    closed: bool = True


class LineSkipped(_Event, frozen=True, kw_only=True, tag=True):
    checklist: str
    line: str
    seat: Seat


class ListHeld(_Event, frozen=True, kw_only=True, tag=True):
    """*hold* names the hold point, empty for a hold of the crew's own. *spoken* is false if only seen."""

    checklist: str
    seat: Seat | None
    hold: str = ""
    why: str = ""
    spoken: bool = True


class ListResumed(_Event, frozen=True, kw_only=True, tag=True):
    """*line* is read again to re-confirm the place (empty: nothing was done yet).

    *restart*: from the top; *lines* are the lines that are void by that.
    """

    checklist: str
    seat: Seat
    line: str = ""
    restart: bool = False
    lines: tuple[str, ...] = ()


class ListCompleted(_Event, frozen=True, kw_only=True, tag=True):
    """*exceptions*: deferred lines or items named in the completion call."""

    checklist: str
    seat: Seat
    exceptions: tuple[str, ...] = ()


class ListClosed(_Event, frozen=True, kw_only=True, tag=True):
    """Every line of a running list is closed; only the completion call is missing."""

    checklist: str


class ListLapsed(_Event, frozen=True, kw_only=True, tag=True):
    """Its phase ended and it was not called."""

    checklist: str


class ListWithdrawn(_Event, frozen=True, kw_only=True, tag=True):
    """No longer owed; it waits for its window again."""

    checklist: str


class GatePassed(_Event, frozen=True, kw_only=True, tag=True):
    gate: str


class GateFailed(_Event, frozen=True, kw_only=True, tag=True):
    gate: str
    failing: tuple[str, ...]
    decide_at: int | None = None


class GateMended(_Event, frozen=True, kw_only=True, tag=True):
    """A failed ground gate's conditions hold now, or an airborne one was answered by a go-around."""

    gate: str


class GateOverrun(_Event, frozen=True, kw_only=True, tag=True):
    """The flight went on past a failed gate."""

    gate: str


class ItemDeferred(_Event, frozen=True, kw_only=True, tag=True):
    item: str
    seat: Seat
    cue: str | None = None
    back_at: int | None = None


class CueCame(_Event, frozen=True, kw_only=True, tag=True):
    item: str
    cue: str
    late_at: int


class FactTold(_Event, frozen=True, kw_only=True, tag=True):
    fact: str
    value: bool
    seat: Seat | None = None


class ControlOffered(_Event, frozen=True, kw_only=True, tag=True):
    seat: Seat


class ControlTaken(_Event, frozen=True, kw_only=True, tag=True):
    seat: Seat


class ControlConfirmed(_Event, frozen=True, kw_only=True, tag=True):
    flying: Seat
    seized: bool = False


class Challenged(_Event, frozen=True, kw_only=True, tag=True):
    seat: Seat
    about: str
    reply_by: int


class Replied(_Event, frozen=True, kw_only=True, tag=True):
    seat: Seat


class ReplyMissed(_Event, frozen=True, kw_only=True, tag=True):
    seat: Seat
    about: str
    count: int


class DeviationRaised(_Event, frozen=True, kw_only=True, tag=True):
    number: int
    slip: Slip
    severity: Severity
    item: str
    expected: str
    actual: str
    seat: Seat | None = None
    reason: str = ""
    supersedes: int | None = None
    cures: tuple[str, ...] = ()
    cure_when: int | None = None


class DeviationTrapped(_Event, frozen=True, kw_only=True, tag=True):
    number: int
    by: Trapper


class Undone(_Event, frozen=True, kw_only=True, tag=True):
    """*what*: tick, point, answer, call, hold, resume, deferral; *ref* its item or list."""

    seat: Seat
    what: str
    ref: str


class Refused(_Event, frozen=True, kw_only=True, tag=True):
    """An input that could not be taken, and why. Kept: what was tried is part of the story."""

    what: str
    because: str
    seat: Seat | None = None


class Interrupted(_Event, frozen=True, kw_only=True, tag=True):
    words: str
    until: int
    safety: bool = False


class ScriptMoved(_Event, frozen=True, kw_only=True, tag=True):
    """A happening of the scenario: its condition came true (*played* false), or it took place."""

    happening: str
    played: bool


class Heard(_Event, frozen=True, kw_only=True, tag=True):
    """Words from outside: the controller, the cabin, the ground."""

    words: str


class Paused(_Event, frozen=True, kw_only=True, tag=True):
    pass


class Unpaused(_Event, frozen=True, kw_only=True, tag=True):
    pass


class PaceSet(_Event, frozen=True, kw_only=True, tag=True):
    pace: float
    because: str = ""


class AidSet(_Event, frozen=True, kw_only=True, tag=True):
    aid: Literal["guided", "drill"]
    withhold: bool = False


class Trace(_Event, frozen=True, kw_only=True, tag=True):
    """A thinned record of readings, for replay and for drawing the path. Changes no session."""

    values: dict[str, Scalar | None]


ItemEvent: TypeAlias = (
    ItemOpened
    | ItemFound
    | ItemPointed
    | ItemPartly
    | ItemDone
    | ItemSeen
    | ItemUnproved
    | ItemReopened
    | ItemLapsed
    | ItemWithdrawn
    | ItemMissed
    | ItemOverdue
    | ItemDeferred
    | CueCame
)
ListEvent: TypeAlias = (
    ListOpened
    | ListCalled
    | ListOverdue
    | LineRead
    | LineAnswered
    | LineSkipped
    | ListHeld
    | ListResumed
    | ListClosed
    | ListCompleted
    | ListLapsed
    | ListWithdrawn
)
JudgeEvent: TypeAlias = (
    GatePassed | GateFailed | GateMended | GateOverrun | DeviationRaised | DeviationTrapped | Prompted
)
CrewEvent: TypeAlias = (
    ControlOffered | ControlTaken | ControlConfirmed | Challenged | Replied | ReplyMissed | Undone | Refused
)
FlightEvent: TypeAlias = (
    FlightStarted
    | PhaseEntered
    | FlightEnded
    | TruthsChanged
    | MarkPassed
    | Reset
    | FactTold
    | Interrupted
    | ScriptMoved
    | Heard
    | Paused
    | Unpaused
    | PaceSet
    | AidSet
    | Trace
)
Event: TypeAlias = ItemEvent | ListEvent | JudgeEvent | CrewEvent | FlightEvent
