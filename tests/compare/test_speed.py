"""Two large decks are compared in about the time that one of them takes to load: 1,500 items, in the soak 5,000."""

import time
from collections.abc import Callable
from functools import cache, partial
from typing import TypeVar

import pytest

from flowdeck.compare.comparison import compare
from flowdeck.model.deck import Deck
from flowdeck.phasefile.loaddeck import load_deck
from tests.conftest import Measured
from tests.support.daily import some
from tests.support.large import large_files

T = TypeVar("T")


def spent(of: Callable[[], T]) -> tuple[float, T]:
    """CPU seconds of this process, and the answer."""
    begun = time.process_time()
    answer = of()
    return time.process_time() - begun, answer


@cache
def files(items: int) -> dict[str, bytes]:
    return {name: text.encode() for name, text in large_files(items).items()}


def loaded(items: int, old: str = "", new: str = "") -> Deck:
    raws = {name: raw.replace(old.encode(), new.encode()) if old else raw for name, raw in files(items).items()}
    return load_deck("large", raws)[0]


CASES = [
    ("the same", "", "", 0),
    ("every item reworded", "do: Panel", "do: The panel", 1),
    ("every item's proof", "seen: \"altitude_ft < ", "seen: \"altitude_ft < 1", 1),
    ("every item renamed", "item: more-", "item: other-", 1),
    ("every flow later", "late: {after_s: 30}", "late: {after_s: 40}", 20),
]  # fmt: skip


@pytest.mark.parametrize("items", some([1500, 5000], [1500]))
@pytest.mark.parametrize(("name", "old", "new", "items_a_change"), some(CASES, [CASES[1], CASES[3]]))
def test_large_decks(name: str, old: str, new: str, items_a_change: int, items: int, measured: Measured) -> None:
    other = loaded(items, old, new)
    load_s = compare_s = float("inf")
    for _ in range(3):  # by turns, so that a machine that slows down slows both; the least of each counts
        once_s, deck = spent(partial(loaded, items))
        load_s = min(load_s, once_s)
        once_s, found = spent(partial(compare, deck, other))
        compare_s = min(compare_s, once_s)
    measured(f"{items:,} items, {name}: compared in {compare_s * 1000:.0f} ms, loaded in {load_s * 1000:.0f} ms")
    assert abs(len(found.changes) - (items // items_a_change if items_a_change else 0)) <= 1
    assert compare_s <= load_s * 1.5  # of which a third is left to a machine that has other things to do
