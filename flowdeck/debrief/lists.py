"""Each time that a checklist was owed or read: called, answered line by line, held, resumed, called complete.

The law: a list that is called anew, or read again from its top, keeps all its replies; a hold ends by a line read
again, by a restart, by the next line read without one, or never.
"""

from collections.abc import Iterable
from typing import Literal, TypeAlias, assert_never

from msgspec import Struct
from msgspec.structs import replace

from flowdeck.model import events as ev
from flowdeck.model.condition import Scalar
from flowdeck.model.deck import Deck
from flowdeck.model.seats import Seat

Way: TypeAlias = Literal["read again", "from the top", "went on", "completed", "never"]
"""How a hold ended."""


class Reply(Struct, frozen=True, kw_only=True):
    """A line's challenge and its answer. *pace*: of time, as it was answered. Undone answers do not count."""

    line: str
    at: int
    seat: Seat
    read_at: int | None = None
    value: Scalar | None = None
    pace: float = 1.0


class Hold(Struct, frozen=True, kw_only=True):
    """*point*: the hold point of the list, empty for one of the crew's own. *spoken*: it was said, not only seen."""

    at: int
    point: str
    why: str
    spoken: bool
    seat: Seat | None
    until: int | None = None
    way: Way = "never"


class Reading(Struct, frozen=True, kw_only=True):
    """One time that *checklist* was owed. Times are ms of session time, None: it did not happen.

    *read*: the lines as they were challenged, a line that was read again twice; *read_at*: when.
    """

    checklist: str
    phase: str
    opened_at: int | None = None
    overdue_at: int | None = None
    prompted: bool = False
    called_at: int | None = None
    called_by: Seat | None = None
    read: tuple[str, ...] = ()
    read_at: tuple[int, ...] = ()
    replies: tuple[Reply, ...] = ()
    skipped: tuple[str, ...] = ()
    holds: tuple[Hold, ...] = ()
    closed_at: int | None = None
    completed_at: int | None = None
    completed_by: Seat | None = None
    exceptions: tuple[str, ...] = ()
    lapsed_at: int | None = None
    withdrawn_at: int | None = None

    @property
    def begun_at(self) -> int:
        known = (self.opened_at, self.called_at, self.completed_at, self.withdrawn_at, self.lapsed_at)
        return min(at for at in known if at is not None)

    @property
    def was_owed(self) -> bool:
        """Whether it had to be called: not withdrawn before it was, nor before its limit ran out."""
        return self.withdrawn_at is None or self.called_at is not None or self.overdue_at is not None


def readings_of(deck: Deck, events: Iterable[ev.Event]) -> tuple[Reading, ...]:
    """Every reading of every list, oldest first."""
    book = _Book(deck)
    for event in events:
        book.take(event)
    return book.closed()


class _Book:
    def __init__(self, deck: Deck) -> None:
        self._phase = deck.start
        self._pace = 1.0
        self._open: dict[str, Reading] = {}
        self._ended: list[Reading] = []
        self._read_at: dict[str, int] = {}

    def closed(self) -> tuple[Reading, ...]:
        readings = (*self._ended, *self._open.values())
        heard = [r for r in readings if (r.opened_at, r.called_at, r.completed_at) != (None, None, None)]
        return tuple(sorted(heard, key=lambda reading: reading.begun_at))

    def take(self, event: ev.Event) -> None:
        match event:
            case ev.FlightStarted() | ev.PhaseEntered():
                self._phase = event.phase
            case ev.PaceSet():
                self._pace = event.pace
            case ev.Prompted() if event.ref in self._open and self._open[event.ref].called_at is None:
                self._open[event.ref] = replace(self._open[event.ref], prompted=True)
            case ev.Undone():
                self._take_back(event)
            case ev.Reset():
                for ref in event.lists:
                    self._end(ref)
            case _:
                if isinstance(event, ev.ListEvent):
                    self._list(event)

    def _list(self, event: ev.ListEvent) -> None:
        ref, at = event.checklist, event.at
        now = self._open.get(ref) or Reading(checklist=ref, phase=self._phase)
        match event:
            case ev.ListOpened():
                self._end(ref)
                now = Reading(checklist=ref, phase=self._phase, opened_at=at)
            case ev.ListCalled():
                if now.completed_at is not None:
                    self._end(ref)
                    now = Reading(checklist=ref, phase=self._phase)
                now = replace(now, called_at=now.called_at or at, called_by=now.called_by or event.seat)
            case ev.ListOverdue(of="call"):
                now = replace(now, overdue_at=at)
            case ev.ListOverdue():
                pass  # that its completion is late shows in the completion's own time
            case ev.ListClosed():
                now = replace(now, closed_at=at)
            case ev.LineRead():
                self._read_at[event.line] = at
                now = _released(replace(now, read=(*now.read, event.line), read_at=(*now.read_at, at)), at, "went on")
            case ev.LineAnswered():
                read_at = self._read_at.get(event.line)
                reply = Reply(
                    line=event.line, at=at, seat=event.seat, read_at=read_at, value=event.value, pace=self._pace
                )
                now = _released(replace(now, replies=(*now.replies, reply)), at, "went on")
            case ev.AnswerNotTaken():
                pass  # the line is still to be answered; what was wrong stands in a deviation
            case ev.LineSkipped():
                now = replace(now, skipped=(*now.skipped, event.line))
            case ev.ListHeld():
                hold = Hold(at=at, point=event.hold, why=event.why, spoken=event.spoken, seat=event.seat)
                now = replace(now, holds=(*now.holds, hold))
            case ev.ListResumed():
                if event.line:
                    self._read_at[event.line] = at
                now = _released(now, at, "from the top" if event.restart else "read again" if event.line else "went on")
            case ev.ListCompleted():
                now = replace(now, completed_at=at, completed_by=event.seat, exceptions=event.exceptions)
                now = _released(now, at, "completed")
            case ev.ListLapsed():
                now = replace(now, lapsed_at=at)
            case ev.ListWithdrawn():
                self._open[ref] = replace(now, withdrawn_at=at)
                self._end(ref)
                return
            case _:
                assert_never(event)
        self._open[ref] = now

    def _end(self, ref: str) -> None:
        reading = self._open.pop(ref, None)
        if reading is not None:
            self._ended.append(reading)

    def _take_back(self, event: ev.Undone) -> None:
        now = self._open.get(event.ref)
        if now is None:
            return
        match event.what:
            case "answer":
                mine = [reply for reply in now.replies if reply.seat is event.seat]
                kept = tuple(reply for reply in now.replies if not mine or reply is not mine[-1])
                now = replace(now, replies=kept, closed_at=None)
            case "call":
                now = replace(now, called_at=None, called_by=None)
            case "hold":
                now = replace(now, holds=now.holds[:-1])
            case "skip":
                now = replace(now, skipped=now.skipped[:-1])
            case "completion":
                now = replace(now, completed_at=None, completed_by=None, exceptions=())
            case "tick" | "point" | "deferral":
                return
            case _:
                assert_never(event.what)
        self._open[event.ref] = now


def _released(reading: Reading, at: int, way: Way) -> Reading:
    """The reading with its hold ended, if it was held."""
    if not reading.holds or reading.holds[-1].until is not None:
        return reading
    return replace(reading, holds=(*reading.holds[:-1], replace(reading.holds[-1], until=at, way=way)))
