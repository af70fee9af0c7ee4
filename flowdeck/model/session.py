"""The session: all that is known of a flight at one moment, the fold of its events.

The law: a Session is changed only by `flowdeck.engine.evolve`, holds no reading of a signal (only
which conditions are true), and always has a pilot flying.
"""

from enum import StrEnum
from typing import Literal

from msgspec import Struct
from msgspec.structs import astuple

from flowdeck.model.change import Change
from flowdeck.model.condition import Scalar, Truth
from flowdeck.model.deviation import Deviation
from flowdeck.model.events import UndoKind
from flowdeck.model.seats import Seat


class Status(StrEnum):
    """Where an item stands. Items not in the session's table are *waiting* (window not open)."""

    WAITING = "waiting"
    OPEN = "open"
    PARTLY = "partly"
    DONE = "done"
    DEFERRED = "deferred"
    LAPSED = "lapsed"


class Evidence(StrEnum):
    SEEN = "seen"
    SAID = "said"
    FOUND = "found"


class ItemState(Struct, frozen=True, kw_only=True):
    """One item's standing. Times are ms of session time; *read_at* is when a line was challenged."""

    status: Status = Status.WAITING
    evidence: Evidence | None = None
    opened_at: int | None = None
    overdue: bool = False
    missed: bool = False
    done_at: int | None = None
    seat: Seat | None = None
    partly: tuple[Seat, ...] = ()
    pointed: bool = False
    value: Scalar | None = None
    shown: str = ""
    verify_at: int | None = None
    prompted: bool = False
    read_at: int | None = None
    skipped: bool = False
    cue: str | None = None
    back_at: int | None = None
    cue_late_at: int | None = None
    times: int = 0

    @property
    def is_done(self) -> bool:
        return self.status is Status.DONE

    @property
    def is_owed(self) -> bool:
        return self.status in (Status.OPEN, Status.PARTLY)


class ListStatus(StrEnum):
    WAITING = "waiting"
    OPEN = "open"
    CALLED = "called"
    HELD = "held"
    COMPLETE = "complete"
    LAPSED = "lapsed"


class ListState(Struct, frozen=True, kw_only=True):
    """One list's standing. *reread*: the line to re-confirm on resuming.

    *answered* holds the times of the last answers (ms), to tell a burst.
    """

    status: ListStatus = ListStatus.WAITING
    opened_at: int | None = None
    overdue_call: bool = False
    overdue_completion: bool = False
    prompted: bool = False
    called_at: int | None = None
    called_by: Seat | None = None
    answered: tuple[int, ...] = ()
    held_at: int | None = None
    hold: str = ""
    passed_holds: tuple[str, ...] = ()
    reread: str = ""
    completed_at: int | None = None
    all_closed_at: int | None = None

    @property
    def is_running(self) -> bool:
        return self.status in (ListStatus.CALLED, ListStatus.HELD)


class GateState(Struct, frozen=True, kw_only=True):
    status: Literal["passed", "failed", "mended", "overrun"]
    at: int
    failing: tuple[str, ...] = ()
    decide_at: int | None = None


class Undoable(Struct, frozen=True, kw_only=True):
    """Something this seat may take back: what stood before it, and how the act left things."""

    seat: Seat
    what: UndoKind
    ref: str
    at: int
    items_before: tuple[tuple[str, ItemState], ...] = ()
    lists_before: tuple[tuple[str, ListState], ...] = ()
    items_after: tuple[tuple[str, ItemState], ...] = ()
    lists_after: tuple[tuple[str, ListState], ...] = ()


class OpenChallenge(Struct, frozen=True, kw_only=True):
    at: int
    seat: Seat
    about: str
    reply_by: int


class Revision(Struct, frozen=True, kw_only=True):
    """The last change of the plan."""

    at: int
    because: str
    changes: tuple[Change, ...]


class Interruption(Struct, frozen=True, kw_only=True):
    words: str
    until: int
    safety: bool


class Session(Struct, frozen=True, kw_only=True, eq=False):
    """See the module. *seq* counts the events folded so far.

    *remarks*: what was said from outside, with its time (ms), the last of them.

    *sealed*: seats whose slips are kept from the crew until they are caught; see `flowdeck.wire.seal`.

    *known* holds the last truth of each condition that was not unknown: a signal that was stale and
    comes back unchanged makes nothing come true.

    Compared by identity, so that what is worked out from a session can be kept beside it; `same`
    compares by value.
    """

    seq: int = 0
    at: int = 0
    phase: str = ""
    phase_at: int = 0
    approach: int = 1
    how: str = ""
    flying: Seat = Seat.CAPTAIN
    solo: bool = True
    sealed: tuple[Seat, ...] = ()
    facts: dict[str, bool | None] = {}
    items: dict[str, ItemState] = {}
    lists: dict[str, ListState] = {}
    gates: dict[str, GateState] = {}
    times: dict[str, int] = {}
    done: frozenset[str] = frozenset()
    facts_at_start: dict[str, bool | None] = {}
    truths: tuple[Truth, ...] = ()
    known: tuple[Truth, ...] = ()
    truth_at: tuple[int, ...] = ()
    visited: tuple[tuple[str, int], ...] = ()
    deviations: tuple[Deviation, ...] = ()
    offered: Seat | None = None
    taken: bool = False
    control_at: int = 0
    challenge: OpenChallenge | None = None
    challenges: dict[str, int] = {}
    challenged: dict[str, tuple[Seat, int]] = {}
    takeover: Seat | None = None
    interruption: Interruption | None = None
    heard: tuple[str, int] | None = None
    remarks: tuple[tuple[int, str], ...] = ()
    revision: Revision | None = None
    undo: tuple[Undoable, ...] = ()
    paused: bool = False
    pace: float = 1.0
    aid: Literal["guided", "drill"] = "guided"
    withhold: bool = False
    ended: str = ""

    def item(self, ref: str) -> ItemState:
        return self.items.get(ref, _WAITING_ITEM)

    def list(self, ref: str) -> ListState:
        return self.lists.get(ref, _WAITING_LIST)

    @property
    def monitoring(self) -> Seat:
        return self.flying.other


def same(first: Session, second: Session) -> bool:
    """Whether two sessions are equal in every field."""
    return bool(astuple(first) == astuple(second))


_WAITING_ITEM = ItemState()
_WAITING_LIST = ListState()
