"""The check of a join code, and how long an address that guesses has to wait.

The law: a code is compared in constant time. After three wrong ones an address waits, twice as long after each further
one; what it says meanwhile is not looked at, so that a guess costs its wait whether it was right or not. The table of
addresses is bounded. Times are ms of any clock that only runs on.
"""

from hmac import compare_digest

from msgspec import Struct

FREE_FAILURES = 3
FIRST_WAIT_MS = 500
LONGEST_WAIT_MS = 30_000
FORGIVEN_MS = 600_000
"""After so long without a failure an address begins anew."""
MOST_ADDRESSES = 1000


class Failed(Struct, frozen=True):
    """Wrong codes of one address, the time of the last, and until when nothing is looked at."""

    count: int
    at: int
    until: int


class Door(Struct, frozen=True):
    """*failed*: by address, the one that failed longest ago first."""

    failed: dict[str, Failed] = {}


def wait_ms(door: Door, address: str, now: int) -> int:
    """For how long (ms) nothing from *address* is looked at; 0 when it is."""
    failed = door.failed.get(address)
    return 0 if failed is None else max(0, failed.until - now)


def fits(code: str, offered: str) -> bool:
    """Whether *offered* is the code, in constant time."""
    return compare_digest(code.encode(), offered.encode(errors="surrogatepass"))


def wrong(door: Door, address: str, now: int) -> Door:
    """The door after one more wrong code from *address*; the oldest addresses make room."""
    failed = door.failed.get(address, Failed(0, now, now))
    count = 1 if now - failed.at >= FORGIVEN_MS else failed.count + 1
    doubled = min(count - FREE_FAILURES, 16)
    wait = 0 if doubled < 0 else min(LONGEST_WAIT_MS, FIRST_WAIT_MS << doubled)
    kept = {key: value for key, value in door.failed.items() if key != address}
    kept[address] = Failed(count, now, now + wait)
    for oldest in list(kept)[: max(0, len(kept) - MOST_ADDRESSES)]:
        del kept[oldest]
    return Door(kept)


def right(door: Door, address: str) -> Door:
    """The door after a right code from *address*: what was wrong before is forgotten."""
    return Door({key: value for key, value in door.failed.items() if key != address})
