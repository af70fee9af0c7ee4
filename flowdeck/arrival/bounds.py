"""Ranges within which a rule holds; beyond them there is an error, never an extrapolation."""

from math import isfinite


class OutOfRange(ValueError):
    """A value outside the range of a rule: what, how much, in which unit, from where to where."""


def within(name: str, value: float, unit: str, low: float, high: float) -> float:
    """*value*, if it lies from *low* to *high*. Raises `OutOfRange`."""
    if not isfinite(value) or not low <= value <= high:
        raise OutOfRange(f"{name}: expected {low:g} to {high:g} {unit}, found {value:g}")
    return value


def rounded_up(value: float, step: float) -> float:
    """The next multiple of *step* that is not below *value*; what is a multiple but for the last digits is one."""
    steps = value / step
    nearest = round(steps)
    return step * (nearest if abs(steps - nearest) < 1e-9 * max(1.0, abs(steps)) else _ceiling(steps))


def _ceiling(value: float) -> int:
    return int(value) + (value > int(value))
