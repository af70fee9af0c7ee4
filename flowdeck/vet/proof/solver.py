"""What intervals leave open, by the solver of the optional extra `proof`: products and quotients of readings too.

The law: the same question gets the same answer, since its work is limited by count and not by the clock.
"""

from fractions import Fraction
from typing import Literal

import z3

from flowdeck.model.condition import (
    Age,
    Arith,
    Const,
    Expr,
    Func,
    Negate,
    SignalRef,
    Since,
    Turn,
)
from flowdeck.vet.proof.box import Box
from flowdeck.vet.proof.formula import Bound, Every, Formula, Linear, Some, Within, Words
from flowdeck.vet.proof.search import Case
from flowdeck.vet.proof.translate import Translator

EFFORT = 50_000
"""Steps of the solver before it gives up, a fraction of a second."""


def settle(formula: Formula, translate: Translator) -> Case | Literal[False] | None:
    """A case in which *formula* holds, False where there is none, None where this cannot be told either."""
    return _Question(translate).ask(formula)


class _Question:
    def __init__(self, translate: Translator) -> None:
        self._translate = translate
        self._solver = z3.Solver()
        self._solver.set("rlimit", EFFORT)
        self._numbers: dict[str, z3.ArithRef] = {}
        self._words: dict[str, z3.ArithRef] = {}

    def ask(self, formula: Formula) -> Case | Literal[False] | None:
        self._solver.add(self._formula(formula))
        answer = self._solver.check()
        if answer == z3.unsat:
            return False
        if answer != z3.sat:
            return None
        model = self._solver.model()
        words: dict[str, Words] = {}
        for name, variable in self._words.items():
            ordered = sorted(self._translate.domain(name))
            words[name] = frozenset((ordered[model.eval(variable, model_completion=True).as_long()],))
        numbers = {
            name: _rational(model.eval(variable, model_completion=True))
            for name, variable in self._numbers.items()
            if name not in self._translate.made
        }
        return Case(Box(words, {}), numbers)

    def _formula(self, formula: Formula) -> z3.BoolRef:
        match formula:
            case Within(name=name, words=words):
                ordered = sorted(self._translate.domain(name))
                variable = self._word(name, len(ordered))
                return z3.Or([variable == ordered.index(word) for word in sorted(words)])
            case Bound(sum=total, strict=strict):
                return self._sum(total) < 0 if strict else self._sum(total) <= 0
            case Every(parts=parts):
                return z3.And([self._formula(part) for part in parts])
            case Some(parts=parts):
                return z3.Or([self._formula(part) for part in parts])

    def _word(self, name: str, number: int) -> z3.ArithRef:
        if name not in self._words:
            variable = self._words[name] = z3.Int(f"word {name}")
            self._solver.add(variable >= 0, variable < number)
        return self._words[name]

    def _sum(self, total: Linear) -> z3.ArithRef:
        parts = [_real(factor) * self._number(name) for name, factor in total.factors]
        return z3.Sum([*parts, _real(total.constant)])

    def _number(self, name: str) -> z3.ArithRef:
        if name not in self._numbers:
            variable = self._numbers[name] = z3.Real(name)
            span = self._translate.span(name)
            if span.low is not None and name not in self._translate.made:
                self._solver.add(variable >= _real(span.low[0]))
            if span.high is not None and name not in self._translate.made:
                self._solver.add(variable <= _real(span.high[0]))
            if name in self._translate.made:
                self._solver.add(variable == self._expression(self._translate.made[name]))
        return self._numbers[name]

    def _expression(self, tree: Expr) -> z3.ArithRef:
        match tree:
            case Const(value=value):
                return _real(Fraction(str(value)))
            case SignalRef(name=name):
                return self._number(name)
            case Since(ref=ref):
                return self._number(f"since {ref}")
            case Age(signal=name):
                return self._number(f"age {name}")
            case Negate(operand=operand):
                return -self._expression(operand)
            case Arith(op=op, left=left, right=right):
                a, b = self._expression(left), self._expression(right)
                if op == "/":
                    self._solver.add(b != 0)  # a division by nothing is unknown, which satisfies no condition
                return {"+": a + b, "-": a - b, "*": a * b}[op] if op != "/" else a / b
            case Func(name=name, args=args):
                return self._function(name, [self._expression(part) for part in args])
            case Turn(first=first, second=second):
                size = self._function("abs", [self._expression(first) - self._expression(second)])
                return z3.If(size <= 180, size, 360 - size)
            case _:
                raise TypeError(f"{tree!r} is no number")

    def _function(self, name: str, parts: list[z3.ArithRef]) -> z3.ArithRef:
        found = parts[0]
        if name == "abs":
            return z3.If(found >= 0, found, -found)
        for part in parts[1:]:
            found = z3.If(found <= part if name == "min" else found >= part, found, part)
        return found


def _real(value: Fraction) -> z3.RatNumRef:
    return z3.Q(value.numerator, value.denominator)


def _rational(value: z3.ArithRef) -> Fraction:
    if z3.is_algebraic_value(value):
        value = value.approx(6)
    return Fraction(value.numerator_as_long(), value.denominator_as_long())
