"""Two actions in one item: one tick for both, and nobody knows which was done.

Look for "and", "/", "&" or ";" in what is acted on. Make two items of it.
"""

import re
from collections.abc import Iterator

from flowdeck.model.deck import ItemKind
from flowdeck.model.diagnostic import Level
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.ERROR
SOURCE = "CAP 676, from memory"
_TWO = re.compile(r"\band\b|[/;&]", re.I)


def find(s: Subject) -> Iterator[Finding]:
    for item in s.deck.items.values():
        if item.kind in (ItemKind.CALL, ItemKind.ANSWER):
            continue
        found = _TWO.search(item.do)
        if found is not None:
            yield s.at(item.id, s.fields(item)[0]), f"'{item.do}' is two things ({found[0]!r}); make two of it"
