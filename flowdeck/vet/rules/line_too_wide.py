"""A challenge or an answer that takes more than two lines on a card of the small size.

Nobody reads a third line between two others. Shorten it; what must be known beside it belongs into `why`.
"""

from collections.abc import Iterator

from flowdeck.model.diagnostic import Level
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.WARNING
SOURCE = "our proposal"


def find(s: Subject) -> Iterator[Finding]:
    for each in s.on_cards("line-too-wide"):
        yield s.at(each.ref), f"'{each.ref}': {each.message}"
