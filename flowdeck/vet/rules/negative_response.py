"""An answer with "not" or "no" in it.

On a bad line it is the "not" that is lost. Say what is so instead of what is not: "CLEAR", "STOWED", "OFF".
"""

import re
from collections.abc import Iterator

from flowdeck.model.deck import ItemKind
from flowdeck.model.diagnostic import Level
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.ERROR
SOURCE = "CAP 676, from memory"
_NO = re.compile(r"\b(no(?!\.?\s*\d)|not|none|never|without|negative|cannot)\b|n't\b", re.I)


def find(s: Subject) -> Iterator[Finding]:
    for item in s.deck.items.values():
        if item.kind in (ItemKind.CALL, ItemKind.ANSWER):
            continue
        found = _NO.search(item.to)
        if found is not None:
            yield (
                s.answered(item),
                f"'{item.to}' says what is not; say what is so ('{found[0].lower()}' is easily lost)",
            )
