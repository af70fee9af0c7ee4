"""What is wrong with a file, said once: where, what was found, what was expected, how to mend it."""

from enum import StrEnum

from msgspec import Struct


def visible(text: str) -> str:
    """*text* on one line with unseen characters named, so that a finding can do nothing to a terminal."""
    if text.isprintable():
        return text
    return "".join(c if c.isprintable() else " " if c in "\t\n\xa0" else f"<U+{ord(c):04X}>" for c in text)


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


class Rejected(Exception):
    """A file that cannot be used. Carries every finding of that file, in reading order."""

    def __init__(self, findings: tuple[Diagnostic, ...]) -> None:
        super().__init__("\n".join(str(finding) for finding in findings))
        self.findings = findings


class Unsettled(Exception):
    """A deck whose items reopen one another without end; says what keeps changing."""
