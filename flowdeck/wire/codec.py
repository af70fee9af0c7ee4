"""Values to bytes and back, by msgspec: one JSON object an event, its class name as `type`."""

import base64
import zlib
from typing import Any, TypeVar

import msgspec

from flowdeck.model.deck import Deck
from flowdeck.model.diagnostic import visible
from flowdeck.model.events import Event
from flowdeck.model.scenario import Scenario

LARGEST_DECK = 64_000_000
"""Bytes of an unpacked deck; a packed one that would grow beyond it is refused."""

T = TypeVar("T")

_encoder = msgspec.json.Encoder()
_events: msgspec.json.Decoder[Event] = msgspec.json.Decoder(Event)
_decks = msgspec.json.Decoder(Deck)
_scenarios = msgspec.json.Decoder(Scenario)


class Unreadable(Exception):
    """Bytes that are not what they should be; the message says what was found."""


def encode(value: Any) -> bytes:
    return _encoder.encode(value)


def decode(raw: bytes, kind: type[T], what: str) -> T:
    """A value of *kind*, called *what* in the message. Raises `Unreadable`."""
    return _decode(msgspec.json.Decoder(kind), raw, what)


def decode_event(raw: bytes) -> Event:
    """Raises `Unreadable` for anything that is no event."""
    return _decode(_events, raw, "an event")


def pack_deck(deck: Deck) -> str:
    """A deck as compiled, as text for a journal's header."""
    return _pack(encode(deck))


def unpack_deck(text: str) -> Deck:
    """Raises `Unreadable`."""
    return _decode(_decks, _unpack(text), "a deck")


def pack_scenario(scenario: Scenario) -> str:
    return _pack(encode(scenario))


def unpack_scenario(text: str) -> Scenario:
    """Raises `Unreadable`."""
    return _decode(_scenarios, _unpack(text), "a scenario")


def _pack(raw: bytes) -> str:
    return base64.b85encode(zlib.compress(raw, 9)).decode()


def _unpack(text: str) -> bytes:
    try:
        packer = zlib.decompressobj()
        raw = packer.decompress(base64.b85decode(text), LARGEST_DECK)
    except (ValueError, zlib.error) as error:
        raise Unreadable(f"the packed part cannot be unpacked: {error}") from None
    if packer.unconsumed_tail:
        raise Unreadable(f"the packed part is larger than {LARGEST_DECK:,} bytes")
    return raw


def _decode(decoder: msgspec.json.Decoder[T], raw: bytes, what: str) -> T:
    try:
        return decoder.decode(raw)
    except (msgspec.DecodeError, msgspec.ValidationError, UnicodeDecodeError) as error:
        raise Unreadable(f"this is not {what}: {visible(str(error))}") from None
    except RecursionError:
        raise Unreadable(f"this is not {what}: nested too deeply") from None
