"""What people, instruments and the clock may say to the engine. Requests, so in the imperative.

Every input carries *at*, milliseconds of session time. Nothing in an input says who sent it: a key
press, a scripted crew and a guest at the other end of a wire look the same.
"""

from typing import Literal, TypeAlias

from msgspec import Struct

from flowdeck.model.change import Change
from flowdeck.model.condition import Scalar
from flowdeck.model.seats import Seat


class _Input(Struct, frozen=True, kw_only=True, tag=True):
    at: int


class _BySeat(_Input, frozen=True, kw_only=True, tag=True):
    seat: Seat


class Act(_BySeat, frozen=True, kw_only=True, tag=True):
    """Do an item, make a call or give its answer; *value* where one is keyed."""

    item: str
    value: Scalar | None = None


class Point(_BySeat, frozen=True, kw_only=True, tag=True):
    """Touch or point at a marked item before it is done."""

    item: str


class CallList(_BySeat, frozen=True, kw_only=True, tag=True):
    checklist: str


class ReadLine(_BySeat, frozen=True, kw_only=True, tag=True):
    """Read the next challenge aloud."""

    checklist: str


class Answer(_BySeat, frozen=True, kw_only=True, tag=True):
    """Answer the challenge that was read; *value* is what was said (None: the words of the card)."""

    line: str
    value: Scalar | None = None


class SkipLine(_BySeat, frozen=True, kw_only=True, tag=True):
    checklist: str


class HoldList(_BySeat, frozen=True, kw_only=True, tag=True):
    """Say aloud that the list stops here. *why* is free text."""

    checklist: str
    why: str = ""


class ResumeList(_BySeat, frozen=True, kw_only=True, tag=True):
    checklist: str
    restart: bool = False


class CompleteList(_BySeat, frozen=True, kw_only=True, tag=True):
    checklist: str


class Defer(_BySeat, frozen=True, kw_only=True, tag=True):
    """Put an item off until a cue of the deck, or until *in_s* seconds from now. One of the two is needed."""

    item: str
    cue: str | None = None
    in_s: float | None = None


class Tell(_Input, frozen=True, kw_only=True, tag=True):
    """Tell a fact. *seat* is None when it comes from outside the flight deck."""

    fact: str
    value: bool = True
    seat: Seat | None = None


class Transfer(_BySeat, frozen=True, kw_only=True, tag=True):
    part: Literal["offer", "take", "confirm"]


class TakeOver(_BySeat, frozen=True, kw_only=True, tag=True):
    """Take control without an offer (two challenges unanswered, or a pilot unwell)."""


class Challenge(_BySeat, frozen=True, kw_only=True, tag=True):
    """Tell the other pilot that something is off: *about* is an item, a list or a parameter."""

    about: str


class Reply(_BySeat, frozen=True, kw_only=True, tag=True):
    """Answer the other pilot's challenge."""


class GoAround(_BySeat, frozen=True, kw_only=True, tag=True):
    how: Literal["go_around", "discontinued"] = "go_around"


class Undo(_BySeat, frozen=True, kw_only=True, tag=True):
    """Take back this seat's last tick, answer, call, hold or deferral of this phase."""


class Interrupt(_Input, frozen=True, kw_only=True, tag=True):
    """Something from outside that takes the crew's attention for *length_s* seconds."""

    words: str
    length_s: float
    safety: bool = False


class Revise(_Input, frozen=True, kw_only=True, tag=True):
    """The plan has changed, as a new weather report or runway does; readings already show it. *because*: in words.

    *report*: the weather report that did it, if one was given by hand.
    """

    because: str
    changes: tuple[Change, ...]
    report: str = ""


class Pause(_Input, frozen=True, kw_only=True, tag=True):
    pass


class Unpause(_Input, frozen=True, kw_only=True, tag=True):
    pass


class SetPace(_Input, frozen=True, kw_only=True, tag=True):
    pace: float


class SetAid(_Input, frozen=True, kw_only=True, tag=True):
    """*aid*: guided shows what is next, drill does not. *withhold*: no prompts until the debrief."""

    aid: Literal["guided", "drill"]
    withhold: bool = False


class Sample(_Input, frozen=True, kw_only=True, tag=True):
    """Signals were heard; their values are already in the Readings beside the session."""


class Tick(_Input, frozen=True, kw_only=True, tag=True):
    """Time has passed."""


Input: TypeAlias = (
    Act
    | Point
    | CallList
    | ReadLine
    | Answer
    | SkipLine
    | HoldList
    | ResumeList
    | CompleteList
    | Defer
    | Tell
    | Transfer
    | TakeOver
    | Challenge
    | Reply
    | GoAround
    | Undo
    | Interrupt
    | Revise
    | Pause
    | Unpause
    | SetPace
    | SetAid
    | Sample
    | Tick
)
