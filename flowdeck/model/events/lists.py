"""What happens to one checklist."""

from typing import Literal, TypeAlias

from flowdeck.model.condition import Scalar
from flowdeck.model.events.base import Event_
from flowdeck.model.seats import Seat


class ListOpened(Event_, frozen=True, kw_only=True, tag=True):
    """Its window opened: from now on it may be called."""

    checklist: str


class ListCalled(Event_, frozen=True, kw_only=True, tag=True):
    """*lines*: its lines; whatever was answered before is void, since the list is called anew."""

    checklist: str
    seat: Seat
    lines: tuple[str, ...] = ()


class ListOverdue(Event_, frozen=True, kw_only=True, tag=True):
    """*of*: the call of the list, or its completion."""

    checklist: str
    of: Literal["call", "completion"]


class LineRead(Event_, frozen=True, kw_only=True, tag=True):
    """*passes*: the hold point that this reading goes past."""

    checklist: str
    line: str
    seat: Seat
    passes: str = ""


class LineAnswered(Event_, frozen=True, kw_only=True, tag=True):
    checklist: str
    line: str
    seat: Seat
    value: Scalar | None = None
    closed: bool = True


class AnswerNotTaken(Event_, frozen=True, kw_only=True, tag=True):
    """What was said to a challenge and did not close its line. Judged by a deviation of its own."""

    checklist: str
    line: str
    seat: Seat
    value: Scalar


class LineSkipped(Event_, frozen=True, kw_only=True, tag=True):
    checklist: str
    line: str
    seat: Seat


class ListHeld(Event_, frozen=True, kw_only=True, tag=True):
    """*hold* names the hold point, empty for a hold of the crew's own. *spoken* is false if only seen."""

    checklist: str
    seat: Seat | None
    hold: str = ""
    why: str = ""
    spoken: bool = True


class ListResumed(Event_, frozen=True, kw_only=True, tag=True):
    """*line* is read again to re-confirm the place (empty: nothing was done yet).

    *restart*: from the top; *lines* are the lines that are void by that.
    """

    checklist: str
    seat: Seat
    line: str = ""
    restart: bool = False
    lines: tuple[str, ...] = ()


class ListClosed(Event_, frozen=True, kw_only=True, tag=True):
    """Every line of a running list is closed; only the completion call is missing."""

    checklist: str


class ListCompleted(Event_, frozen=True, kw_only=True, tag=True):
    """*exceptions*: deferred lines or items named in the completion call."""

    checklist: str
    seat: Seat
    exceptions: tuple[str, ...] = ()


class ListLapsed(Event_, frozen=True, kw_only=True, tag=True):
    """Its phase ended and it was not called."""

    checklist: str


class ListWithdrawn(Event_, frozen=True, kw_only=True, tag=True):
    """No longer owed; it waits for its window again."""

    checklist: str


ListEvent: TypeAlias = (
    ListOpened
    | ListCalled
    | ListOverdue
    | LineRead
    | LineAnswered
    | AnswerNotTaken
    | LineSkipped
    | ListHeld
    | ListResumed
    | ListClosed
    | ListCompleted
    | ListLapsed
    | ListWithdrawn
)
