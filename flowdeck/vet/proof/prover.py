"""Questions about the conditions of a deck, each answered once."""

from typing import Literal, TypeAlias

from msgspec import Struct

from flowdeck.conditions.describe import Op, walk
from flowdeck.model.condition import Expr, PhaseRef
from flowdeck.model.deck import Deck
from flowdeck.vet.proof.formula import Every, Formula, Within, flag, negated
from flowdeck.vet.proof.search import Case, Search
from flowdeck.vet.proof.translate import Translator
from flowdeck.vet.proof.wording import in_words


class Possible(Struct, frozen=True):
    """There are readings at which it is so."""

    case: Case

    @property
    def values(self) -> str:
        """Such readings in words: `altitude_ft 3000, gear 'down'`."""
        return in_words(self.case.values())


class Impossible(Struct, frozen=True):
    """It is proved: no readings in range make it so."""


class Open(Struct, frozen=True):
    """Not settled: products of readings, or too many cases."""


Answer: TypeAlias = Possible | Impossible | Open
Wanted: TypeAlias = Literal["true", "false", "not true"]
Claim: TypeAlias = tuple[int, Wanted]
"""A condition by its number, and what is asked of it."""


class Prover:
    """Of one deck. `asked` questions, of which `unsettled` stayed open."""

    def __init__(self, deck: Deck) -> None:
        self.deck = deck
        self._translate = Translator(deck)
        self._phased: dict[int, bool] = {}
        self._known: dict[tuple[tuple[Claim, ...], str, tuple[Formula, ...]], Answer] = {}

    @property
    def asked(self) -> int:
        return len(self._known)

    @property
    def unsettled(self) -> int:
        return sum(isinstance(answer, Open) for answer in self._known.values())

    def can(self, *claims: Claim, phase: str = "", also: tuple[Formula, ...] = ()) -> Answer:
        """Whether all *claims* can hold at once, in *phase* where one is named, and whatever else is asked."""
        if phase and not any(self._asks_phase(row) for row, _ in claims):
            phase = ""  # it makes no difference
        key = (tuple(sorted(set(claims))), phase, also)
        if key not in self._known:
            self._known[key] = self._settle(*key)
        return self._known[key]

    def never(self, *claims: Claim, phase: str = "", also: tuple[Formula, ...] = ()) -> bool:
        """Whether it is proved that *claims* cannot hold at once."""
        return isinstance(self.can(*claims, phase=phase, also=also), Impossible)

    def compared(self, left: Expr, op: Op, right: Expr) -> tuple[Formula, ...]:
        """To be asked *also*: a comparison of two numbers."""
        return (self._translate.link(left, op, right, True),)

    def shown(self, name: str, so: bool) -> tuple[Formula, ...]:
        """To be asked *also*: that a signal of two states reads so."""
        return (flag(name, so),)

    def told(self, fact: str) -> tuple[Formula, ...]:
        """To be asked *also*: that a fact is so."""
        return (flag(f"fact {fact}", True),)

    def implies(self, first: int, second: int, phase: str = "") -> bool:
        """Whether it is proved that *second* is true wherever *first* is; of what never is, nothing follows."""
        if first == second:
            return True
        apart = self.never((first, "true"), (second, "not true"), phase=phase)
        return apart and not self.never((first, "true"), phase=phase)

    def is_done(self, ref: str, so: bool) -> tuple[Formula, ...]:
        """To be asked *also*: that a thing is done, or that it never was."""
        return (flag(f"done {ref}", so), *(() if so else (flag(f"happened {ref}", so),)))

    def _asks_phase(self, row: int) -> bool:
        if row not in self._phased:
            tree = self.deck.conditions[row].tree
            self._phased[row] = any(isinstance(part, PhaseRef) for part in walk(tree, self.deck.conditions))
        return self._phased[row]

    def _settle(self, claims: tuple[Claim, ...], phase: str, also: tuple[Formula, ...]) -> Answer:
        parts = [*also, *(self._formula(row, wanted) for row, wanted in claims)]
        if phase:
            parts.append(Within("phase", frozenset((phase,))))
        search = Search(self._translate)
        whole = Every(tuple(parts))
        case = search.run(whole)
        if case is not None and not any(name in self._translate.made for name in case.names):
            return Possible(case)
        if case is None and not search.open:
            return Impossible()
        return self._by_other_means(whole)

    def _formula(self, row: int, wanted: Wanted) -> Formula:
        match wanted:
            case "true":
                return self._translate.true(row)
            case "false":
                return self._translate.false(row)
            case "not true":
                return negated(self._translate.true(row), self._translate.domains)

    def _by_other_means(self, whole: Formula) -> Answer:
        """By the solver of the optional extra, where it is installed."""
        try:
            from flowdeck.vet.proof.solver import settle
        except ImportError:
            return Open()
        found = settle(whole, self._translate)
        if found is None:
            return Open()
        return Impossible() if found is False else Possible(found)
