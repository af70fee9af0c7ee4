"""What pilots speak up about, and under which names one speaks of the same thing."""

from collections.abc import Mapping
from functools import lru_cache

from flowdeck.model.deck import Deck

PARAMETERS = ("speed", "path", "altitude")
"""Of the flight itself, which either pilot may speak up about."""


def is_topic(deck: Deck, about: str) -> bool:
    """Whether one can speak up about it."""
    return about in PARAMETERS or about in deck.items or about in deck.checklists or about in deck.gates


def spoken_as(deck: Deck, ref: str) -> frozenset[str]:
    """The names under which one speaks of a thing: its own, and the lines by which it is verified."""
    return _names(deck).get(ref) or frozenset({ref})


def lists_with(deck: Deck, ref: str) -> frozenset[str]:
    """The checklists that a line belongs to: who speaks of one while it is read speaks of its lines."""
    return _lists(deck).get(ref, frozenset())


def names_of(deck: Deck, ref: str) -> frozenset[str]:
    """All names under which one can have spoken of a thing that has slipped."""
    return spoken_as(deck, ref) | lists_with(deck, ref)


@lru_cache(maxsize=8)
def _names(deck: Deck) -> Mapping[str, frozenset[str]]:
    found: dict[str, frozenset[str]] = {}
    for line in deck.items.values():
        for ref in line.verifies:
            found[ref] = found.get(ref, frozenset({ref})) | {line.id}
    return found


@lru_cache(maxsize=8)
def _lists(deck: Deck) -> Mapping[str, frozenset[str]]:
    found: dict[str, frozenset[str]] = {}
    for checklist in deck.checklists.values():
        for ref in checklist.lines:
            found[ref] = found.get(ref, frozenset()) | {checklist.id}
    return found
