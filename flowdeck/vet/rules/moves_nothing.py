"""An action that moves a signal of the deck's own which stands nowhere at the start, so that nothing moves.

The flown aeroplane knows where its own controls stand, and not where yours do: give the signal a `start`.
"""

from collections.abc import Iterator

from flowdeck.model.catalogue import by_name
from flowdeck.model.diagnostic import Level
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.WARNING
SOURCE = "our proposal"


def find(s: Subject) -> Iterator[Finding]:
    built_in = by_name()
    own = {signal.name: signal for signal in s.deck.signals if signal.name not in built_in}
    told: set[str] = set()
    for item in s.deck.items.values():
        for move in item.moves:
            if move.signal in own and own[move.signal].at_start is None and move.signal not in told:
                told.add(move.signal)
                message = f"'{item.id}' moves '{move.signal}', which stands nowhere at the start; add start: ... to it"
                yield s.places.in_deck("signals", move.signal), message
