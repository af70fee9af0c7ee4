"""A deck whose date is no date (`2026-05-04`), or that does not say for which aircraft it is.

It cannot be told from its older self, nor be kept off an aeroplane that it was not written for.
Title, version, type and operator are asked for by the loader; a card prints an end mark by itself.
"""

import re
from calendar import monthrange
from collections.abc import Iterator

from flowdeck.model.diagnostic import Level
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.ERROR
SOURCE = "CAP 676, ICAO Doc 8168 (from memory); the form of the date: ISO 8601"
_DATE = re.compile(r"(\d{4})-(0[1-9]|1[0-2])-(\d\d)$")


def find(s: Subject) -> Iterator[Finding]:
    identity = s.deck.identity
    if not _is_date(identity.date):
        yield s.places.in_deck("date"), f"'{identity.date}' is no day; write year, month and day, as in 2026-05-04"
    if not identity.effectivity:
        yield s.places.in_deck("title"), "the deck does not say for which aircraft it is; add effectivity: ..."


def _is_date(text: str) -> bool:
    found = _DATE.match(text)
    return found is not None and int(found[1]) > 0 and 1 <= int(found[3]) <= monthrange(int(found[1]), int(found[2]))[1]
