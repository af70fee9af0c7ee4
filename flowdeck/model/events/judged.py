"""What was judged: gates, slips, prompts."""

from typing import TypeAlias

from flowdeck.model.deviation import Severity, Slip, Trapper
from flowdeck.model.events.base import Event_
from flowdeck.model.seats import Seat


class GatePassed(Event_, frozen=True, kw_only=True, tag=True):
    gate: str


class GateFailed(Event_, frozen=True, kw_only=True, tag=True):
    gate: str
    failing: tuple[str, ...]
    decide_at: int | None = None


class GateMended(Event_, frozen=True, kw_only=True, tag=True):
    """A failed ground gate's conditions hold now, or an airborne one was answered by a go-around."""

    gate: str


class GateOverrun(Event_, frozen=True, kw_only=True, tag=True):
    """The flight went on past a failed gate."""

    gate: str


class DeviationRaised(Event_, frozen=True, kw_only=True, tag=True):
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


class DeviationTrapped(Event_, frozen=True, kw_only=True, tag=True):
    number: int
    by: Trapper


class Prompted(Event_, frozen=True, kw_only=True, tag=True):
    """*seat* was reminded of an item or a list."""

    ref: str
    seat: Seat


JudgeEvent: TypeAlias = (
    GatePassed | GateFailed | GateMended | GateOverrun | DeviationRaised | DeviationTrapped | Prompted
)
