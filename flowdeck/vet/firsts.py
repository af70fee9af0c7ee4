"""What must have been done before a condition can be true: found in how it is written, without solving anything.

The law: a name is told only if the condition cannot be true without it; a condition with a way round it tells nothing.
"""

from flowdeck.conditions.describe import clocks_of
from flowdeck.model.condition import Age, AllOf, AnyOf, Compare, Done, Expr, Falling, Held, Not, Rising, Since
from flowdeck.model.deck import Deck

_NONE: frozenset[str] = frozenset()


class Firsts:
    """Of one deck."""

    def __init__(self, deck: Deck) -> None:
        self._deck = deck
        self._true: dict[int, frozenset[str]] = {}

    def of(self, row: int | None) -> frozenset[str]:
        """Ids and marks without which condition *row* is not true."""
        if row is None:
            return _NONE
        if row not in self._true:
            self._true[row] = self._where(self._deck.conditions[row].tree, True)
        return self._true[row]

    def _where(self, tree: Expr, wanted: bool) -> frozenset[str]:
        match tree:
            case Done(ref=ref):
                return frozenset((ref,)) if wanted else _NONE
            case Compare(operands=operands):
                clocks = frozenset[Since | Age]().union(*(clocks_of(part) for part in operands))
                return frozenset(clock.ref for clock in clocks if isinstance(clock, Since))
            case Held(inner=inner) | Rising(inner=inner):
                return self.of(inner) if wanted else _NONE
            case Falling(inner=inner):
                return self.of(inner)  # it was true before
            case Not(operand=operand):
                return self._where(operand, not wanted)
            case AllOf(parts=parts) | AnyOf(parts=parts):
                each = [self._where(part, wanted) for part in parts]
                if isinstance(tree, AllOf) == wanted:
                    return frozenset[str]().union(*each)
                return each[0].intersection(*each[1:])
            case _:
                return _NONE
