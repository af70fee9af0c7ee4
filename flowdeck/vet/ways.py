"""The ways through a deck: from which phase to which, as far as the conditions on them can be true."""

from collections.abc import Callable, Iterable, Iterator

from flowdeck.model.deck import Deck
from flowdeck.vet.proof import Prover


def reach(first: Iterable[str], leads: Callable[[str], Iterable[str]]) -> list[str]:
    """*first* and all that *leads* on from there by any number of steps, each once, the nearest first."""
    found: dict[str, None] = {}
    todo = list(first)
    while todo:
        name = todo.pop(0)
        if name not in found:
            found[name] = None
            todo += leads(name)
    return list(found)


class Ways:
    """*leads*: from a phase to the phases and ends that follow it, go-arounds among them."""

    def __init__(self, deck: Deck, prover: Prover) -> None:
        self._deck = deck
        self._prover = prover
        self.leads: dict[str, tuple[str, ...]] = {name: tuple(self._from(name)) for name in deck.phases}
        self._after: dict[str, frozenset[str]] = {}

    def _from(self, name: str) -> Iterator[str]:
        phase = self._deck.phases[name]
        for way in phase.exits:
            if not self._prover.never((way.when, "true"), phase=name):
                yield way.to
        if phase.airborne and not self.is_committed(name):
            yield self._deck.go_around

    def is_committed(self, name: str) -> bool:
        """Whether no go-around can be made anywhere in a phase."""
        return self._prover.never((self._deck.committed, "not true"), phase=name)

    def after(self, name: str) -> frozenset[str]:
        """All phases and ends that can follow *name*, by any number of steps."""
        if name not in self._after:
            self._after[name] = frozenset(reach(self.leads.get(name, ()), lambda each: self.leads.get(each, ())))
        return self._after[name]

    @property
    def reached(self) -> frozenset[str]:
        """All that can be reached from the start, the start among it."""
        return self.after(self._deck.start) | {self._deck.start}
