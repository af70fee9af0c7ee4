"""Words in capitals in a row: they have no shape to be known by. One measure for a deck's texts and for its cards."""

import re
from itertools import groupby

MOST_CAPITALS = 4
"""Words in capitals in a run; NASA CR-177605, from memory."""
_WORD = re.compile(r"[^\s,;:]+[,;:]*")
"""With what ends it; a comma parts words without a blank too."""


def longest_run(text: str) -> list[str]:
    """The longest run of words in capitals; figures neither end a run nor count."""
    words = [word for word in _WORD.findall(text) if any(letter.isalpha() for letter in word)]
    runs = [list(group) for capital, group in groupby(words, str.isupper) if capital]
    return max(runs, key=len, default=[])
