"""Chance as a value: the same seed, key and number always draw the same, whatever was drawn before.

The law: a draw hangs on nothing but its arguments, so that work may be shared out in any order.
"""

from collections.abc import Sequence
from hashlib import blake2b
from typing import TypeVar

T = TypeVar("T")
_SCALE = 1 << 64


def draw(seed: int, key: str, number: int = 0) -> float:
    """A number from 0 up to, and without, 1, evenly spread."""
    digest = blake2b(f"{seed}/{key}/{number}".encode(), digest_size=8).digest()
    return int.from_bytes(digest, "big") / _SCALE


def between(low: float, high: float, seed: int, key: str, number: int = 0) -> float:
    """Evenly from *low* to *high*."""
    return low + (high - low) * draw(seed, key, number)


def one_of(choices: Sequence[T], seed: int, key: str, number: int = 0) -> T:
    """Any of *choices*, all as likely."""
    return choices[int(draw(seed, key, number) * len(choices))]
