"""What passes between the two pilots, and what was taken back or refused."""

from typing import Literal, TypeAlias

from flowdeck.model.events.base import Event_
from flowdeck.model.seats import Seat


class ControlOffered(Event_, frozen=True, kw_only=True, tag=True):
    seat: Seat


class ControlTaken(Event_, frozen=True, kw_only=True, tag=True):
    seat: Seat


class ControlConfirmed(Event_, frozen=True, kw_only=True, tag=True):
    flying: Seat
    seized: bool = False


class Challenged(Event_, frozen=True, kw_only=True, tag=True):
    seat: Seat
    about: str
    reply_by: int


class Replied(Event_, frozen=True, kw_only=True, tag=True):
    seat: Seat


class ReplyMissed(Event_, frozen=True, kw_only=True, tag=True):
    seat: Seat
    about: str
    count: int


UndoKind: TypeAlias = Literal["tick", "point", "answer", "call", "hold", "skip", "completion", "deferral"]
"""What can be taken back."""


class Undone(Event_, frozen=True, kw_only=True, tag=True):
    """*ref*: its item or list."""

    seat: Seat
    what: UndoKind
    ref: str


class Refused(Event_, frozen=True, kw_only=True, tag=True):
    """An input that could not be taken, and why. Kept: what was tried is part of the story."""

    what: str
    because: str
    seat: Seat | None = None


CrewEvent: TypeAlias = (
    ControlOffered | ControlTaken | ControlConfirmed | Challenged | Replied | ReplyMissed | Undone | Refused
)
