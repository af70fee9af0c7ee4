"""Whether a change makes a moment earlier or later, a condition hold in more cases or in fewer: only where it is sure.

The rule: when one condition can only hold where the other does (it implies it), it never comes true earlier. That is
known of bounds on the same reading (`distance_nm <= 8` and `<= 10`), of one condition held for longer, and of parts
put together with `and`, `or` and `not`. Of anything else nothing is said.
"""

from typing import TypeAlias

from flowdeck.compare.aspects import LIMITS, Aspect, Thing
from flowdeck.compare.change import Span, Tendency, Value
from flowdeck.conditions.describe import OPPOSITE
from flowdeck.model import condition as c

_MOMENTS = LIMITS | {Aspect.OPENS, Aspect.AT, Aspect.UNTIL, Aspect.EXIT}
Rows: TypeAlias = list[c.Condition]


def of_conditions(thing: Thing, aspect: Aspect, trees: tuple[c.Expr, c.Expr], rows: Rows) -> Tendency | None:
    """Of two conditions that are not the same; *rows*: what stands inside held."""
    before, after = trees
    fewer, more = implies(after, before, rows), implies(before, after, rows)
    if fewer == more:
        return None
    if aspect in _MOMENTS or (aspect is Aspect.WHEN and thing in (Thing.MARK, Thing.CUE)):
        return Tendency.LATER if fewer else Tendency.EARLIER
    return Tendency.NARROWER if fewer else Tendency.WIDER


def of_spans(before: Value, after: Value, opening: Tendency | None, opening_same: bool) -> Tendency | None:
    """Of two limits in seconds from the same start; those from the opening move with it."""
    if not (isinstance(before, Span) and isinstance(after, Span)) or before.start != after.start:
        return None
    own = None
    if before.after_s != after.after_s:
        own = Tendency.LATER if after.after_s > before.after_s else Tendency.EARLIER
    if before.start is not None or opening_same:
        return own
    return opening if own in (None, opening) else None


def implies(p: c.Expr, q: c.Expr, rows: Rows) -> bool:
    """Whether *q* is surely true whenever *p* is. False: it is not known."""
    p, q = _inward(p), _inward(q)
    if p == q:
        return True
    if isinstance(q, c.AllOf):
        return all(implies(p, part, rows) for part in q.parts)
    if isinstance(p, c.AnyOf):
        return all(implies(part, q, rows) for part in p.parts)
    if isinstance(p, c.AllOf) and any(implies(part, q, rows) for part in p.parts):
        return True
    if isinstance(q, c.AnyOf) and any(implies(p, part, rows) for part in q.parts):
        return True
    if isinstance(p, c.Held):
        inner = rows[p.inner].tree
        if isinstance(q, c.Held) and q.seconds <= p.seconds:
            return implies(inner, rows[q.inner].tree, rows)
        return implies(inner, q, rows)
    if isinstance(p, c.Compare) and isinstance(q, c.Compare):
        links = _links(p)
        return all(any(_bound_implies(a, b) for a in links) for b in _links(q))
    return _among(p, q)


def _inward(tree: c.Expr) -> c.Expr:
    """`not` taken inside: what holds in three values too, since what is unknown stays so."""
    if not isinstance(tree, c.Not):
        return tree
    inner = tree.operand
    match inner:
        case c.Not(operand):
            return _inward(operand)
        case c.AnyOf(parts):
            return c.AllOf(tuple(c.Not(part) for part in parts))
        case c.AllOf(parts):
            return c.AnyOf(tuple(c.Not(part) for part in parts))
        case c.Compare(operands, (op,)):
            return c.Compare(operands, (OPPOSITE[op],))
        case _:
            return tree


Link: TypeAlias = tuple[c.Expr, str, c.Expr]
_TURNED = {"<": ">", "<=": ">=", ">": "<", ">=": "<=", "==": "==", "!=": "!="}


def _links(tree: c.Compare) -> list[Link]:
    """A chain as single comparisons, the number on the right."""
    found: list[Link] = []
    for i, op in enumerate(tree.ops):
        left, right = tree.operands[i], tree.operands[i + 1]
        found.append((right, _TURNED[op], left) if isinstance(left, c.Const) else (left, op, right))
    return found


def _bound_implies(p: Link, q: Link) -> bool:
    if p == q:
        return True
    if p[0] != q[0] or p[1][0] != q[1][0] or p[1][0] not in "<>":
        return False
    a, b = p[2], q[2]
    if not (isinstance(a, c.Const) and isinstance(b, c.Const)):
        return False
    low, high = (a.value, b.value) if p[1][0] == "<" else (b.value, a.value)
    if not (isinstance(low, float) and isinstance(high, float)):
        return False
    return low < high or (low == high and (p[1] == q[1] or q[1].endswith("=")))


def _among(p: c.Expr, q: c.Expr) -> bool:
    """`x == 'a'` and `x in ('a', 'b')`."""
    a, b = _choices(p), _choices(q)
    return a is not None and b is not None and a[0] == b[0] and a[1] <= b[1]


def _choices(tree: c.Expr) -> tuple[c.Expr, frozenset[c.Scalar]] | None:
    if isinstance(tree, c.OneOf) and not tree.negated:
        return tree.subject, frozenset(tree.options)
    if isinstance(tree, c.Compare) and tree.ops == ("==",) and isinstance(tree.operands[1], c.Const):
        return tree.operands[0], frozenset((tree.operands[1].value,))
    return None
