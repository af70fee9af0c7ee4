"""An answer that only says that somebody looked, where a value or a state could be said.

"BRAKES CHECKED" is answered as easily without a look; "3000 psi" is not. Where looking is all there is to say (nothing
is shown), it is not found.
"""

import re
from collections.abc import Iterator

from flowdeck.model.deck import Item, ItemKind
from flowdeck.model.diagnostic import Level
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.WARNING
SOURCE = "CR-177549 App. A(4), AC 120-71B s5.4 (second-hand)"
_LOOKED = re.compile(r"\b(checked|verified|confirmed|completed?)\b", re.I)


def find(s: Subject) -> Iterator[Finding]:
    for item in s.deck.items.values():
        if item.kind in (ItemKind.CALL, ItemKind.ANSWER) or not _LOOKED.search(item.to):
            continue
        if _says_a_state(s, item):
            continue
        shown = [item.value, item.seen, *(s.deck.items[ref].seen for ref in item.verifies if ref in s.deck.items)]
        if any(each is not None for each in shown):
            yield s.answered(item), f"'{item.to}' says that somebody looked; say what the aeroplane shows"


def _says_a_state(s: Subject, item: Item) -> bool:
    """Whether a number, a reading or a word that the aeroplane shows stands beside it."""
    words = set(re.findall(r"[\w{}]+", _LOOKED.sub("", item.to).lower()))
    rows = [item.seen, *(s.deck.items[ref].seen for ref in item.verifies if ref in s.deck.items)]
    shown = {word for row in rows if row is not None for word in re.findall(r"'(\w+)'", s.text(row))}
    return bool(words & shown) or any("{" in word or any(c.isdigit() for c in word) for word in words)
