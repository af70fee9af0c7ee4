"""What is wrong with a file, said once: where, what was found, what was expected, how to mend it."""

import re
from enum import StrEnum

from msgspec import Struct

UNSEEN = re.compile(
    "[\x00-\x1f\x7f-\x9f\xad\u034f\u061c\u115f\u1160\u17b4\u17b5\u180b-\u180f\u200b\u200e\u200f\u2028-\u202e\u2060-\u206f"
    "\u2800\u3164\ufeff\uffa0\ufff0-\ufffb\ud800-\udfff\U0001bca0-\U0001bca3\U0001d173-\U0001d17a\U000e0000-\U000e0fff]"
)
"""Control, direction-changing and invisible characters: a text with them does not read as it is written.

Joiners, without which some scripts cannot be written, and variation selectors are not among them.
"""
_KEPT = "\u200c\u200d"


def visible(text: str) -> str:
    """*text* on one line with unseen characters named, so that it can do nothing to a terminal."""
    if text.isprintable() and UNSEEN.search(text) is None:
        return text
    return "".join(_seen(c) for c in text)


def _seen(c: str) -> str:
    if c in "\t\n\xa0":
        return " "
    return c if c in _KEPT or (c.isprintable() and UNSEEN.match(c) is None) else f"<U+{ord(c):04X}>"


class Level(StrEnum):
    ERROR = "error"
    WARNING = "warning"
    INFO = "info"


class Place(Struct, frozen=True, order=True):
    """A place in a text file; line and column count from 1, line 0 means the file as a whole."""

    file: str
    line: int = 1
    column: int = 1

    def __str__(self) -> str:
        file = visible(self.file)
        return f"{file}:{self.line}:{self.column}" if self.line else f"{file}:"


class Diagnostic(Struct, frozen=True, kw_only=True):
    """One finding. *kind* is its stable name (`unknown-signal`), *message* what was found and expected."""

    place: Place
    kind: str
    message: str
    level: Level = Level.ERROR

    def __str__(self) -> str:
        return f"{self.place} {self.level} {self.kind}: {visible(self.message)}"


MOST = 200
"""Findings that are kept of one file; nobody mends more in one go."""


def more(place: Place, number: int) -> Diagnostic:
    """Stands for *number* findings that are not kept, the first of them at *place*."""
    return Diagnostic(place=place, kind="more", message=f"and {number:,} more findings like these")


class Rejected(Exception):
    """A file that cannot be used. Carries every finding of that file, in reading order."""

    def __init__(self, findings: tuple[Diagnostic, ...]) -> None:
        super().__init__("\n".join(str(finding) for finding in findings))
        self.findings = findings


def refused(file: str, kind: str, message: str) -> Rejected:
    """A file as a whole that cannot be used, for one reason."""
    return Rejected((Diagnostic(place=Place(file, 0), kind=kind, message=message),))


class Unsettled(Exception):
    """A deck whose items reopen one another without end; says what keeps changing."""
