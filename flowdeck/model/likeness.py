"""Which known word was meant: one measure for every hint, in a time that does not grow with a hostile file."""

from collections.abc import Iterable
from difflib import get_close_matches

_LONGEST = 60
_MOST = 200
"""Known words that are looked at closely: of more, those of about the same length that begin or end alike."""


def near(word: str, known: Iterable[str]) -> str | None:
    """The known word most like *word*, None when nothing is alike."""
    wanted = word.lower()[:_LONGEST]
    by_lower = {name.lower(): name for name in sorted(known)}
    choices: Iterable[str] = by_lower
    if len(by_lower) > _MOST and wanted:
        alike = (name for name in by_lower if name[:2] == wanted[:2] or name[-2:] == wanted[-2:])
        choices = sorted(alike, key=lambda name: abs(len(name) - len(wanted)))[:_MOST]
    close = get_close_matches(wanted, choices, n=1, cutoff=0.6)
    return by_lower[close[0]] if close else None
