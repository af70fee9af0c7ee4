"""How wide words are: measured by the advance widths of the face, and broken into lines by that measure.

One face in two weights; no kerning and no joined letters, so that every form has the same widths.
"""

import re
from functools import lru_cache
from unicodedata import normalize

from flowdeck.card import widths
from flowdeck.model.diagnostic import visible

FACES = ("Arimo",)
"""Families on a card; regular and bold are weights of one."""
X_HEIGHT = widths.X_HEIGHT / widths.UNITS
"""Of a letter without strokes up or down, as a share of its size."""
ASCENT = widths.ASCENT / widths.UNITS
DESCENT = widths.DESCENT / widths.UNITS

_REGULAR = {letter: width for width, letters in widths.REGULAR.items() for letter in letters}
_BOLD = {letter: width for width, letters in widths.BOLD.items() for letter in letters}
_JOINED = re.compile(
    r"(?<=\d) (?=(?:ft|kt|NM|m|km|s|C|hPa|kg|MHz)\b)| (?=[-+<>\u2264\u2265] )|(?<= [-+<>\u2264\u2265]) "
)
"""What is never parted: a number and its unit, a comparison."""
_WIDEST = widths.UNITS
"""For a letter that the face has not: as wide as it is high."""


def printable(text: str) -> str:
    """*text* as it is printed: letters with their accents as one, nothing unseen, single blanks."""
    return " ".join(visible(normalize("NFC", text)).split())


def lacking(text: str) -> str:
    """The letters of *text* that the face has not, each once."""
    return "".join(dict.fromkeys(letter for letter in text if letter not in _REGULAR))


def measure(text: str, size: float, *, bold: bool = False) -> float:
    """Millimetres that *text* takes up, *size* being that of its letters in millimetres."""
    return _units(text, bold) * size / widths.UNITS


@lru_cache(maxsize=4096)  # lines are tried at several widths of their column
def _units(text: str, bold: bool) -> int:
    known = _BOLD if bold else _REGULAR
    return sum(known.get(letter, _WIDEST) for letter in text)


def broken(text: str, width: float, size: float, *, bold: bool = False, first: float | None = None) -> list[str]:
    """*text* as lines no wider than *width*, the *first* one no wider than that; a word that is wider is cut."""
    lines: list[str] = []
    line, room = "", width if first is None else first
    if measure(text, size, bold=bold) <= room:
        return [text]  # as most do
    words = [word.replace("\xa0", " ") for word in _JOINED.sub("\xa0", text).split(" ")]
    while words:
        word = words.pop(0)
        longer = f"{line} {word}" if line else word
        if measure(longer, size, bold=bold) <= room:
            line = longer
        elif line:
            lines.append(line)
            line, room = "", width
            words.insert(0, word)
        elif room < width and measure(word, size, bold=bold) <= width:
            lines.append("")  # nothing of it goes beside what stands there
            room = width
            words.insert(0, word)
        else:
            cut = _fitting(word, room, size, bold=bold)
            lines.append(word[:cut])
            room = width
            words.insert(0, word[cut:])
    return [*lines, line] if line or not lines else lines


def _fitting(word: str, room: float, size: float, *, bold: bool) -> int:
    """How many letters of *word* fit; at least one."""
    cut = 1
    while cut < len(word) and measure(word[: cut + 1], size, bold=bold) <= room:
        cut += 1
    return cut


def on_one_line(text: str, end: str, width: float, size: float, *, bold: bool = False) -> str:
    """*text* with *end* behind it, the text cut with three dots where both together are wider than *width*."""
    if measure(text + end, size, bold=bold) <= width:
        return text + end
    cut = _fitting(text, width - measure("..." + end, size, bold=bold), size, bold=bold)
    return f"{text[:cut]}...{end}"
