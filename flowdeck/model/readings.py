"""The readings beside a session: last value and time of each signal.

The law: a stale or unheard signal is unknown (None), never zero.
"""

from collections.abc import Mapping

from msgspec import Struct

from flowdeck.model.condition import Scalar
from flowdeck.model.signals import Signal


class Readings(Struct, frozen=True):
    """All readings; a value, so `heard` gives a new one.

    *values*: what each signal showed last, None when it was reported as failed. *at*: ms of session time
    at which it was heard. *oldest*: the ms before which none of them was heard, so that one comparison
    tells that nothing is stale.
    """

    values: dict[str, Scalar | None] = {}
    at: dict[str, int] = {}
    oldest: int = 0

    def heard(self, values: Mapping[str, Scalar | None], at: int) -> "Readings":
        """These readings with *values* heard at *at* (ms)."""
        merged = {**self.values, **values}
        times = {**self.at, **dict.fromkeys(values, at)}
        return Readings(merged, times, at if len(times) == len(values) else min(times.values(), default=at))

    def value(self, signal: Signal, now: int) -> Scalar | None:
        """The reading of *signal*, or None when unheard or older than its `stale_s`."""
        value = self.values.get(signal.name)
        if value is None or (signal.stale_s is not None and now - self.at[signal.name] > signal.stale_s * 1000):
            return None
        return value

    def age_s(self, name: str, now: int) -> float | None:
        """Seconds since *name* was heard, None if never."""
        at = self.at.get(name)
        return None if at is None else (now - at) / 1000
