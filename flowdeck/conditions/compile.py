"""A deck's whole table of conditions as one compiled function.

The code is written from our own checked tree: straight lines, each value in a local of its own, each
signal read once. Text from a file enters it only as a quoted constant.
"""

from collections.abc import Callable, Mapping
from collections.abc import Set as AbstractSet
from math import isfinite
from types import CodeType, FunctionType
from typing import TypeAlias, assert_never

from msgspec import Struct

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

_HEAD = "def look(values, facts, phase, done, times, now, heard, prev, since):"

Look: TypeAlias = Callable[
    [
        Mapping[str, Scalar | None],
        Mapping[str, bool | None],
        str,
        AbstractSet[str],
        Mapping[str, int],
        int,
        Mapping[str, int],
        tuple[Truth, ...],
        tuple[int, ...],
    ],
    tuple[Truth, ...],
]


class Truths:
    """The compiled table. Calling it gives the truth of every row.

    *values*: the reading of each signal by name (None, or not there: unknown; otherwise of the signal's
    kind). *heard*: the ms at which it was last heard. *times*: ms at which a mark
    or a thing done happened; *now* ms. *prev* and *since*: the truths of the look before, and the ms at
    which each row took that value (see `changed_at`); at the first look `nothing_known` and zeros.
    """

    __slots__ = ("_look", "nothing_known")

    def __init__(self, look: Look, rows: int) -> None:
        self._look = look
        self.nothing_known: tuple[Truth, ...] = (None,) * rows

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
        return self._look(values, facts, phase, done, times, now, heard, prev, since)


def changed_at(truths: tuple[Truth, ...], prev: tuple[Truth, ...], since: tuple[int, ...], now: int) -> tuple[int, ...]:
    """*since* for the next look: *now* (ms) for each row whose truth differs from *prev*."""
    if truths == prev:
        return since
    return tuple(then if new is old else now for new, old, then in zip(truths, prev, since, strict=True))


def compile_truths(conditions: tuple[Condition, ...]) -> Truths:
    """One function for the whole table."""
    module = compile(written(conditions), "<conditions>", "exec")
    code = next(part for part in module.co_consts if isinstance(part, CodeType))
    look = FunctionType(code, {"__builtins__": {"abs": abs, "min": min, "max": max}})
    return Truths(look, len(conditions))


def written(conditions: tuple[Condition, ...]) -> str:
    """The source that `compile_truths` compiles."""
    writer = _Writer()
    for condition in conditions:
        writer.row(condition.tree)
    rows = "".join(f"{row.name}, " for row in writer.rows)
    return "\n    ".join([_HEAD, *writer.lines, f"return ({rows})"]) + "\n"


class _Atom(Struct, frozen=True):
    """A local or a constant; *maybe*: it can be None."""

    name: str
    maybe: bool = True


class _Writer:
    def __init__(self) -> None:
        self.lines: list[str] = []
        self.rows: list[_Atom] = []
        self._known: dict[Expr, _Atom] = {}

    def row(self, tree: Expr) -> None:
        self.rows.append(self.atom(tree))

    def atom(self, tree: Expr) -> _Atom:
        """The local that holds *tree*; a part met before, in whatever row, is worked out only once."""
        if isinstance(tree, Const):
            return _Atom(_constant(tree.value), maybe=False)
        if isinstance(tree, PhaseRef):
            return _Atom("phase", maybe=False)
        known = self._known.get(tree)
        if known is None:
            code, maybe = self._code(tree)
            known = self._local(code, maybe)
            self._known[tree] = known
        return known

    def _local(self, code: str, maybe: bool) -> _Atom:
        name = f"v{len(self.lines)}"
        self.lines.append(f"{name} = {code}")
        return _Atom(name, maybe)

    def _code(self, tree: Expr) -> tuple[str, bool]:
        """Python for *tree*, of atoms only, and whether it can be None."""
        match tree:
            case SignalRef(name=name):
                return f"values.get({name!r})", True
            case FactRef(name=name):
                return f"facts.get({name!r})", True
            case Done(ref=ref):
                return f"{ref!r} in done", False
            case Since(ref=ref):
                return self._seconds(f"times.get({ref!r})")
            case Age(signal=name):
                return self._seconds(f"heard.get({name!r})")
            case Held(inner=inner, seconds=seconds):
                row, limit = self.rows[inner], _constant(seconds * 1000)
                ripe = f"prev[{inner}] is True and now - since[{inner}] >= {limit}"
                return f"{ripe} if {row.name} is True else {row.name}", row.maybe
            case Rising(inner=inner):
                row = self.rows[inner]
                return _known((row,), f"{row.name} is True and prev[{inner}] is False")
            case Falling(inner=inner):
                row = self.rows[inner]
                return _known((row,), f"{row.name} is False and prev[{inner}] is True")
            case Turn(first=first, second=second):
                a, b = self.atom(first), self.atom(second)
                return _known((a, b), f"abs(({a.name} - {b.name} + 180.0) % 360.0 - 180.0)")
            case Arith(op=op, left=left, right=right):
                return self._arith(op, self.atom(left), self.atom(right), right)
            case Negate(operand=operand):
                a = self.atom(operand)
                return _known((a,), f"-({a.name})")
            case Func(name=name, args=args):
                atoms = tuple(self.atom(arg) for arg in args)
                return _known(atoms, f"{name}({', '.join(atom.name for atom in atoms)})")
            case Compare():
                return self._compare(tree)
            case OneOf(subject=subject, options=options, negated=negated):
                a = self.atom(subject)
                among = "".join(f"{_constant(option)}, " for option in options)
                return _known((a,), f"{a.name} {'not in' if negated else 'in'} ({among})")
            case Not(operand=operand):
                a = self.atom(operand)
                return _known((a,), f"not {a.name}")
            case AllOf(parts=parts):
                return _all_of([self.atom(part) for part in parts])
            case AnyOf(parts=parts):
                return _any_of([self.atom(part) for part in parts])
            case Const() | PhaseRef():
                atom = self.atom(tree)
                return atom.name, atom.maybe
            case _:
                assert_never(tree)

    def _seconds(self, moment: str) -> tuple[str, bool]:
        then = self._local(moment, True)
        return f"None if {then.name} is None else (now - {then.name}) / 1000", True

    def _arith(self, op: str, a: _Atom, b: _Atom, divisor: Expr) -> tuple[str, bool]:
        code, maybe = _known((a, b), f"{a.name} {op} {b.name}")
        if op == "/" and not (isinstance(divisor, Const) and divisor.value != 0):
            unknown = " or ".join([f"{atom.name} is None" for atom in (a, b) if atom.maybe] + [f"{b.name} == 0"])
            return f"None if {unknown} else {a.name} / {b.name}", True
        return code, maybe

    def _compare(self, tree: Compare) -> tuple[str, bool]:
        """As one chain where all its pairs are known or unknown together, else pair by pair."""
        atoms = [self.atom(operand) for operand in tree.operands]
        pairs = list(zip(atoms, tree.ops, atoms[1:], strict=False))
        unknown = [frozenset(atom.name for atom in (left, right) if atom.maybe) for left, _, right in pairs]
        if len(set(unknown)) == 1:
            return _known(tuple(atoms), atoms[0].name + "".join(f" {op} {right.name}" for _, op, right in pairs))
        return _all_of(
            [self._local(*_known((left, right), f"{left.name} {op} {right.name}")) for left, op, right in pairs]
        )


def _known(atoms: tuple[_Atom, ...], code: str) -> tuple[str, bool]:
    """*code*, but None when one of *atoms* is."""
    unknown = dict.fromkeys(f"{atom.name} is None" for atom in atoms if atom.maybe)
    return (f"None if {' or '.join(unknown)} else {code}", True) if unknown else (code, False)


def _all_of(atoms: list[_Atom]) -> tuple[str, bool]:
    maybe = [f"{atom.name} is None" for atom in atoms if atom.maybe]
    if not maybe:
        return " and ".join(atom.name for atom in atoms), False
    false = " or ".join(f"{atom.name} is False" for atom in atoms)
    return f"False if {false} else None if {' or '.join(maybe)} else True", True


def _any_of(atoms: list[_Atom]) -> tuple[str, bool]:
    maybe = [f"{atom.name} is None" for atom in atoms if atom.maybe]
    either = " or ".join(atom.name for atom in atoms)
    if not maybe:
        return either, False
    return f"True if {either} else None if {' or '.join(maybe)} else False", True


def _constant(value: Scalar) -> str:
    if isinstance(value, float) and not isfinite(value):
        raise ValueError("a number in a condition must be finite")
    return repr(value)
