"""The deck's table of conditions while it is being built."""

from flowdeck.conditions.check import Reader
from flowdeck.conditions.meaning import Names
from flowdeck.conditions.parse import Source, parse, tidy
from flowdeck.model.condition import Compare, Condition, Const, Expr, Since
from flowdeck.model.diagnostic import MOST, Diagnostic, Place

UNKNOWN: Expr = Compare((Since(""), Const(0.0)), (">=",))
"""What stands in for a condition that could not be read: never known, so it opens and closes nothing."""


class Table:
    """Numbers conditions; the same text has the same number, and what a row refers to stands before it.

    Findings gather in `findings`, in the order in which the texts were added; none is raised. After `MOST` of
    them no text is read any more, since nothing that was read is of use.
    """

    def __init__(self, names: Names) -> None:
        self.findings: list[Diagnostic] = []
        self._names = names
        self._rows: dict[str, int] = {}
        self._sound: dict[str, int] = {}
        self._conditions: list[Condition] = []

    @property
    def conditions(self) -> tuple[Condition, ...]:
        """The rows so far."""
        return tuple(self._conditions)

    def add(self, text: str, place: Place | None = None) -> int:
        """The row number of *text*. *place* is where it begins in its file; findings point from there."""
        if len(self.findings) >= MOST:
            if len(self.findings) == MOST:
                message = "the conditions from here on were not read"
                self.findings.append(Diagnostic(place=place or Place("(condition)"), kind="more", message=message))
            return self._intern(tidy(text), UNKNOWN)
        source = parse(text)
        if not isinstance(source, Source):
            faults, tree = source, UNKNOWN
        else:
            reader = Reader(source, self._names, self._intern)
            tree = reader.condition() or UNKNOWN
            faults = tuple(sorted(reader.faults, key=lambda fault: fault.offset))
        for finding in (fault.located(text, place) for fault in faults):
            if finding not in self.findings:
                self.findings.append(finding)
        row = self._intern(tidy(text), tree)
        if not faults:
            self._sound[text] = row
        return row

    def known(self, text: str) -> int | None:
        """The row number of a text that was added before and had no finding."""
        return self._sound.get(text)

    def _intern(self, text: str, tree: Expr) -> int:
        row = self._rows.get(text)
        if row is None:
            row = self._rows[text] = len(self._conditions)
            self._conditions.append(Condition(text=text, tree=tree))
        return row
