"""What a guest and a host say to each other: one JSON object a message, its class name as `type`.

Numbers of events count from 1, as in the journal; `after` is the number of the last event that a guest has. `count`
numbers what a guest asks for, from 1, so that what comes twice counts once.
"""

from typing import Annotated, Final, TypeAlias, TypeVar

import msgspec
from msgspec import Meta, Struct

from flowdeck.model import inputs as inp
from flowdeck.model.diagnostic import visible
from flowdeck.model.events import Event
from flowdeck.model.seats import Seat
from flowdeck.wire.codec import Unreadable
from flowdeck.wire.fits_events import LONGEST_MS, MOST_INPUTS
from flowdeck.wire.link.bounds import LONGEST_ID, LONGEST_WORDS
from flowdeck.wire.link.stations import Station

T = TypeVar("T")

VERSION: Final = 1
LARGEST_FROM_GUEST: Final = 16 * 1024
"""Bytes."""
LARGEST_FROM_HOST: Final = 8_000_000
"""Bytes."""
MOST_EVENTS: Final = 256
"""In one message."""

Words: TypeAlias = Annotated[str, Meta(max_length=LONGEST_WORDS)]
Id: TypeAlias = Annotated[str, Meta(max_length=LONGEST_ID)]
Count: TypeAlias = Annotated[int, Meta(ge=1, le=MOST_INPUTS)]
Number: TypeAlias = Annotated[int, Meta(ge=0, le=1_000_000_000)]
Secret: TypeAlias = Annotated[str, Meta(pattern=r"^[0-9a-f]{16}\Z")]


class _Message(Struct, frozen=True, kw_only=True, tag=True, omit_defaults=True):
    pass


class Join(_Message, frozen=True, kw_only=True, tag=True):
    """First message of a guest. *guest*: its secret, of its own making; whoever has it may take its place again.

    *after*: the last event that it has of *flight*; *seen*, *mark*: the last of them that was not sealed, and its
    `mark_of`, by which a host that has gone on from an older journal knows that they are not its own. *answered*:
    all that it asked for up to this count has been answered.
    """

    version: int
    guest: Secret
    code: Id
    station: Station
    after: Number = 0
    flight: Id = ""
    seen: Number = 0
    mark: Id = ""
    answered: Annotated[int, Meta(ge=0, le=MOST_INPUTS)] = 0


class Send(_Message, frozen=True, kw_only=True, tag=True):
    """An input; its time is set by the host."""

    count: Count
    input: inp.Input


class Note(_Message, frozen=True, kw_only=True, tag=True):
    """A note about the moment *about* (ms)."""

    count: Count
    about: Annotated[int, Meta(ge=0, le=LONGEST_MS)]
    words: Words


class Weather(_Message, frozen=True, kw_only=True, tag=True):
    """Another weather report for the arrival."""

    count: Count
    report: Words


class Play(_Message, frozen=True, kw_only=True, tag=True):
    """Let a happening of the scenario take place now."""

    count: Count
    happening: Id


class HoldBack(_Message, frozen=True, kw_only=True, tag=True):
    """Keep a happening of the scenario back for *s* seconds."""

    count: Count
    happening: Id
    s: Annotated[float, Meta(ge=0, le=86_400)]


class Again(_Message, frozen=True, kw_only=True, tag=True):
    """Events are missing: send from after this one."""

    after: Number


Asked: TypeAlias = Send | Note | Weather | Play | HoldBack
"""What is numbered and answered by `Taken`."""
FromGuest: TypeAlias = Join | Asked | Again


class Welcome(_Message, frozen=True, kw_only=True, tag=True):
    """Answer to `Join`. *deck*, *scenario*: packed, the scenario without what is planted. *played*: by the tool.

    Events follow from *after* on; 0 where those that the guest has are not of this flight.
    """

    version: int
    disclaimer: str
    flight: str
    deck: str
    scenario: str
    station: Station
    beat_ms: int
    played: tuple[Seat, ...] = ()
    after: int = 0
    number: int = 0
    """Events so far."""


class Happened(_Message, frozen=True, kw_only=True, tag=True):
    """Events from number *first* on; None for one that is sealed."""

    first: Annotated[int, Meta(ge=1)]
    events: Annotated[tuple[Event | None, ...], Meta(max_length=MOST_EVENTS)]


class Revealed(_Message, frozen=True, kw_only=True, tag=True):
    """Events that were sealed, with their numbers."""

    events: Annotated[tuple[tuple[int, Event], ...], Meta(max_length=MOST_EVENTS)]


class Taken(_Message, frozen=True, kw_only=True, tag=True):
    """Answer to what was asked with this count. *refused*: why nothing came of it, in words."""

    count: int
    refused: str = ""


class Present(Struct, frozen=True, array_like=True):
    station: Station
    present: bool


class Roster(_Message, frozen=True, kw_only=True, tag=True):
    """Who has a place, and whether that guest is there now."""

    guests: tuple[Present, ...]


class Beat(_Message, frozen=True, kw_only=True, tag=True):
    """The flight time (ms), the events so far, *gaps*: sealed ones among them; why nothing is saved, if nothing is."""

    at: int
    number: int
    gaps: int = 0
    trouble: str = ""


class Closed(_Message, frozen=True, kw_only=True, tag=True):
    """Last message of a host. *final*: to come again would be of no use."""

    because: str
    final: bool = True


FromHost: TypeAlias = Welcome | Happened | Revealed | Taken | Roster | Beat | Closed

_encoder = msgspec.json.Encoder()
_guests: msgspec.json.Decoder[FromGuest] = msgspec.json.Decoder(FromGuest)
_hosts: msgspec.json.Decoder[FromHost] = msgspec.json.Decoder(FromHost)


def encode(message: FromGuest | FromHost) -> bytes:
    return _encoder.encode(message)


def from_guest(raw: bytes) -> FromGuest:
    """Raises `Unreadable` for anything that is no message of a guest, or too large for one."""
    return _decoded(_guests, raw, LARGEST_FROM_GUEST, "a guest")


def from_host(raw: bytes) -> FromHost:
    """Raises `Unreadable` for anything that is no message of a host, or too large for one."""
    return _decoded(_hosts, raw, LARGEST_FROM_HOST, "a host")


def _decoded(decoder: msgspec.json.Decoder[T], raw: bytes, most: int, whose: str) -> T:
    if len(raw) > most:
        raise Unreadable(f"expected at most {most:,} bytes, found {len(raw):,}")
    try:
        return decoder.decode(raw)
    except (msgspec.DecodeError, msgspec.ValidationError, UnicodeDecodeError) as error:
        raise Unreadable(f"this is no message of {whose}: {visible(str(error))[:LONGEST_WORDS]}") from None
    except RecursionError:
        raise Unreadable(f"this is no message of {whose}: nested too deeply") from None
