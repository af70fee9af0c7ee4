"""A letter that the face of the cards lacks, so that it would be printed as a box.

Write it otherwise. Faces, sizes and gaps of the cards themselves are the program's, and held by its tests.
"""

from collections.abc import Iterator

from flowdeck.model.diagnostic import Level
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.WARNING
SOURCE = "our proposal"


def find(s: Subject) -> Iterator[Finding]:
    for each in s.on_cards("card-letters"):
        yield s.at(each.ref), f"'{each.ref}': {each.message}"
