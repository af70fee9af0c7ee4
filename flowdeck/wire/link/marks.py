"""What a guest is known by, and how two ends see that they speak of the same event."""

from hashlib import sha256
from zlib import crc32

from flowdeck.model.events import Event
from flowdeck.wire import codec


def known_as(secret: str) -> str:
    """What a guest is known by in journals and to others: nobody finds its secret from it."""
    return sha256(secret.encode()).hexdigest()[:32]


def mark_of(event: Event) -> str:
    """The same for an event that came over the wire as for the one that was sent."""
    return f"{crc32(codec.encode(codec.decode_event(codec.encode(event)))):08x}"
