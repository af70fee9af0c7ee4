"""The closed set of slips that flowdeck can detect, with what each means and how much it weighs."""

from enum import StrEnum

from msgspec import Struct

from flowdeck.model.seats import Seat


class Severity(StrEnum):
    ADVICE = "advice"
    CAUTION = "caution"
    WARNING = "warning"

    @property
    def is_weighty(self) -> bool:
        """More than advice: it decides how a command ends."""
        return self is not Severity.ADVICE


class Slip(StrEnum):
    """The classes of deviation. `MEANING` says when each is raised."""

    OMITTED = "omitted"
    LATE = "late"
    EARLY = "early"
    OUT_OF_ORDER = "out_of_order"
    FLOW_ORDER = "flow_order"
    REPEATED = "repeated"
    WRONG_SEAT = "wrong_seat"
    UNVERIFIED = "unverified"
    READ_DO = "read_do"
    ROTE = "rote"
    FROM_MEMORY = "from_memory"
    CHUNKED = "chunked"
    NONSTANDARD_RESPONSE = "nonstandard_response"
    NOT_CALLED = "not_called"
    WRONG_TIME = "wrong_time"
    NO_COMPLETION = "no_completion"
    CALL_MISSED = "call_missed"
    CALL_LATE = "call_late"
    CALL_PROMPTED = "call_prompted"
    GATE_FAILED = "gate_failed"
    CONTINUED_PAST_GATE = "continued_past_gate"
    STANDING_MISSED = "standing_missed"
    STANDING_LEFT_ON = "standing_left_on"
    DEFERRED_LOST = "deferred_lost"


MEANING: dict[Slip, str] = {
    Slip.OMITTED: "An item that was owed, or a line of a list, was still not done when its phase or list ended.",
    Slip.LATE: "An item was not done by its late limit.",
    Slip.EARLY: "An item was done, or a selector moved to its value, before its window opened.",
    Slip.OUT_OF_ORDER: "An item was done before one that must come first, or while a limit forbade it.",
    Slip.FLOW_ORDER: "An item was done before its neighbour in the panel order. Advice only.",
    Slip.REPEATED: "Something already done was done again.",
    Slip.WRONG_SEAT: "The pilot who acted, called or answered was not the one who owes it.",
    Slip.UNVERIFIED: "Said or ticked while the aircraft shows otherwise, or while what it verifies is not done.",
    Slip.READ_DO: "What a line verifies was done only after its challenge had been read.",
    Slip.ROTE: "A line was answered faster than a look takes. Not judged with one person in both seats.",
    Slip.FROM_MEMORY: "A list was called complete with lines that were never read.",
    Slip.CHUNKED: "Several lines were closed in one burst. Not judged with one person in both seats.",
    Slip.NONSTANDARD_RESPONSE: "The answer was not the value or the words that the line asks for.",
    Slip.NOT_CALLED: "A list was not called by its late limit.",
    Slip.WRONG_TIME: "A list was called or read outside its window, or read on past a hold that was not met.",
    Slip.NO_COMPLETION: "All lines were answered, or the list was left on hold, and it was never called complete.",
    Slip.CALL_MISSED: "A call, or the answer owed to it, was not made.",
    Slip.CALL_LATE: "A call was made after its late limit.",
    Slip.CALL_PROMPTED: "A call was made only after the prompt.",
    Slip.GATE_FAILED: "At a gate, not all of its conditions held.",
    Slip.CONTINUED_PAST_GATE: "The approach or action went on after a failed gate.",
    Slip.STANDING_MISSED: "A condition called for an item and it was not done in time.",
    Slip.STANDING_LEFT_ON: "The condition ended and the item was not undone in time.",
    Slip.DEFERRED_LOST: "A deferred item did not come back after its cue.",
}

_ADVICE = frozenset({Slip.FLOW_ORDER, Slip.ROTE, Slip.CHUNKED, Slip.NONSTANDARD_RESPONSE, Slip.CALL_PROMPTED})

ALARMING_REASONS = ("safety", "damage")
"""Kinds of reason for a hard edge; both make its breaking a warning."""


def severity(slip: Slip, hard_reason: str | None = None) -> Severity:
    """How much a slip weighs. *hard_reason*: the kind (`safety`, `damage`) of the hard edge it broke."""
    if slip in _ADVICE:
        return Severity.ADVICE
    if slip is Slip.CONTINUED_PAST_GATE:
        return Severity.WARNING
    if slip is Slip.OUT_OF_ORDER and hard_reason in ALARMING_REASONS:
        return Severity.WARNING
    return Severity.CAUTION


class Trapper(StrEnum):
    """Who caught a slip before the next gate."""

    MAKER = "maker"
    OTHER_SEAT = "other_seat"
    TOOL = "tool"


class Deviation(Struct, frozen=True, kw_only=True):
    """One detected slip. *at* and *trapped_at* are milliseconds of session time.

    *seat* is None when only a signal told of it. *closed* is set by the next gate: from then on it
    stays untrapped. *superseded_by* names the graver one that replaced it (late, then omitted).
    *cures*: when all of these are done it is corrected; likewise when condition *cure_when* is true.
    """

    number: int
    slip: Slip
    severity: Severity
    item: str
    at: int
    expected: str
    actual: str
    seat: Seat | None = None
    reason: str = ""
    phase: str = ""
    trapped_by: Trapper | None = None
    trapped_at: int | None = None
    closed: bool = False
    superseded_by: int | None = None
    cures: tuple[str, ...] = ()
    cure_when: int | None = None

    @property
    def is_open(self) -> bool:
        """Whether it can still be trapped."""
        return self.trapped_by is None and not self.closed and self.superseded_by is None
