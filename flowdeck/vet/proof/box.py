"""What is known of each variable in one case: the words it can still be, or the ends between which it lies.

The law: a box is never changed; narrowing one gives another, or None when nothing is left in it.
"""

from fractions import Fraction
from typing import TypeAlias

from msgspec import Struct

from flowdeck.vet.proof.formula import Bound, Linear, Within, Words

End: TypeAlias = tuple[Fraction, bool] | None
"""A value and whether it is left out itself; None: no end."""


class Span(Struct, frozen=True):
    low: End = None
    high: End = None

    @property
    def is_empty(self) -> bool:
        if self.low is None or self.high is None:
            return False
        return self.low[0] > self.high[0] or (self.low[0] == self.high[0] and (self.low[1] or self.high[1]))

    def below(self, end: tuple[Fraction, bool]) -> "Span":
        tighter = self.high is None or end[0] < self.high[0] or (end[0] == self.high[0] and end[1])
        return Span(self.low, end) if tighter else self

    def above(self, end: tuple[Fraction, bool]) -> "Span":
        tighter = self.low is None or end[0] > self.low[0] or (end[0] == self.low[0] and end[1])
        return Span(end, self.high) if tighter else self


class Box(Struct, frozen=True):
    """*sums*: bounds on more than one variable, which the spans do not hold."""

    words: dict[str, Words]
    spans: dict[str, Span]
    sums: tuple[Bound, ...] = ()

    def with_words(self, literal: Within, domain: Words) -> "Box | None":
        left = self.words.get(literal.name, domain) & literal.words
        return Box({**self.words, literal.name: left}, self.spans, self.sums) if left else None

    def with_bound(self, bound: Bound, span: Span) -> "Box | None":
        """*span*: that of the only variable, where there is one."""
        factors = bound.sum.factors
        if not factors:
            excess = bound.sum.constant
            return self if excess < 0 or (excess == 0 and not bound.strict) else None
        if len(factors) > 1:
            return Box(self.words, self.spans, (*self.sums, bound))
        narrowed = narrow(bound, factors[0][0], span)
        return None if narrowed.is_empty else Box(self.words, {**self.spans, factors[0][0]: narrowed}, self.sums)


def narrow(bound: Bound, name: str, span: Span) -> Span:
    """The span of *name* where *bound* holds, which is on it alone."""
    [(_, factor)] = bound.sum.factors
    end = (-bound.sum.constant / factor, bound.strict)
    return span.below(end) if factor > 0 else span.above(end)


def least(total: Linear, spans: dict[str, Span]) -> tuple[Fraction, bool] | None:
    """The least that a sum can be and whether it is not reached; None when it has no least."""
    value, strict = total.constant, False
    for name, factor in total.factors:
        span = spans[name]
        end = span.low if factor > 0 else span.high
        if end is None:
            return None
        value, strict = value + end[0] * factor, strict or end[1]
    return value, strict
