"""What a value can be: never narrower than the truth, and where both ends can be met, no wider."""

from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flowdeck.conditions.ranges import ANY, Range, joined, least, most, size, verdict

_FIGURES = {"+": lambda a, b: a + b, "-": lambda a, b: a - b, "*": lambda a, b: a * b, "/": lambda a, b: a / b}
_PAIRS = {"<": lambda a, b: a < b, "<=": lambda a, b: a <= b, ">": lambda a, b: a > b, ">=": lambda a, b: a >= b,
          "==": lambda a, b: a == b, "!=": lambda a, b: a != b}  # fmt: skip
_numbers = st.integers(-8, 8).map(lambda n: n / 4)  # quarters: exact, and some of them between 0 and 1
_ranges = st.tuples(_numbers, _numbers).map(lambda pair: (min(pair), max(pair)))


def points(given_: Range) -> list[float]:
    """The quarters of a range, both ends with them."""
    low, high = given_
    return [low + step / 4 for step in range(int((high - low) * 4) + 1)]


@given(st.sampled_from("+-*/"), _ranges, _ranges)
def test_arithmetic_stays_in_its_range_and_meets_both_ends(op: str, first: Range, second: Range) -> None:
    """A divisor that can be nothing gives any number; everything else runs exactly from its least to its most."""
    low, high = joined(op, first, second)
    if op == "/" and 0 in points(second):
        assert (low, high) == ANY
        return
    results = [_FIGURES[op](a, b) for a in points(first) for b in points(second)]
    assert (low, high) == (min(results), max(results))


@given(_ranges)
def test_the_size_of_a_value(given_: Range) -> None:
    """From the one nearest to nothing to the one farthest from it, on whichever side."""
    low, high = size(given_)
    results = [abs(a) for a in points(given_)]
    assert (low, high) == (min(results), max(results))


@given(st.lists(_ranges, min_size=1, max_size=3))
def test_the_least_and_the_most_of_several(given_: list[Range]) -> None:
    """The least is at most the lowest upper end, the most at least the highest lower end."""
    assert least(given_) == (min(low for low, _ in given_), min(high for _, high in given_))
    assert most(given_) == (max(low for low, _ in given_), max(high for _, high in given_))


@given(st.sampled_from(sorted(_PAIRS)), _ranges, _ranges)
def test_a_verdict_is_one_that_no_reading_contradicts(op: str, first: Range, second: Range) -> None:
    """Always and never are said exactly when every pair of readings agrees; else it depends."""
    answers = {_PAIRS[op](a, b) for a in points(first) for b in points(second)}
    assert verdict(op, first, second) is (answers.pop() if len(answers) == 1 else None)


@pytest.mark.parametrize("op", ["+", "-", "*"])
def test_without_bounds_anything_is_possible(op: str) -> None:
    """Unbounded and unbounded, or unbounded times nothing: no figure, so any number."""
    assert joined(op, ANY, ANY) == ANY
    assert joined("*", ANY, (0, 0)) == ANY
    assert size(ANY) == (0, inf)
