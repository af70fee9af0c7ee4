"""More than four words in capitals in a row, or italics in an action.

Words in capitals have no shape to be known by and are read letter by letter. On a card weight marks the answer.
"""

import re
from collections.abc import Iterator

from flowdeck.card.capitals import MOST_CAPITALS, longest_run
from flowdeck.model.diagnostic import Level
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.WARNING
SOURCE = "CR-177605 (from memory), CAP 676 (second-hand)"
_SLANTED = re.compile(r"(?<!\w)[*_](?=\S)[^*_]+(?<=\S)[*_](?!\w)")


def find(s: Subject) -> Iterator[Finding]:
    for item in s.deck.items.values():
        for field, text in zip(s.fields(item), (item.do, item.to), strict=True):
            run = longest_run(text)
            if len(run) > MOST_CAPITALS:
                words = " ".join(run).strip(" ,;:")
                yield s.at(item.id, field), f"'{words}' is more than {MOST_CAPITALS} words in capitals; shorten it"
            if _SLANTED.search(text):
                yield s.at(item.id, field), f"'{text}' is marked for italics; an action stands upright"
