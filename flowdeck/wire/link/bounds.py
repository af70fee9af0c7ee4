"""How large what a guest sends may be: what is journalled must be readable again, and no guest fills a disk."""

from math import isfinite

from flowdeck.model import inputs as inp

LONGEST_WORDS = 400
"""Characters of free text."""
LONGEST_ID = 80
"""Characters of a name of something in the deck."""
LARGEST_NUMBER = 1e9
LONGEST_S = 86_400.0
"""Seconds that something may be put off, or take."""
_WORDS = ("words", "why", "because", "report")
_SECONDS = ("in_s", "length_s")


def unfit_input(input_: inp.Input) -> str:
    """What of an input is too large, empty when nothing is. Its time is not looked at: the host sets it anew."""
    for field in input_.__struct_fields__:
        value = getattr(input_, field)
        if isinstance(value, str):
            most = LONGEST_WORDS if field in _WORDS else LONGEST_ID
            if len(value) > most:
                return f"{field}: expected at most {most} characters, found {len(value)}"
        elif isinstance(value, float):
            if not isfinite(value) or abs(value) > LARGEST_NUMBER:
                return f"{field}: expected a number to {LARGEST_NUMBER:g}, found {value:g}"
            if field in _SECONDS and not 0 <= value <= LONGEST_S:
                return f"{field}: expected 0 to {LONGEST_S:g} s, found {value:g}"
    return ""
