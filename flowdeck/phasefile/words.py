"""How findings speak of what stands in a file: safe to print, short, with the nearest known word."""

import re
from collections.abc import Iterable
from difflib import get_close_matches
from typing import Any

UNSEEN = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200b\u200e\u200f\u2028\u2029\u202a-\u202e\u2060\u2066-\u2069\ufeff\ud800-\udfff]"
)
"""Control, direction-changing and invisible characters; a text with them does not read as it is written."""

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


def near(word: str, known: Iterable[str]) -> str | None:
    """The known word most like *word*, None when nothing is alike."""
    by_lower = {name.lower(): name for name in sorted(known)}
    close = get_close_matches(word.lower()[:_LONGEST], by_lower, n=1, cutoff=0.6)
    return by_lower[close[0]] if close else None


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
