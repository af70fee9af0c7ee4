"""An answer that is only a colour.

A colour is not seen by everybody, nor by anybody in bright sun, and red and amber belong to alerts. Say the state:
"DOWN", not "THREE GREEN".
"""

import re
from collections.abc import Iterator

from flowdeck.model.diagnostic import Level
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.ERROR
SOURCE = "14 CFR 25.1322, from memory"
_COLOUR = re.compile(r"\b(red|amber|yellow|green|blue|white|cyan|magenta)s?\b", re.I)
_COUNT = re.compile(r"\b(one|two|three|four|all|both|each|\d+|lights?)\b|[\s,.]", re.I)


def find(s: Subject) -> Iterator[Finding]:
    for item in s.deck.items.values():
        if _COLOUR.search(item.to) and not _COUNT.sub("", _COLOUR.sub("", item.to)):
            yield s.answered(item), f"'{item.to}' is only a colour; say the state that it stands for"
