"""What happens to one item, line, call or standing half."""

from typing import TypeAlias

from flowdeck.model.condition import Scalar
from flowdeck.model.events.base import Event_
from flowdeck.model.seats import Seat


class ItemOpened(Event_, frozen=True, kw_only=True, tag=True):
    """Its window opened: it is owed from now on."""

    item: str


class ItemFound(Event_, frozen=True, kw_only=True, tag=True):
    """It was already so when its window opened."""

    item: str
    shown: str = ""


class ItemPointed(Event_, frozen=True, kw_only=True, tag=True):
    item: str
    seat: Seat


class ItemPartly(Event_, frozen=True, kw_only=True, tag=True):
    """One of the two pilots who both owe it has done it."""

    item: str
    seat: Seat


class ItemDone(Event_, frozen=True, kw_only=True, tag=True):
    """Done on a pilot's word. *verify_at*: by then a signal should show it.

    *shown*: the state with the readings of that moment, where the state names readings.
    """

    item: str
    seat: Seat
    value: Scalar | None = None
    verify_at: int | None = None
    prompted: bool = False
    shown: str = ""


class ItemSeen(Event_, frozen=True, kw_only=True, tag=True):
    """A signal shows it: closes an open item (seat not known), or proves one that was said."""

    item: str
    shown: str = ""


class ItemUnproved(Event_, frozen=True, kw_only=True, tag=True):
    """The time to see it has passed and the signal says otherwise."""

    item: str


class ItemReopened(Event_, frozen=True, kw_only=True, tag=True):
    item: str
    because: str


class ItemLapsed(Event_, frozen=True, kw_only=True, tag=True):
    """Its phase ended without it. It may still be done, and that traps the slip."""

    item: str


class ItemWithdrawn(Event_, frozen=True, kw_only=True, tag=True):
    """No longer owed, since its condition went away; it waits for its window again."""

    item: str


class ItemMissed(Event_, frozen=True, kw_only=True, tag=True):
    """Its last moment has passed; it may still be done, and that traps the slip."""

    item: str


class ItemOverdue(Event_, frozen=True, kw_only=True, tag=True):
    """Its late limit has passed."""

    item: str


class ItemDeferred(Event_, frozen=True, kw_only=True, tag=True):
    item: str
    seat: Seat
    cue: str | None = None
    back_at: int | None = None


class CueCame(Event_, frozen=True, kw_only=True, tag=True):
    item: str
    cue: str
    late_at: int


ItemEvent: TypeAlias = (
    ItemOpened
    | ItemFound
    | ItemPointed
    | ItemPartly
    | ItemDone
    | ItemSeen
    | ItemUnproved
    | ItemReopened
    | ItemLapsed
    | ItemWithdrawn
    | ItemMissed
    | ItemOverdue
    | ItemDeferred
    | CueCame
)
