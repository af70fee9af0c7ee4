"""How a crew plays: which seats, how fast, and which slips it makes. And what it remembers between two looks."""

from collections.abc import Sequence

from msgspec import Struct

from flowdeck.engine.owed import Duty, Owed
from flowdeck.model.chance import between
from flowdeck.model.scenario import Planted
from flowdeck.model.seats import Seat

PACE_MS: dict[Duty, int] = {
    Duty.DO: 1800,
    Duty.SAY: 900,
    Duty.ANSWER_CALL: 900,
    Duty.READ: 1200,
    Duty.ANSWER: 1300,
    Duty.POINT: 700,
}
"""How long a duty takes (ms), `our proposal`; others take 1000."""
HURRIED_MS = 300
"""How long a hurried line takes to read or to answer (ms), `our proposal`: shorter than any look."""
THINK_MS = 600
"""Time (ms) to take something in before doing it."""
PLAYED_THINK_MS: dict[Duty, int] = {
    Duty.REPLY: 1200,
    Duty.TAKE_CONTROL: 1200,
    Duty.CONFIRM_CONTROL: 900,
    Duty.SAY: 500,
    Duty.CALL_LIST: 2500,
    Duty.DO: 1500,
}
"""The same of a pilot with a person beside it, who wants to follow (ms), `our proposal`; others take 800."""
_SPREAD = (0.75, 1.5)
"""Between these the time of a played pilot is drawn, as a multiple."""
_BUSY_EACH, _BUSIEST = 0.12, 1.6
"""By how much each further thing that is owed slows a played pilot down, and at the most."""


class Manner(Struct, frozen=True, kw_only=True):
    """*pace*: how long a seat takes, as a multiple of the usual. *seed*: times are drawn by it; None: always the same.

    *urgent_only*: taken up by something from outside; calls, control and challenges are still attended to.
    """

    seats: tuple[Seat, ...] = (Seat.CAPTAIN, Seat.FIRST_OFFICER)
    planted: tuple[Planted, ...] = ()
    pace: dict[Seat, float] = {}
    seed: int | None = None
    urgent_only: bool = False

    @property
    def is_alone(self) -> bool:
        """Whether the other seat is somebody else's."""
        return len(self.seats) == 1

    def pace_of(self, duty: Owed, load: int = 1) -> float:
        """The multiple of the usual time for *duty* with *load* things owed, its seat's own and drawn."""
        pace = self.pace.get(duty.seat, 1.0)
        if self.seed is None:
            return pace
        drawn = between(*_SPREAD, self.seed, f"pace/{duty.duty}/{duty.ref}", duty.since)
        return pace * drawn * min(_BUSIEST, 1 + _BUSY_EACH * (load - 1))

    def think_ms(self, duty: Owed) -> int:
        """Time (ms) before doing it. A script answers a challenge and an offer of control at once."""
        if hurried(self.planted, duty):
            return 0
        if self.seed is not None:
            return PLAYED_THINK_MS.get(duty.duty, 800)
        return 0 if duty.duty in (Duty.REPLY, Duty.TAKE_CONTROL, Duty.CONFIRM_CONTROL) else THINK_MS

    def takes_ms(self, duty: Owed) -> int:
        """For how long (ms) the seat is taken up by it. Who is about to take it back does nothing else until then."""
        undone = planted_for(self.planted, duty.ref, "undo")
        if undone is not None:
            return round(undone.by_s * 1000) + 500
        return HURRIED_MS if hurried(self.planted, duty) else PACE_MS.get(duty.duty, 1000)


class Memory(Struct, frozen=True, kw_only=True):
    """What the crew remembers: until when each seat is busy (ms), when each slip was played, wrong words once said.

    Of a played pilot, *said_at*: when it said a wrong word (ms); *spoken*: how often it has spoken up about a thing and
    when last (ms); *noticed*: since when it knows.
    """

    busy: dict[Seat, int] = {}
    played: dict[Planted, int] = {}
    held_at: dict[str, int] = {}
    said: frozenset[str] = frozenset()
    answered_gates: frozenset[str] = frozenset()
    let_slip: frozenset[str] = frozenset()
    said_at: dict[str, int] = {}
    spoken: dict[str, tuple[int, int]] = {}
    noticed: dict[str, int] = {}

    def released(self, p: Planted, now: int) -> bool:
        """Whether a planted hold is over; one of 0 s never is."""
        held = self.held_at.get(p.ref)
        return held is None or (p.by_s > 0 and now - held >= p.by_s * 1000)


BLANK = Memory()
"""Of a crew that takes over in the middle of a flight."""


def planted_for(planted: Sequence[Planted], ref: str, kind: str) -> Planted | None:
    """The slip of this kind on *ref*, if one is planted."""
    return next((p for p in planted if p.ref == ref and p.kind == kind), None)


def hurried(planted: Sequence[Planted], duty: Owed) -> bool:
    return duty.duty in (Duty.READ, Duty.ANSWER) and any(
        planted_for(planted, ref, "hurry") is not None for ref in (duty.ref, duty.checklist)
    )
