"""A question to be settled: what of a condition, in parts that can be solved. No unknown is left in it.

`Within`   a word, a flag or a fact is one of some
`Bound`    a sum of readings is at most nothing (`<=`), or less (`<`)
"""

from fractions import Fraction
from typing import TypeAlias

from msgspec import Struct

Words: TypeAlias = frozenset[str]
TRUE, FALSE = "true", "false"
FLAG: Words = frozenset((TRUE, FALSE))


class Linear(Struct, frozen=True):
    """A sum: each variable by its factor, and a constant. Variables stand in order, none with factor 0."""

    factors: tuple[tuple[str, Fraction], ...] = ()
    constant: Fraction = Fraction(0)

    def times(self, by: Fraction) -> "Linear":
        if not by:
            return Linear()
        return Linear(tuple((name, factor * by) for name, factor in self.factors), self.constant * by)

    def plus(self, other: "Linear") -> "Linear":
        total = dict(self.factors)
        for name, factor in other.factors:
            total[name] = total.get(name, Fraction(0)) + factor
        kept = tuple(sorted((name, factor) for name, factor in total.items() if factor))
        return Linear(kept, self.constant + other.constant)

    def minus(self, other: "Linear") -> "Linear":
        return self.plus(other.times(Fraction(-1)))


class Within(Struct, frozen=True):
    name: str
    words: Words


class Bound(Struct, frozen=True):
    """*sum* is at most 0; *strict*: less than 0."""

    sum: Linear
    strict: bool


class Every(Struct, frozen=True):
    parts: "tuple[Formula, ...]"


class Some(Struct, frozen=True):
    parts: "tuple[Formula, ...]"


Formula: TypeAlias = Within | Bound | Every | Some
ALWAYS, NEVER = Every(()), Some(())


def flag(name: str, so: bool) -> Within:
    """That something of two states is so, or is not."""
    return Within(name, frozenset((TRUE if so else FALSE,)))


def compare(op: str, difference: Linear) -> Formula:
    """`difference op 0`."""
    match op:
        case "<":
            return Bound(difference, True)
        case "<=":
            return Bound(difference, False)
        case ">" | ">=":
            return compare(op.replace(">", "<"), difference.times(Fraction(-1)))
        case "==":
            return Every((compare("<=", difference), compare(">=", difference)))
        case _:
            return Some((compare("<", difference), compare(">", difference)))


def negated(formula: Formula, domains: dict[str, Words]) -> Formula:
    """What holds exactly where *formula* does not; *domains*: all words that a name can be."""
    match formula:
        case Within(name=name, words=words):
            return Within(name, domains.get(name, FLAG) - words)
        case Bound(sum=total, strict=strict):
            return Bound(total.times(Fraction(-1)), not strict)
        case Every(parts=parts):
            return Some(tuple(negated(part, domains) for part in parts))
        case Some(parts=parts):
            return Every(tuple(negated(part, domains) for part in parts))
