"""What of a table is tried every day; the rest of it stands behind the marker. Whole flights cost seconds each."""

from collections.abc import Iterable

import pytest


def some(of: Iterable[object], daily: Iterable[object]) -> list[object]:
    """The values *of* a table for `parametrize`: all but the *daily* ones only in the soak."""
    every_day = list(daily)
    values = list(of)
    assert all(value in values for value in every_day)
    return [value if value in every_day else _soaked(value) for value in values]


def _soaked(value: object) -> object:
    values = value if isinstance(value, tuple) else (value,)
    return pytest.param(*values, marks=pytest.mark.soak)
