"""Condition tree -> formula: where it is true, and where it is false, every reading being heard.

The law: absolute values, least and most, and headings are split into cases, which is exact. A product or a quotient of
readings becomes a variable of its own within the range it can have; whatever rests on one is marked, since only the
impossible is then certain.
"""

from collections.abc import Iterable, Iterator
from fractions import Fraction
from itertools import islice, product
from math import isfinite
from typing import TypeAlias, assert_never

from flowdeck.conditions.describe import OPPOSITE, Op, clocks_of
from flowdeck.conditions.ranges import ANY, Range, joined
from flowdeck.model.condition import (
    Age,
    AllOf,
    AnyOf,
    Arith,
    Compare,
    Const,
    Done,
    Expr,
    FactRef,
    Falling,
    Func,
    Held,
    Negate,
    Not,
    OneOf,
    PhaseRef,
    Rising,
    SignalRef,
    Since,
    Turn,
)
from flowdeck.model.deck import Deck
from flowdeck.model.signals import SignalKind
from flowdeck.vet.proof.box import Span
from flowdeck.vet.proof.formula import ALWAYS, FLAG, NEVER, Every, Formula, Linear, Some, Within, Words, flag
from flowdeck.vet.proof.formula import compare as bounded

Case: TypeAlias = tuple[Linear, tuple[Formula, ...]]
"""A sum, and under what it is the value."""
_UNIT = Fraction(1)
MOST_ALTERNATIVES = 32
"""Cases of one number; each absolute value in another doubles them."""
_TURN = Fraction(180)


class Translator:
    """Of one deck. *domains* and *ranges*: what its variables can be; *made*: what an invented one stands for."""

    def __init__(self, deck: Deck) -> None:
        self.deck = deck
        self.domains: dict[str, Words] = {"phase": frozenset(deck.phases) | frozenset(deck.ends)}
        self.ranges: dict[str, Range] = {}
        self.made: dict[str, Expr] = {}
        for signal in deck.signals:
            match signal.kind:
                case SignalKind.NUMBER:
                    low = -ANY[1] if signal.low is None else signal.low
                    high = ANY[1] if signal.high is None else signal.high
                    self.ranges[signal.name] = (low, high)
                case SignalKind.CHOICE:
                    self.domains[signal.name] = frozenset(signal.choices)
                case SignalKind.FLAG:
                    self.domains[signal.name] = FLAG
                case _:
                    assert_never(signal.kind)
        self._true: dict[int, Formula] = {}
        self._false: dict[int, Formula] = {}
        self._spans: dict[str, Span] = {}

    def true(self, row: int) -> Formula:
        """Where condition number *row* is true."""
        if row not in self._true:
            self._true[row] = self._truth(self.deck.conditions[row].tree, True)
        return self._true[row]

    def false(self, row: int) -> Formula:
        """Where it is false: not merely unknown."""
        if row not in self._false:
            self._false[row] = self._truth(self.deck.conditions[row].tree, False)
        return self._false[row]

    def _truth(self, tree: Expr, wanted: bool) -> Formula:
        match tree:
            case Const(value=value):
                return ALWAYS if (value is True) == wanted else NEVER
            case SignalRef(name=name):
                return flag(name, wanted)
            case FactRef(name=name):
                return flag(f"fact {name}", wanted)
            case Done(ref=ref):
                return flag(f"done {ref}", wanted)
            case Held(inner=inner, seconds=seconds):
                return self._timed(f"held {inner} {seconds:g}", self.true(inner), self.false(inner), wanted)
            case Rising(inner=inner):
                return self._timed(f"rising {inner}", self.true(inner), self.false(inner), wanted)
            case Falling(inner=inner):
                return self._timed(f"falling {inner}", self.false(inner), self.true(inner), wanted)
            case Not(operand=operand):
                return self._truth(operand, not wanted)
            case AllOf(parts=parts) | AnyOf(parts=parts):
                each = tuple(self._truth(part, wanted) for part in parts)
                return Every(each) if isinstance(tree, AllOf) == wanted else Some(each)
            case Compare(operands=operands, ops=ops):
                links = tuple(self.link(operands[i], op, operands[i + 1], wanted) for i, op in enumerate(ops))
                return Every(links) if wanted else Some(links)
            case OneOf(subject=subject, options=options, negated=negated):
                links = tuple(self.link(subject, "==", Const(o), wanted != negated) for o in options)
                return Some(links) if wanted != negated else Every(links)
            case _:
                raise TypeError(f"{tree!r} is no condition")

    @staticmethod
    def _timed(name: str, inner: Formula, outer: Formula, wanted: bool) -> Formula:
        """What needs its inner condition and time besides."""
        return Every((inner, flag(name, True))) if wanted else Some((outer, flag(name, False)))

    def link(self, left: Expr, op: Op, right: Expr, wanted: bool) -> Formula:
        """Where one comparison is true, or false."""
        if self._is_truth(left):
            alike = (op == "==") == wanted
            cases = [Every((self._truth(left, a), self._truth(right, a == alike))) for a in (True, False)]
            return Some(tuple(cases))
        words = self._words(left), self._words(right)
        if words[0] is not None and words[1] is not None:
            return self._among(words[0], words[1], (op == "==") == wanted)
        known = tuple(flag(name, True) for name in sorted(map(_known, clocks_of(left) | clocks_of(right))))
        op = op if wanted else OPPOSITE[op]
        if isinstance(left, SignalRef) and isinstance(right, Const) and isinstance(right.value, float):
            return bounded(op, Linear(((left.name, _UNIT),), -Fraction(str(right.value))))  # nearly all there is
        each = [
            Every((*under, *also, bounded(op, a.minus(b))))
            for a, under in self._number(left)
            for b, also in self._number(right)
        ]
        link = each[0] if len(each) == 1 else Some(tuple(each))
        return Every((*known, link)) if known else link

    def _words(self, tree: Expr) -> tuple[str, Words] | None:
        """The variable and the words that it can be; a word that is written out has no variable."""
        match tree:
            case Const(value=str() as value):
                return "", frozenset((value,))
            case PhaseRef():
                return "phase", self.domains["phase"]
            case SignalRef(name=name) if name in self.domains:
                return name, self.domains[name]
            case _:
                return None

    def _is_truth(self, tree: Expr) -> bool:
        match tree:
            case Const(value=value):
                return isinstance(value, bool)
            case SignalRef(name=name):
                return self.domains.get(name) is FLAG
            case PhaseRef() | Since() | Age() | Negate() | Arith() | Func() | Turn():
                return False
            case _:
                return True

    def _among(self, left: tuple[str, Words], right: tuple[str, Words], equal: bool) -> Formula:
        """Whether two words are the same; of two that vary, case by case."""
        (first, those), (second, these) = left, right
        if first == second:
            return ALWAYS if (those == these) == equal else NEVER
        if not first:
            first, those, second, these = second, these, first, those
        if not second:
            return Within(first, these if equal else those - these)
        cases = [
            Every((Within(first, frozenset((word,))), Within(second, frozenset((word,)) if equal else these - {word})))
            for word in sorted(those)
        ]
        return Some(tuple(cases))

    def _number(self, tree: Expr) -> list[Case]:
        """The cases of a number; of too many one variable is made, about which nothing is known."""
        found = list(islice(self._cases(tree), MOST_ALTERNATIVES + 1))
        if len(found) <= MOST_ALTERNATIVES:
            return found
        name = f"made {len(self.made)}"
        self.made[name] = tree
        self.ranges[name] = ANY
        return [(_one(name), ())]

    def _cases(self, tree: Expr) -> Iterable[Case]:
        match tree:
            case Const(value=value):
                return [(Linear((), Fraction(str(value))), ())]
            case SignalRef(name=name):
                return [(_one(name), ())]
            case Since(ref=ref):
                return [(self._clock(f"since {ref}"), ())]
            case Age(signal=name):
                return [(self._clock(f"age {name}"), ())]
            case Negate(operand=operand):
                return [(a.times(Fraction(-1)), under) for a, under in self._number(operand)]
            case Arith():
                return self._arith(tree)
            case Func(name="abs", args=(inner,)):
                return [case for a, under in self._number(inner) for case in _size(a, under)]
            case Func(name=name, args=args):
                return self._extreme(name, [self._number(part) for part in args])
            case Turn(first=first, second=second):
                differences = self._number(Arith("-", first, second))
                return [case for a, under in differences for case in _turned(a, under)]
            case _:
                raise TypeError(f"{tree!r} is no number")

    def _clock(self, name: str) -> Linear:
        self.ranges[name] = (0.0, ANY[1])
        return _one(name)

    def _arith(self, tree: Arith) -> list[Case]:
        cases: list[Case] = []
        for a, under in self._number(tree.left):
            for b, also in self._number(tree.right):
                conditions = (*under, *also)
                match tree.op:
                    case "+":
                        cases.append((a.plus(b), conditions))
                    case "-":
                        cases.append((a.minus(b), conditions))
                    case "*" if not a.factors or not b.factors:
                        cases.append((b.times(a.constant) if not a.factors else a.times(b.constant), conditions))
                    case "/" if not b.factors and b.constant:
                        cases.append((a.times(1 / b.constant), conditions))
                    case _:
                        cases.append((self._made(tree, a, b), conditions))
        return cases

    def _made(self, tree: Arith, a: Linear, b: Linear) -> Linear:
        """A variable for what is no sum, within what it can be."""
        name = f"made {len(self.made)}"
        self.made[name] = tree
        self.ranges[name] = joined(tree.op, self.range_of(a), self.range_of(b))
        return _one(name)

    def domain(self, name: str) -> Words:
        """All words that a variable can be."""
        return self.domains.get(name, FLAG)

    def span(self, name: str) -> Span:
        """The ends of what a variable can be."""
        if name not in self._spans:
            low, high = self.ranges.get(name, ANY)
            self._spans[name] = Span(
                (Fraction(str(low)), False) if isfinite(low) else None,
                (Fraction(str(high)), False) if isfinite(high) else None,
            )
        return self._spans[name]

    def range_of(self, total: Linear) -> Range:
        """The range of a sum."""
        low = high = float(total.constant)
        for name, factor in total.factors:
            ends = sorted(end * float(factor) for end in self.ranges[name])
            low, high = low + ends[0], high + ends[1]
        return low, high

    @staticmethod
    def _extreme(name: str, parts: list[list[Case]]) -> Iterator[Case]:
        """The least or the most of several: each part in turn, where it is at the end of all others."""
        op = "<=" if name == "min" else ">="
        for i in range(len(parts)):
            for chosen in product(*parts):
                under = tuple(formula for _, conditions in chosen for formula in conditions)
                ends = tuple(bounded(op, chosen[i][0].minus(b)) for j, (b, _) in enumerate(chosen) if j != i)
                yield chosen[i][0], (*under, *ends)


def _known(clock: Since | Age) -> str:
    """What must be so for a clock to be known."""
    return f"happened {clock.ref}" if isinstance(clock, Since) else f"heard {clock.signal}"


def _one(name: str) -> Linear:
    return Linear(((name, _UNIT),))


def _size(a: Linear, under: tuple[Formula, ...]) -> list[Case]:
    return [
        (a, (*under, bounded(">=", a))),
        (a.times(Fraction(-1)), (*under, bounded("<", a))),
    ]


def _turned(a: Linear, under: tuple[Formula, ...]) -> list[Case]:
    """The shortest way round of a difference of two headings from 0 to 360."""
    whole = Linear((), 2 * _TURN)
    cases: list[Case] = []
    for size, conditions in _size(a, under):
        beyond = size.minus(Linear((), _TURN))
        cases += [
            (size, (*conditions, bounded("<=", beyond))),
            (whole.minus(size), (*conditions, bounded(">", beyond))),
        ]
    return cases
