"""Two decks of 5,000 items are compared in no more time than one of them takes to load."""

import time
from collections.abc import Callable
from functools import cache
from typing import TypeVar

import pytest

from flowdeck.compare.comparison import compare
from flowdeck.model.deck import Deck
from flowdeck.phasefile.loaddeck import load_deck
from tests.conftest import Measured
from tests.support.large import large_files

T = TypeVar("T")
FILES = {name: text.encode() for name, text in large_files(5000).items()}


def spent(of: Callable[[], T]) -> tuple[float, T]:
    """CPU seconds of this process, the least of three, and the answer."""
    least, answer = float("inf"), None
    for _ in range(3):
        begun = time.process_time()
        answer = of()
        least = min(least, time.process_time() - begun)
    assert answer is not None
    return least, answer


def loaded(old: str = "", new: str = "") -> Deck:
    return load_deck("large", {n: raw.replace(old.encode(), new.encode()) if old else raw for n, raw in FILES.items()})[
        0
    ]


@cache
def base() -> tuple[float, Deck]:
    """What one load takes, and the deck: measured once for every case."""
    return spent(loaded)


@pytest.mark.parametrize(
    ("name", "old", "new", "changes"),
    [
        ("the same", "", "", 0),
        ("every item reworded", "do: Panel", "do: The panel", 5000),
        ("every item's proof", "seen: \"altitude_ft < ", "seen: \"altitude_ft < 1", 5000),
        ("every item renamed", "item: more-", "item: other-", 5000),
        ("every flow later", "late: {after_s: 30}", "late: {after_s: 40}", 250),
    ],
)  # fmt: skip
def test_large_decks(name: str, old: str, new: str, changes: int, measured: Measured) -> None:
    load_s, deck = base()
    other = loaded(old, new)
    compare_s, found = spent(lambda: compare(deck, other))
    measured(f"5,000 items, {name}: compared in {compare_s * 1000:.0f} ms, loaded in {load_s * 1000:.0f} ms")
    assert abs(len(found.changes) - changes) <= 1
    assert compare_s <= load_s
