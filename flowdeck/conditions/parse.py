"""Text -> syntax tree, through a whitelist. The text is parsed by `ast` and never run.

The law: whatever the text, the answer is a `Source` or a list of faults; no exception leaves `parse`.
"""

import ast
import re
import warnings

from msgspec import Struct

from flowdeck.conditions.faults import Fault, meant, quoted

LONGEST = 2000
"""Characters in a condition."""
DEEPEST = 50
"""Levels of nesting."""
LARGEST = 1e9
"""Size of a number; no reading of an aeroplane needs more."""

FUNCTIONS: dict[str, tuple[int, int | None, str]] = {
    "done": (1, 1, "done('item')"),
    "since": (1, 1, "since('mark or item')"),
    "held": (2, 2, "held(condition, seconds)"),
    "rising": (1, 1, "rising(condition)"),
    "falling": (1, 1, "falling(condition)"),
    "age": (1, 1, "age(signal)"),
    "turn": (2, 2, "turn(a, b)"),
    "abs": (1, 1, "abs(a)"),
    "min": (2, None, "min(a, b)"),
    "max": (2, None, "max(a, b)"),
}
"""Name -> least and most arguments, and how it is written."""

_FORBIDDEN: dict[type[ast.AST], str] = {
    ast.Attribute: "a dot after a name",
    ast.Subscript: "square brackets after a value",
    ast.Lambda: "lambda",
    ast.ListComp: "a comprehension",
    ast.SetComp: "a comprehension",
    ast.DictComp: "a comprehension",
    ast.GeneratorExp: "a comprehension",
    ast.JoinedStr: "an f-string",
    ast.NamedExpr: "the operator :=",
    ast.Starred: "a star before a value",
    ast.IfExp: "if ... else",
    ast.Dict: "curly brackets",
    ast.Set: "curly brackets",
    ast.Await: "await",
    ast.Yield: "yield",
    ast.YieldFrom: "yield",
    ast.Pow: "the operator **",
    ast.FloorDiv: "the operator //",
    ast.Mod: "the operator %",
    ast.MatMult: "the operator @",
    ast.BitAnd: "the operator & (write and)",
    ast.BitOr: "the operator | (write or)",
    ast.BitXor: "the operator ^",
    ast.LShift: "the operator <<",
    ast.RShift: "the operator >>",
    ast.Invert: "the operator ~ (write not)",
    ast.UAdd: "a plus sign before a value",
    ast.Is: "is (write ==)",
    ast.IsNot: "is not (write !=)",
}
_OPERATORS = frozenset({ast.And, ast.Or, ast.Add, ast.Sub, ast.Mult, ast.Div, ast.Not, ast.USub})
_COMPARING = frozenset({ast.Lt, ast.LtE, ast.Gt, ast.GtE, ast.Eq, ast.NotEq})
_AMONG = frozenset({ast.In, ast.NotIn})

_STRINGS = re.compile(r"'[^']*'|\"[^\"]*\"")
_HINTS = (
    (re.compile(r"&&"), "write and, not &&"),
    (re.compile(r"\|\|"), "write or, not ||"),
    (re.compile(r"=<"), "write <=, not =<"),
    (re.compile(r"=>"), "write >=, not =>"),
    (re.compile(r"<>"), "write !=, not <>"),
    (re.compile(r"!(?!=)"), "write not, not !"),
    (re.compile(r"(?<![<>=!:])=(?!=)"), "write == to compare, not ="),
    (re.compile(r"\b0\d"), "write numbers without a leading zero"),
)
_RUN_TOGETHER = re.compile(r"\d[^\W\d_]")
_BLANKS = str.maketrans("\n\r\t\f\v", " " * 5)


class Source(Struct, frozen=True):
    """A text that passed the whitelist. *lead*: blanks cut from its start."""

    text: str
    root: ast.expr
    lead: int = 0

    def segment(self, node: ast.expr) -> str:
        """The text of *node* as it was written."""
        if self.text.isascii():
            return self.text[node.col_offset : node.end_col_offset]
        return self.text.encode()[node.col_offset : node.end_col_offset].decode()

    def offset(self, node: ast.expr) -> int:
        """Where *node* begins in the text as given, in characters."""
        if self.text.isascii():
            return self.lead + node.col_offset
        return self.lead + len(self.text.encode()[: node.col_offset].decode())


def tidy(text: str) -> str:
    """*text* on one line without blanks at its ends: the form by which conditions are known as the same."""
    return text.translate(_BLANKS).strip(" ")


def parse(text: str) -> Source | tuple[Fault, ...]:
    """*text* as a syntax tree of allowed nodes, or every fault found on the way there."""
    flat = tidy(text)
    lead = len(text) - len(text.translate(_BLANKS).lstrip(" "))
    if len(text) > LONGEST:
        size = f"the condition is {len(text)} characters long; {LONGEST} is the most"
        return (Fault(kind="too-long", message=f"{size}. Split it, or name a mark for part of it"),)
    if not flat:
        return (Fault(kind="syntax", message="the condition is empty; expected a comparison, a flag or a fact"),)
    if "\\" in flat or not flat.isprintable():
        at, char = next((at, char) for at, char in enumerate(flat) if char == "\\" or not char.isprintable())
        message = f"the character {char!r} cannot stand in a condition"
        return (Fault(kind="not-allowed", message=message, offset=lead + at),)
    try:
        root = _parsed(flat)
    except SyntaxError as error:
        return (_unreadable(flat, lead, error.offset or 1),)
    except (ValueError, Warning):
        return (_unreadable(flat, lead, 1),)
    except (RecursionError, MemoryError):
        return (_too_deep(lead),)
    source = Source(flat, root, lead)
    faults = _faults(source)
    if "#" in flat and "#" in (rest := flat.encode()[root.end_col_offset or 0 :].decode()):
        where = lead + len(flat) - len(rest) + rest.index("#")
        faults.append(Fault(kind="not-allowed", message="a comment cannot stand in a condition", offset=where))
    return tuple(faults) or source


def _parsed(flat: str) -> ast.expr:
    """The tree of *flat*. Raises as `ast.parse`, and for what it would only warn of: a number run into a word."""
    if _RUN_TOGETHER.search(flat) is None:
        return ast.parse(flat, mode="eval").body
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        return ast.parse(flat, mode="eval").body


def _unreadable(flat: str, lead: int, column: int) -> Fault:
    at = min(max(column - 1, 0), len(flat))
    bare = _STRINGS.sub(lambda found: "'" + "_" * (len(found[0]) - 2) + "'", flat)
    for pattern, hint in _HINTS:
        if found := pattern.search(bare):
            return Fault(
                kind="syntax", message=f"this does not read as a condition; {hint}", offset=lead + found.start()
            )
    near = f"near {quoted(flat[at : at + 24])}" if at < len(flat) else "at its end"
    return Fault(kind="syntax", message=f"this does not read as a condition {near}", offset=lead + at)


def _too_deep(lead: int) -> Fault:
    message = f"the condition is nested more than {DEEPEST} deep; split it, or use min, max or in"
    return Fault(kind="not-allowed", message=message, offset=lead)


def _faults(source: Source) -> list[Fault]:
    """Every fault of the tree, walked without recursion because the text may be hostile."""
    faults: list[Fault] = []
    waiting: list[tuple[ast.expr, int]] = [(source.root, 1)]
    while waiting:
        node, level = waiting.pop()
        if level > DEEPEST:
            return [_too_deep(source.lead)]
        found = _look_at(source, node)
        if isinstance(found, tuple):
            kind, message = found
            faults.append(Fault(kind=kind, message=message, offset=source.offset(node)))
        else:
            waiting += [(child, level + 1) for child in found]
    return sorted(faults, key=lambda fault: fault.offset)


def _look_at(source: Source, node: ast.expr) -> list[ast.expr] | tuple[str, str]:
    """The parts of *node* to look at in their turn, or what is wrong with it."""
    match node:
        case ast.Constant():
            return _fault_of_constant(source, node) or []
        case ast.Name():
            return _fault_of_name(source, node) or []
        case ast.Compare(left=left, ops=ops, comparators=others):
            return _fault_of_comparing(ops) or [left, *others]
        case ast.BoolOp(values=parts):
            return parts
        case ast.BinOp(op=op, left=left, right=right):
            return [left, right] if type(op) in _OPERATORS else _not_allowed(op)
        case ast.UnaryOp(op=op, operand=operand):
            return [operand] if type(op) in _OPERATORS else _not_allowed(op)
        case ast.Call(args=args):
            return _fault_of_call(source, node) or args
        case ast.Tuple(elts=parts) | ast.List(elts=parts):
            return parts
        case _:
            return _not_allowed(node)


def _not_allowed(part: ast.AST) -> tuple[str, str]:
    what = _FORBIDDEN.get(type(part), type(part).__name__)
    return "not-allowed", f"{what} cannot stand in a condition"


def _fault_of_name(source: Source, node: ast.Name) -> tuple[str, str] | None:
    written = source.segment(node)
    if written == node.id:
        return None
    return "not-allowed", f"{quoted(written)} has letters that only look like others; expected a to z"


def _fault_of_comparing(ops: list[ast.cmpop]) -> tuple[str, str] | None:
    for op in ops:
        if type(op) not in _COMPARING and type(op) not in _AMONG:
            return _not_allowed(op)
    if len(ops) > 1 and any(type(op) in _AMONG for op in ops):
        return "not-allowed", "in cannot be part of a chain; join the two comparisons with and"
    return None


def _fault_of_constant(source: Source, node: ast.Constant) -> tuple[str, str] | None:
    value = node.value
    if isinstance(value, bool | str):
        return None
    if isinstance(value, int | float):
        if abs(value) <= LARGEST:
            return None
        return "not-allowed", f"the number {quoted(source.segment(node))} is too large; {LARGEST:.0f} is the most"
    return "not-allowed", f"{quoted(source.segment(node))} is neither a number nor a word in quotes, nor true or false"


def _fault_of_call(source: Source, node: ast.Call) -> tuple[str, str] | None:
    if not isinstance(node.func, ast.Name):
        return "not-allowed", f"{quoted(source.segment(node.func))} is not the name of a function"
    name = node.func.id
    if name not in FUNCTIONS:
        known = ", ".join(FUNCTIONS)
        return "unknown-function", f"{quoted(name)} is not a function{meant(name, FUNCTIONS) or f'; there are {known}'}"
    least, most, form = FUNCTIONS[name]
    if node.keywords:
        return "not-allowed", f"{name} takes no named arguments; write {form}"
    given = len(node.args)
    if given < least or (most is not None and given > most):
        return "wrong-type", f"{name} was given {given} value{'' if given == 1 else 's'}; write {form}"
    return None
