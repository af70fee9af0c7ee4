"""A condition that always holds once its signals are heard, and so decides nothing.

It is left from an earlier draft, or one of its parts was meant the other way round. Write `true` where it is meant, or
leave the field out.
"""

from collections.abc import Iterator

from flowdeck.model.condition import Const
from flowdeck.model.diagnostic import Level
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.WARNING
SOURCE = "our proposal"


def find(s: Subject) -> Iterator[Finding]:
    for row, condition in enumerate(s.deck.conditions):
        place = s.places.of_condition(row)
        if place is None or isinstance(condition.tree, Const):
            continue
        if s.prover.never((row, "not true")):
            yield place, f"'{condition.text}' always holds once its signals are heard, so it decides nothing"
