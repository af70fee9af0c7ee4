"""The least number of moves: against a plain longest common subsequence, for any two orders."""

from hypothesis import given
from hypothesis import strategies as st

from flowdeck.compare.order import moved


def longest(a: list[str], b: list[str]) -> int:
    """Length of a longest common subsequence, by the table."""
    row = [0] * (len(b) + 1)
    for x in a:
        before = row[:]
        for j, y in enumerate(b, 1):
            row[j] = before[j - 1] + 1 if x == y else max(before[j], row[j - 1])
    return row[-1]


_orders = st.integers(0, 9).flatmap(
    lambda n: st.tuples(*(st.permutations([f"i{k}" for k in range(n)]) for _ in range(2)))
)


@given(_orders)
def test_the_least_that_has_to_move(orders: tuple[list[str], list[str]]) -> None:
    old, new = orders
    out = moved(old, new)
    assert [x for x in old if x not in out] == [x for x in new if x not in out]
    assert len(old) - len(out) == longest(old, new)


@given(_orders)
def test_the_same_things_move_back(orders: tuple[list[str], list[str]]) -> None:
    old, new = orders
    assert moved(old, new) == moved(new, old)


def test_one_thing_from_the_end_to_the_front() -> None:
    """One move, not five shifts."""
    assert moved(["a", "b", "c", "d", "e"], ["e", "a", "b", "c", "d"]) == {"e"}
    assert moved([], []) == moved(["a"], ["a"]) == frozenset()
