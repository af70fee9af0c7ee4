"""What a condition depends on: the signals it reads and the things whose doing it asks about."""

from collections.abc import Iterator, Sequence
from typing import Literal, TypeAlias, assert_never

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
    SignalRef,
    Since,
    Turn,
)


def children(tree: Expr, table: Sequence[Condition] = ()) -> tuple[Expr, ...]:
    """The parts of *tree*; the inner condition of held, rising and falling only when *table* is given."""
    match tree:
        case Const() | SignalRef() | FactRef() | PhaseRef() | Done() | Since() | Age():
            return ()
        case Held(inner=inner) | Rising(inner=inner) | Falling(inner=inner):
            return (table[inner].tree,) if table else ()
        case Turn(first=left, second=right) | Arith(left=left, right=right):
            return left, right
        case Negate(operand=operand) | Not(operand=operand):
            return (operand,)
        case Func(args=parts) | Compare(operands=parts) | AllOf(parts=parts) | AnyOf(parts=parts):
            return parts
        case OneOf(subject=subject):
            return (subject,)
        case _:
            assert_never(tree)


def walk(tree: Expr, table: Sequence[Condition] = ()) -> Iterator[Expr]:
    """*tree* and every part of it, outer ones first."""
    yield tree
    for child in children(tree, table):
        yield from walk(child, table)


Op: TypeAlias = Literal["<", "<=", ">", ">=", "==", "!="]
OPPOSITE: dict[Op, Op] = {"<": ">=", "<=": ">", ">": "<=", ">=": "<", "==": "!=", "!=": "=="}
"""What holds of two known values exactly where the comparison does not."""
_TRUTHS = (AllOf, AnyOf, Compare, Done, FactRef, Falling, Held, Not, OneOf, Rising)


def clocks_of(tree: Expr) -> frozenset[Since | Age]:
    """The clocks without which a number is not known; of a condition, which may be known without them, none."""
    if isinstance(tree, _TRUTHS):
        return frozenset()
    return frozenset(part for part in walk(tree) if isinstance(part, Since | Age))


def names_used(tree: Expr, table: Sequence[Condition] = ()) -> frozenset[str]:
    """Names of the signals that *tree* reads or asks the age of."""
    found = set[str]()
    for part in walk(tree, table):
        if isinstance(part, SignalRef):
            found.add(part.name)
        elif isinstance(part, Age):
            found.add(part.signal)
    return frozenset(found)


def facts_used(tree: Expr, table: Sequence[Condition] = ()) -> frozenset[str]:
    """Names of the facts that *tree* asks for."""
    return frozenset(part.name for part in walk(tree, table) if isinstance(part, FactRef))


def refs_used(tree: Expr, table: Sequence[Condition] = ()) -> frozenset[str]:
    """Ids and marks that *tree* names in done() and since()."""
    return frozenset(part.ref for part in walk(tree, table) if isinstance(part, Done | Since))
