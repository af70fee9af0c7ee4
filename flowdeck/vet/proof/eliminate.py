"""Whether bounds on sums of readings can hold together, and values at which they do.

Intervals first, which settles nearly all; then variables are eliminated one by one (Fourier and Motzkin's method, as in
any textbook on linear inequalities), in exact fractions.
"""

from fractions import Fraction

from flowdeck.vet.proof.box import Span, least, narrow
from flowdeck.vet.proof.formula import Bound, Linear

ROUNDS = 5
MOST_BOUNDS = 60


class TooMany(Exception):
    """Elimination has made more bounds than are worth keeping."""


def feasible(sums: tuple[Bound, ...], spans: dict[str, Span]) -> dict[str, Fraction] | None:
    """Values for the variables of *sums*, within *spans*, at which all hold; None: there are none. Raises `TooMany`."""
    tight = _propagated(sums, spans)
    if tight is None:
        return None
    names = sorted({name for bound in sums for name, _ in bound.sum.factors})
    system = [*sums, *(bound for name in names for bound in _as_bounds(name, tight[name]))]
    steps: list[tuple[str, list[Bound]]] = []
    for name in names:
        mine = [bound for bound in system if _factor(bound, name)]
        steps.append((name, mine))
        system = [bound for bound in system if not _factor(bound, name)] + _combined(mine, name)
        if len(system) > MOST_BOUNDS:
            raise TooMany
        if any(not _holds(bound) for bound in system if not bound.sum.factors):
            return None
    values: dict[str, Fraction] = {}
    for name, mine in reversed(steps):
        span = Span()
        for bound in mine:
            span = narrow(Bound(_put(bound.sum, values), bound.strict), name, span)
        values[name] = plain(span)
    return values


def plausible(sums: tuple[Bound, ...], spans: dict[str, Span]) -> bool:
    """Whether a first look leaves something; False is a proof that nothing is left."""
    return _propagated(sums, spans, 1) is not None


def _propagated(sums: tuple[Bound, ...], spans: dict[str, Span], rounds: int = ROUNDS) -> dict[str, Span] | None:
    """Spans narrowed by every sum until nothing changes; None when one is empty. Never narrower than the truth."""
    spans = dict(spans)
    for _ in range(rounds):
        before = dict(spans)
        for bound in sums:
            for name, factor in bound.sum.factors:
                rest = Linear(tuple(f for f in bound.sum.factors if f[0] != name), bound.sum.constant)
                lowest = least(rest, spans)
                if lowest is None:
                    continue
                alone = Bound(Linear(((name, factor),), lowest[0]), bound.strict or lowest[1])
                spans[name] = narrow(alone, name, spans[name])
                if spans[name].is_empty:
                    return None
        if spans == before:
            break
    return spans


def _as_bounds(name: str, span: Span) -> list[Bound]:
    found = []
    if span.low is not None:
        found.append(Bound(Linear(((name, Fraction(-1)),), span.low[0]), span.low[1]))
    if span.high is not None:
        found.append(Bound(Linear(((name, Fraction(1)),), -span.high[0]), span.high[1]))
    return found


def _factor(bound: Bound, name: str) -> Fraction:
    return next((factor for each, factor in bound.sum.factors if each == name), Fraction(0))


def _combined(bounds: list[Bound], name: str) -> list[Bound]:
    """What each pair of an upper and a lower bound on *name* says without it."""
    upper = [bound for bound in bounds if _factor(bound, name) > 0]
    lower = [bound for bound in bounds if _factor(bound, name) < 0]
    return [
        Bound(
            high.sum.times(1 / _factor(high, name)).plus(low.sum.times(-1 / _factor(low, name))),
            high.strict or low.strict,
        )
        for high in upper
        for low in lower
    ]


def _holds(bound: Bound) -> bool:
    return bound.sum.constant < 0 or (bound.sum.constant == 0 and not bound.strict)


def _put(total: Linear, values: dict[str, Fraction]) -> Linear:
    """The sum with *values* put in."""
    constant = total.constant + sum((f * values[name] for name, f in total.factors if name in values), Fraction(0))
    return Linear(tuple(f for f in total.factors if f[0] not in values), constant)


_GRAINS = tuple(Fraction(text) for text in ("1000", "500", "100", "50", "10", "5", "1", "0.5", "0.1", "0.01", "0.001"))


def plain(span: Span) -> Fraction:
    """A value in a span that reads well: the roundest number near its middle."""
    low, high = span.low, span.high
    if low is None and high is None:
        return Fraction(0)
    if low is None or high is None:
        end, away = (low, 1) if low is not None else (high, -1)
        assert end is not None
        inside = end[0] if not end[1] else end[0] + away
        return Fraction(0) if (inside <= 0 if away > 0 else inside >= 0) else inside
    if low[0] == high[0]:
        return low[0]
    middle = (low[0] + high[0]) / 2
    for grain in _GRAINS:
        for found in (middle // grain * grain, -(-middle // grain) * grain):
            if low[0] < found < high[0]:
                return found
    return middle
