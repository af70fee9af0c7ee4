"""A deck: everything that is owed from approach to a secured aeroplane, as one frozen value.

Conditions live in one table (`Deck.conditions`); everything else refers to them by number, so that
one compiled call can answer all of them. Every thing a pilot owes is an `Item`, whatever it is
called in the trade: an action of a flow, a line of a list, a call, the answer to a call, and the
two halves of a standing item. They differ by `kind`, and share windows, edges, seats and evidence.
"""

import re
from enum import StrEnum
from typing import Literal, TypeAlias

from msgspec import Struct

from flowdeck.model.condition import Condition, Scalar
from flowdeck.model.seats import Owner, Seat
from flowdeck.model.signals import Signal

PLACEHOLDER = re.compile(r"\{([a-z0-9_]+)\}")
"""A signal in shown text: `{selected_altitude_ft}` is replaced by its reading."""

Ref: TypeAlias = int
"""The number of a condition in `Deck.conditions`."""


class ItemKind(StrEnum):
    ACTION = "action"
    LINE = "line"
    CALL = "call"
    ANSWER = "answer"
    STANDING_ON = "standing_on"
    STANDING_OFF = "standing_off"


class Limit(Struct, frozen=True, kw_only=True):
    """A moment in a window: a condition, or seconds from the opening (or from mark or item *start*)."""

    when: Ref | None = None
    after_s: float | None = None
    start: str | None = None


class Edge(Struct, frozen=True, kw_only=True):
    """*before* must come first. Hard edges say why: *reason*, and its *kind* (safety, damage, order)."""

    before: str
    hard: bool = False
    reason: str = ""
    kind: Literal["safety", "damage", "order"] = "order"


class Need(Struct, frozen=True, kw_only=True):
    """A condition that must hold at the moment of acting (a speed limit, say). Unknown forbids nothing."""

    that: Ref
    reason: str
    kind: Literal["safety", "damage", "order"] = "safety"


class Move(Struct, frozen=True, kw_only=True):
    """What an action moves in the flown aeroplane: *signal* goes to *to* (or to what signal *same_as* reads)."""

    signal: str
    to: Scalar | None = None
    same_as: str | None = None
    in_s: float = 1.0


class Item(Struct, frozen=True, kw_only=True):
    """One thing that one pilot (or both) owes.

    *do* and *to* are the action and the state (`Flaps`, `UP`); for a line the challenge and the
    response; for a call *do* is the words to say. *to* may hold `{signal}`, shown with its reading.
    *value* names the signal whose reading is the right value to key or to answer.
    *seen* is the condition that proves it. *again* items open anew each time *opens* comes true.
    """

    id: str
    kind: ItemKind
    phases: tuple[str, ...]
    group: str
    by: Owner
    do: str
    to: str = ""
    why: str = ""
    value: str | None = None
    opens: Ref | None = None
    due: Limit | None = None
    late: Limit | None = None
    missed: Limit | None = None
    early: str = ""
    again: bool = False
    when: Ref | None = None
    unless: Ref | None = None
    seen: Ref | None = None
    moves: tuple[Move, ...] = ()
    after: tuple[Edge, ...] = ()
    needs: tuple[Need, ...] = ()
    verifies: tuple[str, ...] = ()
    reopened_by: tuple[str, ...] = ()
    cue: str | None = None
    critical: bool = False
    point: bool = False
    reverify: bool = False
    survives: bool = False
    tells: str | None = None
    partner: str | None = None


class HoldPoint(Struct, frozen=True, kw_only=True):
    """Where a list stops, before line number *before* (from 0), until *until* is true."""

    id: str
    title: str
    before: int
    until: Ref


class Checklist(Struct, frozen=True, kw_only=True):
    """A list that verifies. *late* is the limit for its call, *complete_by* for its completion call."""

    id: str
    title: str
    phase: str
    mode: Literal["verify", "read_do"]
    called_by: Owner
    read_by: Owner
    opens: Ref
    lines: tuple[str, ...]
    completion: str
    holds: tuple[HoldPoint, ...] = ()
    due: Limit | None = None
    late: Limit | None = None
    complete_by: Limit | None = None
    not_while: Ref | None = None
    after: tuple[Edge, ...] = ()
    when: Ref | None = None
    unless: Ref | None = None
    survives: bool = False
    why: str = ""


class Must(Struct, frozen=True, kw_only=True):
    that: Ref
    words: str


class Gate(Struct, frozen=True, kw_only=True):
    """Conditions that must all hold when *at* comes true.

    *orders* is what a failed gate asks for: a go-around within *within_s* seconds, or a stop: none
    of the items in *stops* until the conditions hold.
    """

    id: str
    title: str
    phases: tuple[str, ...]
    at: Ref
    must: tuple[Must, ...]
    orders: Literal["go_around", "stop"]
    within_s: float = 6.0
    stops: tuple[str, ...] = ()
    when: Ref | None = None
    unless: Ref | None = None
    why: str = ""


class Exit(Struct, frozen=True, kw_only=True):
    """A way out of a phase, taken when *when* is true. *to* is a phase or an end of the deck."""

    to: str
    when: Ref


class Group(Struct, frozen=True, kw_only=True):
    """A flow, or a set of calls or standing items, with its items in order."""

    id: str
    title: str
    phase: str
    kind: Literal["flow", "calls", "standing"]
    items: tuple[str, ...]


class Phase(Struct, frozen=True, kw_only=True):
    """A state of the machine. *airborne*: the go-around is open from here until the deck's `committed`.

    *seats*: who is in the seat here; nothing may be owed by a pilot who is not.
    """

    id: str
    title: str
    exits: tuple[Exit, ...]
    airborne: bool = False
    clears: bool = False
    strip: tuple[str, ...] = ()
    seats: tuple[Seat, ...] = (Seat.CAPTAIN, Seat.FIRST_OFFICER)


class Fact(Struct, frozen=True, kw_only=True):
    """Something only people can tell. *by*: `crew`, or `outside` (the controller, the cabin, the ground).

    One that *lasts* for an approach is as at the start again after a go-around.
    """

    id: str
    title: str
    by: Literal["crew", "outside"] = "crew"
    initial: bool | None = False
    phases: tuple[str, ...] = ()
    toggles: bool = False
    lasts: Literal["flight", "approach"] = "flight"


class Mark(Struct, frozen=True, kw_only=True):
    """A named moment, for `since()` and limits; one with a *title* is shown on the spine."""

    id: str
    when: Ref
    title: str = ""


class Cue(Struct, frozen=True, kw_only=True):
    """A moment at which a deferred item comes back."""

    id: str
    title: str
    when: Ref


class Policy(Struct, frozen=True, kw_only=True):
    """Values an operator sets. All defaults: common practice, no source, unless another mark stands here."""

    look_s: float = 0.8  # faster than this is no look; NTSB/AAR-89/04 speaks of under 1 s (second-hand)
    burst_lines: int = 3
    burst_s: float = 1.5
    settle_s: float = 4.0
    hold_restart_s: float = 120.0
    completion_s: float = 20.0
    answer_s: float = 5.0
    cue_reply_s: float = 60.0
    challenge_s: float = 5.0
    calm_before_s: float = 15.0


class Identity(Struct, frozen=True, kw_only=True):
    title: str
    version: str
    date: str
    type: str
    operator: str
    status: str
    effectivity: str = ""


class Deck(Struct, frozen=True, kw_only=True, eq=False):
    """A compiled deck. *hash* is of its sources, so that a changed file shows as such.

    Decks are compared by identity, so that what is worked out once for a deck can be kept beside it.
    """

    id: str
    identity: Identity
    hash: str
    start: str
    ends: tuple[str, ...]
    go_around: str
    committed: Ref
    sterile: Ref | None
    revised: str = ""
    signals: tuple[Signal, ...]
    conditions: tuple[Condition, ...]
    phases: dict[str, Phase]
    groups: dict[str, Group]
    items: dict[str, Item]
    checklists: dict[str, Checklist]
    gates: dict[str, Gate]
    facts: dict[str, Fact]
    marks: dict[str, Mark]
    cues: dict[str, Cue]
    policy: Policy
    glossary: dict[str, str] = {}
