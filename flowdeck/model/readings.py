"""The readings beside a session: last value and time of each signal.

The law: a stale or unheard signal is unknown (None), never zero.
"""

from collections.abc import Mapping

from msgspec import Struct

from flowdeck.model.condition import Scalar
from flowdeck.model.signals import Signal


class Reading(Struct, frozen=True):
    """*value* None: reported as failed. *at*: ms of session time at which it was last heard."""

    value: Scalar | None
    at: int


class Readings(Struct, frozen=True):
    """All readings; a value, so `heard` gives a new one."""

    known: dict[str, Reading] = {}

    def heard(self, values: Mapping[str, Scalar | None], at: int) -> "Readings":
        """These readings with *values* heard at *at* (ms)."""
        merged = dict(self.known)
        for name, value in values.items():
            merged[name] = Reading(value, at)
        return Readings(merged)

    def value(self, signal: Signal, now: int) -> Scalar | None:
        """The reading of *signal*, or None when unheard or older than its `stale_s`."""
        reading = self.known.get(signal.name)
        if reading is None or reading.value is None:
            return None
        if signal.stale_s is not None and now - reading.at > signal.stale_s * 1000:
            return None
        return reading.value

    def age_s(self, name: str, now: int) -> float | None:
        """Seconds since *name* was heard, None if never."""
        reading = self.known.get(name)
        return None if reading is None else (now - reading.at) / 1000
