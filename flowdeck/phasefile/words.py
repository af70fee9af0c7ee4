"""How findings speak of what stands in a file: safe to print, short, with the nearest known word."""

from collections.abc import Iterable
from typing import Any

from flowdeck.model.likeness import near

_LONGEST = 60
_MOST = 12


def shown(value: Any) -> str:
    """What was found, for a message: `'text'`, `nothing`, `a list` or `a table`."""
    if isinstance(value, list):
        return "a list"
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, float):
        return f"{value:g}"
    text = str(value)
    if not text:
        return "nothing"
    return f"'{text}'" if len(text) <= _LONGEST else f"'{text[: _LONGEST - 3]}...'"


def nearest(word: str, known: Iterable[str]) -> str:
    """`; did you mean 'x'?`, or the known words when they are few, or nothing."""
    names = sorted(known)
    found = near(word, names)
    if found is not None:
        return f"; did you mean '{found}'?"
    return f"; expected {one_of(names)}" if 0 < len(names) <= _MOST else ""


def one_of(words: Iterable[str]) -> str:
    """`a, b or c`."""
    names = list(words)
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} or {names[-1]}"


_UNITS = {
    "ft": "ft",
    "nm": "NM",
    "kt": "kt",
    "kg": "kg",
    "m": "m",
    "deg": "deg",
    "c": "C",
    "hpa": "hPa",
    "kgh": "kg/h",
    "mhz": "MHz",
    "s": "s",
    "min": "min",
    "minutes": "min",
    "fpm": "ft/min",
    "kt_s": "kt/s",
    "ft_nm": "ft/NM",
    "pct_kt": "% per kt",
    "pct_1000ft": "% per 1000 ft",
    "pct_10c": "% per 10 C",
}


def unit_of(field: str) -> str:
    """The unit in a field's name (`altitude_ft`, `level_kt_s`), empty when it has none."""
    parts = field.split("_")
    two = "_".join(parts[-2:])
    return _UNITS.get(two) or _UNITS.get(parts[-1], "")
