"""Case by case through a formula, leaving a case as soon as nothing is left in it.

The law: the answer does not depend on the order of the cases; the values that are shown are those of the first case in
the order in which the deck is written.
"""

from fractions import Fraction
from typing import Protocol, TypeAlias

from msgspec import Struct

from flowdeck.vet.proof.box import Box, Span
from flowdeck.vet.proof.eliminate import TooMany, feasible, plain, plausible
from flowdeck.vet.proof.formula import Bound, Every, Formula, Some, Within, Words

MOST_CASES = 150
"""Cases looked at before a question is left open."""
Value: TypeAlias = str | Fraction


class Space(Protocol):
    """What the variables can be at all."""

    def domain(self, name: str) -> Words: ...

    def span(self, name: str) -> Span: ...


class Case(Struct, frozen=True):
    """Something that can be: what is left of each variable, and values for those that hang together."""

    box: Box
    solved: dict[str, Fraction]

    @property
    def names(self) -> set[str]:
        """Variables that it says something of."""
        return {*self.box.words, *self.box.spans, *self.solved}

    def values(self) -> dict[str, Value]:
        """A value for each."""
        values: dict[str, Value] = {name: min(words) for name, words in self.box.words.items()}
        values |= {name: plain(span) for name, span in self.box.spans.items()}
        return values | self.solved


class Search:
    """One question. `run` gives a case, None where there is none; `open` tells that it did not come to an end."""

    def __init__(self, space: Space) -> None:
        self._space = space
        self._left = MOST_CASES
        self.open = False

    def run(self, formula: Formula) -> "Case | None":
        return self._case(Box({}, {}), [formula], [])

    def _case(self, box: Box | None, todo: list[Formula], choices: list[Some]) -> "Case | None":
        """*todo* is still to be taken in, *choices* are taken one by one after it."""
        todo, choices = list(todo), list(choices)
        while todo and box is not None:
            part = todo.pop()
            match part:
                case Within(name=name):
                    box = box.with_words(part, self._space.domain(name))
                case Bound(sum=total):
                    name = total.factors[0][0] if len(total.factors) == 1 else ""
                    box = box.with_bound(part, box.spans.get(name) or self._space.span(name))
                case Every(parts=parts):
                    todo.extend(reversed(parts))
                case Some(parts=parts):
                    if len(parts) == 1:
                        todo.append(parts[0])
                    else:
                        choices.append(part)
        if box is None:
            return None
        if not choices:
            return self._solved(box)
        if box.sums and not plausible(box.sums, self._spans(box)):
            return None
        choices.sort(key=lambda choice: len(choice.parts))
        for part in choices[0].parts:
            self._left -= 1
            if self._left < 0:
                self.open = True
                return None
            case = self._case(box, [part], choices[1:])
            if case is not None:
                return case
        return None

    def _solved(self, box: Box) -> "Case | None":
        try:
            solved = feasible(box.sums, self._spans(box)) if box.sums else {}
        except TooMany:
            self.open = True
            return None
        return None if solved is None else Case(box, solved)

    def _spans(self, box: Box) -> dict[str, Span]:
        """Of the variables in its sums."""
        names = {name for bound in box.sums for name, _ in bound.sum.factors}
        return {name: box.spans.get(name) or self._space.span(name) for name in names}
