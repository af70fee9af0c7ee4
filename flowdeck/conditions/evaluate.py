"""The table of conditions worked out node by node: slow, plain, the reference for `compile`."""

from collections.abc import Iterable, Mapping, Sequence
from collections.abc import Set as AbstractSet
from operator import eq, ge, gt, le, lt, ne
from typing import Literal, assert_never

from flowdeck.model.condition import (
    Age,
    AllOf,
    AnyOf,
    Arith,
    Compare,
    Condition,
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
    Scalar,
    SignalRef,
    Since,
    Truth,
    Turn,
)

_COMPARING = {"<": lt, "<=": le, ">": gt, ">=": ge, "==": eq, "!=": ne}


class Evaluator:
    """Called like `Truths`, with the same answer."""

    def __init__(self, conditions: tuple[Condition, ...]) -> None:
        self._conditions = conditions

    def __call__(
        self,
        values: Mapping[str, Scalar | None],
        facts: Mapping[str, bool | None],
        phase: str,
        done: AbstractSet[str],
        times: Mapping[str, int],
        now: int,
        heard: Mapping[str, int],
        prev: tuple[Truth, ...],
        since: tuple[int, ...],
    ) -> tuple[Truth, ...]:
        look = _Look(values, facts, phase, done, times, now, heard, prev, since)
        for condition in self._conditions:
            look.rows.append(look.truth(condition.tree))
        return tuple(look.rows)


class _Look:
    def __init__(
        self,
        values: Mapping[str, Scalar | None],
        facts: Mapping[str, bool | None],
        phase: str,
        done: AbstractSet[str],
        times: Mapping[str, int],
        now: int,
        heard: Mapping[str, int],
        prev: tuple[Truth, ...],
        since: tuple[int, ...],
    ) -> None:
        self.values, self.facts, self.phase = values, facts, phase
        self.done, self.times, self.now, self.heard = done, times, now, heard
        self.prev, self.since = prev, since
        self.rows: list[Truth] = []

    def truth(self, tree: Expr) -> Truth:
        value = self.value(tree)
        if value is None or isinstance(value, bool):
            return value
        raise TypeError(f"{tree!r} is not a condition")

    def value(self, tree: Expr) -> Scalar | None:
        match tree:
            case Const(value=value):
                return value
            case SignalRef(name=name):
                return self.values.get(name)
            case FactRef(name=name):
                return self.facts.get(name)
            case PhaseRef():
                return self.phase
            case Done(ref=ref):
                return ref in self.done
            case Since(ref=ref):
                return self._seconds(self.times.get(ref))
            case Age(signal=name):
                return self._seconds(self.heard.get(name))
            case Held(inner=inner, seconds=seconds):
                if self.rows[inner] is not True:
                    return self.rows[inner]
                return self.prev[inner] is True and self.now - self.since[inner] >= seconds * 1000
            case Rising(inner=inner):
                return None if self.rows[inner] is None else bool(self.rows[inner]) and self.prev[inner] is False
            case Falling(inner=inner):
                return None if self.rows[inner] is None else not self.rows[inner] and self.prev[inner] is True
            case Turn(first=first, second=second):
                a, b = self._number(first), self._number(second)
                return None if a is None or b is None else abs((a - b + 180) % 360 - 180)
            case Arith(op=op, left=left, right=right):
                return _arith(op, self._number(left), self._number(right))
            case Negate(operand=operand):
                number = self._number(operand)
                return None if number is None else -number
            case Func(name=name, args=args):
                numbers = [number for arg in args if (number := self._number(arg)) is not None]
                return _figure(name, numbers) if len(numbers) == len(args) else None
            case Compare(operands=operands, ops=ops):
                found = [self.value(operand) for operand in operands]
                return _all(_pair(op, found[at], found[at + 1]) for at, op in enumerate(ops))
            case OneOf(subject=subject, options=options, negated=negated):
                found_one = self.value(subject)
                return None if found_one is None else (found_one in options) is not negated
            case Not(operand=operand):
                return _opposite(self.truth(operand))
            case AllOf(parts=parts):
                return _all(self.truth(part) for part in parts)
            case AnyOf(parts=parts):
                return _opposite(_all(_opposite(self.truth(part)) for part in parts))
            case _:
                assert_never(tree)

    def _seconds(self, then: int | None) -> float | None:
        return None if then is None else (self.now - then) / 1000

    def _number(self, tree: Expr) -> float | None:
        value = self.value(tree)
        if isinstance(value, str | bool):
            raise TypeError(f"{tree!r} is not a number")
        return value


def _arith(op: str, left: float | None, right: float | None) -> float | None:
    if left is None or right is None:
        return None
    match op:
        case "+":
            return left + right
        case "-":
            return left - right
        case "*":
            return left * right
        case _:
            return None if right == 0 else left / right


def _figure(name: Literal["abs", "min", "max"], numbers: Sequence[float]) -> float:
    match name:
        case "abs":
            return abs(numbers[0])
        case "min":
            return min(numbers)
        case "max":
            return max(numbers)
        case _:
            assert_never(name)


def _pair(op: str, left: Scalar | None, right: Scalar | None) -> Truth:
    return None if left is None or right is None else bool(_COMPARING[op](left, right))


def _opposite(value: Truth) -> Truth:
    return None if value is None else not value


def _all(parts: Iterable[Truth]) -> Truth:
    found = set(parts)
    return False if False in found else None if None in found else True
