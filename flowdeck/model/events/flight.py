"""What happens to the flight as a whole."""

from typing import Literal, TypeAlias

from flowdeck.model.change import Change
from flowdeck.model.condition import Scalar
from flowdeck.model.events.base import Event_
from flowdeck.model.lapse import LapseKind, Lapses
from flowdeck.model.seats import Seat


class FlightStarted(Event_, frozen=True, kw_only=True, tag=True):
    """First event. *truths* is the number of conditions of the deck.

    *sealed*: seats whose slips, and what they are late with, are kept from the crew until they are caught.
    """

    phase: str
    flying: Seat
    solo: bool
    truths: int
    facts: dict[str, bool | None]
    sealed: tuple[Seat, ...] = ()


class PhaseEntered(Event_, frozen=True, kw_only=True, tag=True):
    """*how*: go_around or discontinued for that phase. *airborne_again*: a new approach begins."""

    phase: str
    left: str
    how: str = ""
    airborne_again: bool = False


class FlightEnded(Event_, frozen=True, kw_only=True, tag=True):
    end: str


class TruthsChanged(Event_, frozen=True, kw_only=True, tag=True):
    """Conditions that are now true, now false, now unknown, by number."""

    true: tuple[int, ...] = ()
    false: tuple[int, ...] = ()
    unknown: tuple[int, ...] = ()


class MarkPassed(Event_, frozen=True, kw_only=True, tag=True):
    mark: str


class Reset(Event_, frozen=True, kw_only=True, tag=True):
    """Ticks that are void: these items, lists and gates stand as if nothing had been done."""

    items: tuple[str, ...]
    lists: tuple[str, ...]
    gates: tuple[str, ...]
    because: str
    marks: tuple[str, ...] = ()


class FactTold(Event_, frozen=True, kw_only=True, tag=True):
    fact: str
    value: bool
    seat: Seat | None = None


class Interrupted(Event_, frozen=True, kw_only=True, tag=True):
    words: str
    until: int
    safety: bool = False


class ScriptMoved(Event_, frozen=True, kw_only=True, tag=True):
    """A happening of the scenario: its condition came true (*played* false), or it took place.

    *until*: when what it set is as before (ms); None: it stays, or sets nothing.
    """

    happening: str
    played: bool
    until: int | None = None


class ScriptHeld(Event_, frozen=True, kw_only=True, tag=True):
    """An instructor holds back a happening of the scenario until a time (ms)."""

    happening: str
    until: int


class Heard(Event_, frozen=True, kw_only=True, tag=True):
    """Words from outside: the controller, the cabin, the ground."""

    words: str


class PlanRevised(Event_, frozen=True, kw_only=True, tag=True):
    """Numbers of the plan that changed, and why. What rested on them is opened again by events of its own."""

    because: str
    changes: tuple[Change, ...]
    report: str = ""


class Noted(Event_, frozen=True, kw_only=True, tag=True):
    """An instructor's note about the moment *about* (ms), written then or while the flight was looked at again.

    *by*: a label such as `instructor`, never a person's name. Changes no session.
    """

    about: int
    words: str
    by: str = "instructor"


class PilotPlayed(Event_, frozen=True, kw_only=True, tag=True):
    """The tool plays *seat*. Kept so that it goes on in the same way when the flight is taken up again."""

    seat: Seat
    seed: int
    lapses: Lapses


class LapseMade(Event_, frozen=True, kw_only=True, tag=True):
    """A played pilot begins to let something slip on purpose. *ref*: its item, line or list. Changes no session."""

    kind: LapseKind
    seat: Seat
    ref: str


class InputTaken(Event_, frozen=True, kw_only=True, tag=True):
    """The events written together with this one follow from an input of *guest*, the *count*-th of that guest.

    By it an input that comes twice counts once, also after the host was restarted. Changes no session.
    """

    guest: str
    count: int


class Paused(Event_, frozen=True, kw_only=True, tag=True):
    pass


class Unpaused(Event_, frozen=True, kw_only=True, tag=True):
    pass


class PaceSet(Event_, frozen=True, kw_only=True, tag=True):
    pace: float
    because: str = ""


class AidSet(Event_, frozen=True, kw_only=True, tag=True):
    aid: Literal["guided", "drill"]
    withhold: bool = False


class Trace(Event_, frozen=True, kw_only=True, tag=True):
    """A thinned record of readings, for replay and for drawing the path. Changes no session."""

    values: dict[str, Scalar | None]


class Checkpoint(Event_, frozen=True, kw_only=True, tag=True):
    """The aeroplane (packed) and the truths of the scenario's script, to take a flight up again. Changes no session."""

    plane: str
    truths: tuple[bool | None, ...]
    truth_at: tuple[int, ...]


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
    | ScriptHeld
    | Heard
    | PlanRevised
    | Paused
    | Unpaused
    | PaceSet
    | AidSet
    | Trace
    | Checkpoint
    | Noted
    | PilotPlayed
    | LapseMade
    | InputTaken
)
