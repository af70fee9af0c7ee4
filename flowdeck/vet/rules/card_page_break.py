"""A list that does not fit on one page of the small size.

It is printed with marks that it continues, and a page that is turned is where lines are lost. Split it by system.
"""

from collections.abc import Iterator

from flowdeck.model.diagnostic import Level
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.WARNING
SOURCE = "CAP 676, second-hand and from memory"


def find(s: Subject) -> Iterator[Finding]:
    for each in s.on_cards("card-page-break"):
        yield s.at(each.ref), f"'{each.ref}': {each.message}"
