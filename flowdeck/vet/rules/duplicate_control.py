"""One thing verified by two lists of a phase.

The second one is answered from the memory of the first. Where a second look is meant, since the thing may have changed,
say so: `reverify: true`.
"""

from collections.abc import Iterator

from flowdeck.model.diagnostic import Level
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.WARNING
SOURCE = "CR-177549 App. A(11), second-hand"


def find(s: Subject) -> Iterator[Finding]:
    seen: dict[tuple[str, str], str] = {}
    for checklist, _, line in s.lines:
        if line.reverify:
            continue
        for verified in line.verifies:
            first = seen.setdefault((checklist.phase, verified), line.id)
            if first != line.id and first not in checklist.lines:
                yield s.at(line.id), f"'{verified}' is verified by '{first}' and again by '{line.id}'"
