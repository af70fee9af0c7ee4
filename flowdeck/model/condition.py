"""The condition tree: what a condition says, as frozen values that hold no code.

A tree is made by `flowdeck.conditions` from text and never evaluated as Python source. Every node
that keeps time (`Held`, `Rising`, `Falling`) names its inner condition by its number in the deck's
table of conditions, so that what it remembers lives in the session and survives a resume.
Three values: true, false, and unknown (None) when a signal is stale or was never heard.
"""

from typing import Literal, TypeAlias

from msgspec import Struct

Scalar: TypeAlias = float | str | bool


class _Node(Struct, frozen=True, tag=True):
    """Base of all nodes; the class name is the tag in stored decks."""


class Const(_Node, frozen=True, tag=True):
    value: Scalar


class SignalRef(_Node, frozen=True, tag=True):
    name: str


class FactRef(_Node, frozen=True, tag=True):
    name: str


class PhaseRef(_Node, frozen=True, tag=True):
    """The name of the present phase."""


class Done(_Node, frozen=True, tag=True):
    """True once the named item, call, list or gate is done (a gate: passed)."""

    ref: str


class Since(_Node, frozen=True, tag=True):
    """Seconds since a mark, or since something was done; unknown before that."""

    ref: str


class Age(_Node, frozen=True, tag=True):
    """Seconds since a signal was last heard; unknown if never."""

    signal: str


class Held(_Node, frozen=True, tag=True):
    """True when condition number *inner* has been true for *seconds* without a break."""

    inner: int
    seconds: float


class Rising(_Node, frozen=True, tag=True):
    """True for the one look at which condition number *inner* goes from false to true."""

    inner: int


class Falling(_Node, frozen=True, tag=True):
    """True for the one look at which condition number *inner* goes from true to false."""

    inner: int


class Turn(_Node, frozen=True, tag=True):
    """Degrees from one heading to another the shortest way round, 0 to 180, no sign."""

    first: "Expr"
    second: "Expr"


class Arith(_Node, frozen=True, tag=True):
    op: Literal["+", "-", "*", "/"]
    left: "Expr"
    right: "Expr"


class Negate(_Node, frozen=True, tag=True):
    operand: "Expr"


class Func(_Node, frozen=True, tag=True):
    name: Literal["abs", "min", "max"]
    args: "tuple[Expr, ...]"


class Compare(_Node, frozen=True, tag=True):
    """A chain `a < b <= c`: operand i and i+1 are compared by op i; all must hold."""

    operands: "tuple[Expr, ...]"
    ops: tuple[Literal["<", "<=", ">", ">=", "==", "!="], ...]


class OneOf(_Node, frozen=True, tag=True):
    """`x in ('a', 'b')`."""

    subject: "Expr"
    options: tuple[Scalar, ...]
    negated: bool = False


class Not(_Node, frozen=True, tag=True):
    operand: "Expr"


class AllOf(_Node, frozen=True, tag=True):
    parts: "tuple[Expr, ...]"


class AnyOf(_Node, frozen=True, tag=True):
    parts: "tuple[Expr, ...]"


Expr: TypeAlias = (
    Const
    | SignalRef
    | FactRef
    | PhaseRef
    | Done
    | Since
    | Age
    | Held
    | Rising
    | Falling
    | Turn
    | Arith
    | Negate
    | Func
    | Compare
    | OneOf
    | Not
    | AllOf
    | AnyOf
)


class Condition(Struct, frozen=True, kw_only=True):
    """One row of a deck's table of conditions: the text as written and what it means."""

    text: str
    tree: Expr


Truth: TypeAlias = bool | None
