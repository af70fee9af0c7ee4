"""Findings that a writer has accepted, in a comment above the line where they are found.

    # accepted list-too-long: the ten lines are one row of switches and take twelve seconds

The law: an exception names one rule, holds for one line and gives a reason; without a reason it does not hold, and one
that nothing answers to is itself found.
"""

import re
from collections.abc import Iterator, Mapping

from msgspec import Struct

from flowdeck.model.diagnostic import Diagnostic, Level, Place

_FORM = re.compile(r"\s*#\s*accepted\s+([a-z][a-z0-9-]*)\s*(?::\s*(.*?))?\s*$")
_COMMENT = re.compile(r"\s*(#.*)?$")
FEWEST_WORDS = 4
"""Of a reason; fewer say that there was none."""


class Exception_(Struct, frozen=True, kw_only=True):
    """*place*: of the comment; *line*: the line that it is about."""

    rule: str
    reason: str
    place: Place
    line: int

    @property
    def has_reason(self) -> bool:
        return len(self.reason.split()) >= FEWEST_WORDS


class Accepted(Struct, frozen=True):
    """A finding that does not count, and why."""

    finding: Diagnostic
    reason: str


def exceptions_in(file: str, text: str) -> Iterator[Exception_]:
    """All of one file. Several above one line all are about it; below the last line they are about nothing."""
    waiting: list[tuple[int, re.Match[str]]] = []
    for number, line in enumerate((*text.splitlines(), "the end"), start=1):
        found = _FORM.match(line)
        if found is not None:
            waiting.append((number, found))
        elif not _COMMENT.match(line):
            for at, each in waiting:
                place = Place(file, at, each.start(1) + 1)
                yield Exception_(rule=each[1], reason=each[2] or "", place=place, line=number)
            waiting = []


def sift(
    findings: list[Diagnostic], exceptions: list[Exception_], rules: Mapping[str, object]
) -> tuple[list[Diagnostic], list[Accepted]]:
    """What counts, with what is wrong with the exceptions themselves; and what was accepted."""
    left: list[Diagnostic] = []
    accepted: list[Accepted] = []
    good = {(e.place.file, e.line, e.rule): e for e in exceptions if e.has_reason}
    used: set[tuple[str, int, str]] = set()
    for finding in findings:
        key = (finding.place.file, finding.place.line, finding.kind)
        if key in good:
            used.add(key)
            accepted.append(Accepted(finding, good[key].reason))
        else:
            left.append(finding)
    for each in exceptions:
        message = _wrong(each, rules, used)
        if message:
            left.append(Diagnostic(place=each.place, kind="exception", message=message, level=Level.WARNING))
    return left, accepted


def _wrong(each: Exception_, rules: Mapping[str, object], used: set[tuple[str, int, str]]) -> str:
    if each.rule not in rules:
        return f"'{each.rule}' is no rule that can be accepted; see flowdeck vet --explain"
    if not each.has_reason:
        return f"an exception needs a reason of at least {FEWEST_WORDS} words: # accepted {each.rule}: because ..."
    if (each.place.file, each.line, each.rule) not in used:
        return f"nothing on the next line is found by '{each.rule}'; remove the exception"
    return ""
