"""Syntax tree -> condition tree, with sorts, units and names checked on the way.

The law: every slip in the text is reported, each once, and reading goes on after it.
"""

import ast
from collections.abc import Callable
from math import inf

from flowdeck.conditions.compare import Operator, judge, judge_among, said, sort_of
from flowdeck.conditions.faults import Fault, meant, quoted
from flowdeck.conditions.meaning import Meaning, Names, Sort
from flowdeck.conditions.parse import FUNCTIONS, Source
from flowdeck.conditions.ranges import ANY, Range, joined, least, most, size
from flowdeck.conditions.units import Unit, alike, shown, times, unit
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
from flowdeck.model.diagnostic import Level
from flowdeck.model.likeness import near
from flowdeck.model.signals import SignalKind

_BROKEN = Const(False)
_COMPARING: dict[type[ast.cmpop], Operator] = {
    ast.Lt: "<",
    ast.LtE: "<=",
    ast.Gt: ">",
    ast.GtE: ">=",
    ast.Eq: "==",
    ast.NotEq: "!=",
}


class Reader:
    """Reads one source. *intern* gives an inner condition (its text and tree) a row and tells its number."""

    def __init__(self, source: Source, names: Names, intern: Callable[[str, Expr], int]) -> None:
        self._source = source
        self._names = names
        self._intern = intern
        self.faults: list[Fault] = []

    @property
    def failed(self) -> bool:
        return any(fault.level is Level.ERROR for fault in self.faults)

    def condition(self) -> Expr | None:
        """The tree of the whole text, None when `faults` holds an error."""
        tree = self._truth(self._source.root).expr
        return None if self.failed else tree

    def _report(self, kind: str, message: str, offset: int, level: Level = Level.ERROR) -> None:
        self.faults.append(Fault(kind=kind, message=message, offset=offset, level=level))

    def _made(
        self,
        node: ast.expr,
        expr: Expr,
        sort: Sort,
        *,
        unit: Unit = None,
        span: Range = ANY,
        words: tuple[str, ...] = (),
        literal: bool = False,
        phase: bool = False,
    ) -> Meaning:
        return Meaning(
            expr=expr,
            sort=sort,
            label=self._source.segment(node),
            offset=self._source.offset(node),
            unit=unit,
            span=span,
            words=words,
            literal=literal,
            phase=phase,
        )

    def _wrong(self, node: ast.expr, kind: str, message: str) -> Meaning:
        self._report(kind, message, self._source.offset(node))
        return self._made(node, _BROKEN, "broken")

    def _read(self, node: ast.expr) -> Meaning:
        match node:
            case ast.Name(id=name):
                return self._name(node, name)
            case ast.Constant(value=value):
                return self._literal(node, value)
            case ast.Compare(ops=[ast.In() | ast.NotIn() as op], left=left, comparators=[options]):
                return self._among(node, left, options, isinstance(op, ast.NotIn))
            case ast.Compare():
                return self._compare(node)
            case ast.BoolOp(op=op, values=parts):
                trees = tuple(self._joined(part, node).expr for part in parts)
                return self._made(node, AllOf(trees) if isinstance(op, ast.And) else AnyOf(trees), "truth")
            case ast.Call(func=ast.Name(id=function), args=args):
                return self._call(node, function, args)
            case ast.UnaryOp(op=ast.Not(), operand=operand):
                return self._made(node, Not(self._truth(operand).expr), "truth")
            case ast.UnaryOp(operand=operand):
                return self._negated(node, operand)
            case ast.BinOp():
                return self._arith(node)
            case _:
                return self._wrong(node, "not-allowed", "a list of values may only stand after in")

    def _literal(self, node: ast.expr, value: object) -> Meaning:
        match value:
            case bool():
                return self._made(node, Const(value), "truth", literal=True)
            case str():
                return self._made(node, Const(value), "word", literal=True, words=(value,))
            case int() | float():
                return self._plain(node, float(value))
            case _:
                raise TypeError(f"{value!r} came through the whitelist")

    def _plain(self, node: ast.expr, number: float) -> Meaning:
        return self._made(node, Const(number), "number", literal=True, span=(number, number))

    def _name(self, node: ast.expr, name: str) -> Meaning:
        known = self._names
        if name in ("true", "false"):
            return self._made(node, Const(name == "true"), "truth", literal=True)
        if name == "phase":
            return self._made(node, PhaseRef(), "word", words=tuple(sorted(known.phases)), phase=True)
        if name in known.facts and name not in known.signals:
            return self._made(node, FactRef(name), "truth")
        signal = known.signals.get(name)
        if signal is None:
            return self._wrong(node, "unknown-signal", self._unknown(name))
        ref = SignalRef(name)
        if signal.kind is SignalKind.FLAG:
            return self._made(node, ref, "truth")
        if signal.kind is SignalKind.CHOICE:
            return self._made(node, ref, "word", words=signal.choices)
        low, high = (-inf if signal.low is None else signal.low), (inf if signal.high is None else signal.high)
        return self._made(node, ref, "number", unit=unit(signal.unit), span=(low, high))

    def _unknown(self, name: str) -> str:
        known = self._names
        if name in known.phases:
            return f"{quoted(name)} is a phase, not a signal; write phase == {quoted(name)}"
        if name in known.marks:
            return f"{quoted(name)} is a mark, not a signal; write since({quoted(name)}) with a number of seconds"
        if any(name in signal.choices for signal in known.signals.values()):
            return f"{quoted(name)} is not a signal; a word to compare with stands in quotes: {quoted(name)}"
        like = near(name, {*known.signals, *known.facts, "phase"})
        if like is None:
            return f"{quoted(name)} is neither a signal nor a fact of this deck"
        what = "a fact" if like in known.facts else "a signal"
        return f"{quoted(name)} is not {what}; did you mean {quoted(like)}?"

    def _truth(self, node: ast.expr) -> Meaning:
        part = self._read(node)
        if part.sort in ("number", "word"):
            hint = f"compare it with something, as in {part.label} " + ("> 0" if part.sort == "number" else "== 'word'")
            message = f"{said(part)} is {sort_of(part)}, not a condition; {hint}"
            if part.literal:
                message = f"{said(part)} is {sort_of(part)}, not a condition; expected a comparison, a flag or a fact"
            return self._wrong(node, "wrong-type", message)
        return part

    def _joined(self, node: ast.expr, whole: ast.BoolOp) -> Meaning:
        """A part of `and` or `or`; a bare word or number there is nearly always a half-written comparison."""
        before = whole.values[max(whole.values.index(node) - 1, 0)]
        if isinstance(node, ast.Constant) and not isinstance(node.value, bool) and isinstance(before, ast.Compare):
            left, right = self._source.segment(before.left), self._source.segment(node)
            message = (
                f"{right} stands alone; write the comparison out: {left} == {right}, or use {left} in (..., {right})"
            )
            return self._wrong(node, "wrong-type", message)
        return self._truth(node)

    def _number(self, node: ast.expr, what: str) -> Meaning:
        part = self._read(node)
        if part.sort in ("word", "truth"):
            return self._wrong(node, "wrong-type", f"{said(part)} is {sort_of(part)}; {what} needs a number")
        return part

    def _negated(self, node: ast.expr, operand: ast.expr) -> Meaning:
        part = self._number(operand, "a minus sign")
        if isinstance(part.expr, Const) and part.sort == "number" and isinstance(part.expr.value, float):
            return self._plain(node, -part.expr.value)
        span = (-part.span[1], -part.span[0])
        return self._made(node, Negate(part.expr), part.sort, unit=part.unit, span=span)

    def _arith(self, node: ast.BinOp) -> Meaning:
        op = {ast.Add: "+", ast.Sub: "-", ast.Mult: "*", ast.Div: "/"}[type(node.op)]
        left, right = self._number(node.left, f"the operator {op}"), self._number(node.right, f"the operator {op}")
        if "broken" in (left.sort, right.sort):
            return self._made(node, _BROKEN, "broken")
        if op == "/" and right.span == (0, 0):
            return self._wrong(node, "not-allowed", f"{quoted(self._source.segment(node))} divides by nothing")
        if op in "+-":
            united = self._same_unit(node, [left, right])
            if united is not None:
                return united
            measure = right.unit if left.unit is None else left.unit
        else:
            measure = times(left.unit, right.unit, 1 if op == "*" else -1)
        expr = Arith(op, left.expr, right.expr)  # type: ignore[arg-type]  # the parser lets no other through
        span = joined(op, left.span, right.span)
        return self._made(node, expr, "number", unit=measure, span=span)

    def _same_unit(self, node: ast.expr, parts: list[Meaning]) -> Meaning | None:
        """None when all *parts* go together, else the broken whole, reported."""
        units = [part for part in parts if part.unit is not None]
        for part in units[1:]:
            if not alike(units[0].unit, part.unit):
                first = f"{said(units[0])} is {shown(units[0].unit)}"
                message = f"{first} and {said(part)} {shown(part.unit)}; unlike units cannot be put together"
                return self._wrong(node, "unit-clash", message)
        return None

    def _compare(self, node: ast.Compare) -> Meaning:
        operands = [self._read(operand) for operand in (node.left, *node.comparators)]
        ops = tuple(_COMPARING[type(op)] for op in node.ops)
        for at, op in enumerate(ops):
            judge(op, operands[at], operands[at + 1], self._report)
        return self._made(node, Compare(tuple(part.expr for part in operands), ops), "truth")

    def _among(self, node: ast.expr, left: ast.expr, listing: ast.expr, negated: bool) -> Meaning:
        subject = self._read(left)
        if not isinstance(listing, ast.Tuple | ast.List) or not listing.elts:
            found = quoted(self._source.segment(listing))
            return self._wrong(
                listing, "wrong-type", f"in needs a list such as ('a', 'b'), found {found}; for one value use =="
            )
        options = [self._read(option) for option in listing.elts]
        values = [option.expr.value for option in options if isinstance(option.expr, Const) and option.literal]
        if len(values) != len(options):
            if all(option.sort != "broken" for option in options):
                return self._wrong(listing, "wrong-type", "the list after in may hold only numbers, or words in quotes")
            return self._made(node, _BROKEN, "truth")
        judge_among(subject, options, negated, self._report)
        return self._made(node, OneOf(subject.expr, tuple(values), negated), "truth")

    def _call(self, node: ast.Call, function: str, args: list[ast.expr]) -> Meaning:
        match function:
            case "done" | "since":
                return self._named(node, function, args[0])
            case "age":
                return self._age(node, args[0])
            case "held" | "rising" | "falling":
                return self._timed(node, function, args)
            case _:
                return self._figured(node, function, args)

    def _named(self, node: ast.Call, function: str, arg: ast.expr) -> Meaning:
        names = self._names
        if not (isinstance(arg, ast.Constant) and isinstance(arg.value, str)):
            found = quoted(self._source.segment(arg))
            return self._wrong(
                arg, "wrong-type", f"{function} needs a name in quotes, found {found}; write {FUNCTIONS[function][2]}"
            )
        ref, known = arg.value, names.refs | names.marks if function == "since" else names.refs
        if ref not in known:
            what = "neither a mark nor" if function == "since" else "not"
            hint = meant(ref, known) or " of this deck"
            message = f"{quoted(ref)} is {what} an item, call, list or gate{hint}"
            if ref in names.marks:
                message = f"{quoted(ref)} is a mark, which is never done; write since({quoted(ref)}) >= 0"
            return self._wrong(arg, "unknown-ref", message)
        if function == "done":
            return self._made(node, Done(ref), "truth")
        return self._made(node, Since(ref), "number", unit=unit("s"), span=(0.0, inf))

    def _age(self, node: ast.Call, arg: ast.expr) -> Meaning:
        if not isinstance(arg, ast.Name):
            return self._wrong(arg, "wrong-type", f"age needs a signal, found {quoted(self._source.segment(arg))}")
        if arg.id not in self._names.signals:
            message = f"{quoted(arg.id)} is not a signal{meant(arg.id, self._names.signals) or ' of this deck'}"
            if arg.id in self._names.facts:
                message = f"{quoted(arg.id)} is a fact; only a signal has an age"
            return self._wrong(arg, "unknown-signal", message)
        return self._made(node, Age(arg.id), "number", unit=unit("s"), span=(0.0, inf))

    def _timed(self, node: ast.Call, function: str, args: list[ast.expr]) -> Meaning:
        inner = self._truth(args[0])
        seconds = self._seconds(args[1]) if function == "held" else None
        if self.failed:
            return self._made(node, _BROKEN, "truth")
        row = self._intern(inner.label, inner.expr)
        if seconds is not None:
            return self._made(node, Held(row, seconds), "truth")
        return self._made(node, Rising(row) if function == "rising" else Falling(row), "truth")

    def _seconds(self, node: ast.expr) -> float | None:
        part = self._read(node)
        if part.sort == "broken":
            return None
        value = part.expr.value if isinstance(part.expr, Const) else None
        if isinstance(value, float) and value > 0:
            return value
        self._wrong(node, "wrong-type", f"held needs a number of seconds above 0, found {said(part)}")
        return None

    def _figured(self, node: ast.Call, function: str, args: list[ast.expr]) -> Meaning:
        parts = [self._number(arg, function) for arg in args]
        if any(part.sort == "broken" for part in parts):
            return self._made(node, _BROKEN, "broken")
        trees, spans = tuple(part.expr for part in parts), [part.span for part in parts]
        if function == "turn":
            return self._turn(node, parts)
        broken = self._same_unit(node, parts)
        if broken is not None:
            return broken
        units: list[Unit] = [part.unit for part in parts if part.unit is not None]
        span = size(spans[0]) if function == "abs" else least(spans) if function == "min" else most(spans)
        expr = Func(function, trees)  # type: ignore[arg-type]  # the parser lets no other through
        return self._made(node, expr, "number", unit=units[0] if units else None, span=span)

    def _turn(self, node: ast.Call, parts: list[Meaning]) -> Meaning:
        for part in parts:
            if not alike(part.unit, unit("deg")):
                message = f"{said(part)} is {shown(part.unit)}; turn needs two headings in deg"
                return self._wrong(node, "unit-clash", message)
        expr = Turn(parts[0].expr, parts[1].expr)
        return self._made(node, expr, "number", unit=unit("deg"), span=(0.0, 180.0))
