"""zen-engine: all conditions as one compiled expression, and as the expression node of a decision graph.

An expression for each condition was measured too and takes ten times as long as one for all: each call converts the
whole sample anew.
"""

import ast
import json
from operator import itemgetter

import zen

from tests.bench.workload import TEXTS, Run, followed

_COMPARING = {ast.Lt: "<", ast.LtE: "<=", ast.Gt: ">", ast.GtE: ">=", ast.Eq: "==", ast.NotEq: "!="}
_ARITHMETIC = {ast.Add: "+", ast.Sub: "-", ast.Mult: "*", ast.Div: "/"}


def expression() -> Run:
    compiled = zen.compile_expression(f"[{', '.join(_texts())}]")
    return lambda flight: followed(compiled.evaluate, flight)


def graph() -> Run:
    keys = [f"c{number}" for number in range(len(TEXTS))]
    values = itemgetter(*keys)
    expressions = [{"id": key, "key": key, "value": text} for key, text in zip(keys, _texts(), strict=True)]
    decision = zen.ZenEngine().create_decision(
        json.dumps(
            {
                "nodes": [
                    _node("in", "inputNode", {}),
                    _node("conditions", "expressionNode", {"expressions": expressions, "passThrough": False}),
                    _node("out", "outputNode", {}),
                ],
                "edges": [
                    {"id": "1", "sourceId": "in", "targetId": "conditions", "type": "edge"},
                    {"id": "2", "sourceId": "conditions", "targetId": "out", "type": "edge"},
                ],
            }
        )
    )
    return lambda flight: followed(lambda sample: values(decision.evaluate(sample)["result"]), flight)


def _node(name: str, kind: str, content: dict[str, object]) -> dict[str, object]:
    return {"id": name, "name": name, "type": kind, "position": {"x": 0, "y": 0}, "content": content}


def _texts() -> list[str]:
    return [_zen(ast.parse(text, mode="eval").body) for text in TEXTS]


def _zen(node: ast.expr) -> str:
    """The language of zen has no chained comparisons, and lists in brackets."""
    match node:
        case ast.BoolOp(op=op, values=parts):
            return "(" + (" and " if isinstance(op, ast.And) else " or ").join(map(_zen, parts)) + ")"
        case ast.UnaryOp(op=ast.Not(), operand=operand):
            return f"not ({_zen(operand)})"
        case ast.UnaryOp(op=ast.USub(), operand=operand):
            return f"-{_zen(operand)}"
        case ast.BinOp(left=left, op=op, right=right):
            return f"({_zen(left)} {_ARITHMETIC[type(op)]} {_zen(right)})"
        case ast.Compare(left=left, ops=[ast.In() | ast.NotIn() as op], comparators=[ast.Tuple(elts=options)]):
            return f"({_zen(left)} {'in' if isinstance(op, ast.In) else 'not in'} [{', '.join(map(_zen, options))}])"
        case ast.Compare(left=left, ops=ops, comparators=others):
            pairs = zip([left, *others], ops, others, strict=False)
            return "(" + " and ".join(f"{_zen(a)} {_COMPARING[type(op)]} {_zen(b)}" for a, op, b in pairs) + ")"
        case ast.Call(func=ast.Name(id="abs"), args=[number]):
            return f"abs({_zen(number)})"
        case ast.Call(func=ast.Name(id="max"), args=numbers):
            return f"max([{', '.join(map(_zen, numbers))}])"
        case ast.Name(id=name):
            return name
        case ast.Constant(value=value):
            return repr(value)
        case _:
            raise ValueError(f"no way to say {ast.unparse(node)!r} to zen")
