"""Interval arithmetic: what a value can be, given the declared ranges of the signals in it.

Every interval is at least as wide as the truth, so a verdict is never wrong for readings in range.
"""

from collections.abc import Sequence
from math import inf, isnan
from typing import TypeAlias

Range: TypeAlias = tuple[float, float]

ANY: Range = (-inf, inf)


def joined(op: str, first: Range, second: Range) -> Range:
    """The range of `first op second` for + - * /."""
    if op == "+":
        corners = [first[0] + second[0], first[1] + second[1]]
    elif op == "-":
        corners = [first[0] - second[1], first[1] - second[0]]
    elif op == "*":
        corners = [a * b for a in first for b in second]
    elif second[0] <= 0 <= second[1]:
        return ANY
    else:
        corners = [a / b for a in first for b in second]
    return ANY if any(isnan(corner) for corner in corners) else (min(corners), max(corners))


def size(given: Range) -> Range:
    """The range of abs."""
    low, high = given
    if low >= 0:
        return given
    return (-high, -low) if high <= 0 else (0.0, max(-low, high))


def least(given: Sequence[Range]) -> Range:
    """The range of min."""
    return min(low for low, _ in given), min(high for _, high in given)


def most(given: Sequence[Range]) -> Range:
    """The range of max."""
    return max(low for low, _ in given), max(high for _, high in given)


def verdict(op: str, first: Range, second: Range) -> bool | None:
    """True or False when `first op second` always or never holds, None when it depends."""
    match op:
        case ">":
            return verdict("<", second, first)
        case ">=":
            return verdict("<=", second, first)
        case "!=":
            equal = verdict("==", first, second)
            return None if equal is None else not equal
        case "<":
            never, always = first[0] >= second[1], first[1] < second[0]
        case "<=":
            never, always = first[0] > second[1], first[1] <= second[0]
        case _:
            never = first[1] < second[0] or second[1] < first[0]
            always = first[0] == first[1] == second[0] == second[1]
    return False if never else True if always else None
