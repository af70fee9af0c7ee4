"""Both decks in one tongue: conditions in one table, the older deck's things by their newer names.

What means the same is equal here, whatever its number in its deck, its blanks, its brackets and the names that changed.
"""

from typing import Any, assert_never

from msgspec import Struct

from flowdeck.compare.aspects import CONDITIONS, IDS, LIMITS, NAMES, SAID, SHOWN, Aspect
from flowdeck.compare.change import Cond, Span, Value
from flowdeck.model import condition as c
from flowdeck.model.deck import PLACEHOLDER, Deck, Edge, Identity, Item, Limit

_IDENTITY = frozenset(Identity.__struct_fields__)


class Renamed(Struct, frozen=True):
    """Old name to new: *ids* of items, lists, gates, marks and the like, *names* of signals and facts, *phases*."""

    ids: dict[str, str] = {}
    names: dict[str, str] = {}
    phases: dict[str, str] = {}


class Rows:
    """Conditions inside held, rising and falling, of both decks: the same has the same number."""

    def __init__(self) -> None:
        self.conditions: list[c.Condition] = []
        self._numbers: dict[c.Expr, int] = {}

    def number(self, tree: c.Expr) -> int:
        found = self._numbers.setdefault(tree, len(self.conditions))
        if found == len(self.conditions):
            self.conditions.append(c.Condition(text="", tree=tree))
        return found


class Side:
    """One of the two decks."""

    def __init__(self, deck: Deck, rows: Rows, renamed: Renamed) -> None:
        self.deck = deck
        self.rows = rows
        self._ids, self._names, self._phases = renamed.ids, renamed.names, renamed.phases
        self._trees: dict[int, c.Expr] = {}
        self._behind: dict[str, dict[str, str]] = {}

    def id(self, name: str) -> str:
        return self._ids.get(name, name)

    def name(self, name: str) -> str:
        return self._names.get(name, name)

    def phase(self, name: str) -> str:
        return self._phases.get(name, name)

    def tree(self, number: int) -> c.Expr:
        """Condition *number* in the common tongue."""
        found = self._trees.get(number)
        if found is None:
            found = self._trees[number] = self._said(self.deck.conditions[number].tree)
        return found

    def raw(self, of: Any, aspect: Aspect) -> Any:
        """The field *aspect* of one of the deck's values; a deck's identity counts as its own."""
        return getattr(of.identity if isinstance(of, Deck) and aspect in _IDENTITY else of, aspect)

    def key(self, aspect: Aspect, raw: Any) -> Any:
        """A field in the common tongue: equal when it says the same."""
        if raw is None or aspect not in SAID:
            return raw
        if aspect in CONDITIONS:
            return self.tree(raw)
        if aspect in LIMITS:
            return self.limit(raw)
        if aspect in SHOWN:
            return PLACEHOLDER.sub(lambda found: f"{{{self.name(found[1])}}}", raw) if "{" in raw else raw
        tell = self.id if aspect in IDS else self.name if aspect in NAMES else self.phase
        return tuple(map(tell, raw)) if isinstance(raw, tuple) else tell(raw)

    def limit(self, limit: Limit) -> tuple[c.Expr | None, float | None, str | None]:
        when = None if limit.when is None else self.tree(limit.when)
        return when, limit.after_s, None if limit.start is None else self.id(limit.start)

    def told(self, aspect: Aspect, raw: Any) -> Value:
        """A field as its own deck has it; None for one that is not written out."""
        if raw is None or raw == "" or raw == ():
            return None
        if aspect in CONDITIONS:
            return Cond(self.text(raw))
        if aspect in LIMITS:
            return Cond(self.text(raw.when)) if raw.when is not None else Span(raw.after_s, raw.start)
        value: Value = tuple(str(x) for x in raw) if isinstance(raw, tuple) else raw
        return value

    def text(self, number: int) -> str:
        return self.deck.conditions[number].text

    def ordered(self, flow: str) -> bool:
        """Whether each item of *flow* waits for the one before it."""
        return bool(self._behind_in(flow))

    def implied(self, item: Item, edge: Edge) -> bool:
        """Whether *edge* only says that the flow is ordered."""
        if edge.hard or edge.reason or item.group not in self.deck.groups:
            return False
        return self._behind_in(item.group).get(item.id) == edge.before

    def _behind_in(self, flow: str) -> dict[str, str]:
        """Each item of an ordered flow, with the one before it; nothing for one that may be done in any order."""
        if flow not in self._behind:
            ids = self.deck.groups[flow].items
            behind = dict(zip(ids[1:], ids, strict=False))
            waits = all(any(e.before == b for e in self.deck.items[i].after) for i, b in behind.items())
            self._behind[flow] = behind if waits else {}
        return self._behind[flow]

    def _said(self, tree: c.Expr) -> c.Expr:
        match tree:
            case c.Const() | c.PhaseRef():
                return tree
            case c.SignalRef(name):
                return c.SignalRef(self.name(name))
            case c.FactRef(name):
                return c.FactRef(self.name(name))
            case c.Age(name):
                return c.Age(self.name(name))
            case c.Done(ref):
                return c.Done(self._ref(ref))
            case c.Since(ref):
                return c.Since(self._ref(ref))
            case c.Held(inner, seconds):
                return c.Held(self.rows.number(self.tree(inner)), seconds)
            case c.Rising(inner):
                return c.Rising(self.rows.number(self.tree(inner)))
            case c.Falling(inner):
                return c.Falling(self.rows.number(self.tree(inner)))
            case c.Turn(first, second):
                return c.Turn(self._said(first), self._said(second))
            case c.Arith(op, left, right):
                return c.Arith(op, self._said(left), self._said(right))
            case c.Negate(operand):
                return c.Negate(self._said(operand))
            case c.Func(name, args):
                return c.Func(name, tuple(map(self._said, args)))
            case c.Compare(operands, ops):
                if c.PhaseRef() in operands:
                    return c.Compare(tuple(map(self._of_phase, operands)), ops)
                return c.Compare(tuple(map(self._said, operands)), ops)
            case c.OneOf(c.PhaseRef(), options, negated):
                return c.OneOf(c.PhaseRef(), tuple(self.phase(str(x)) for x in options), negated)
            case c.OneOf(subject, options, negated):
                return c.OneOf(self._said(subject), options, negated)
            case c.Not(operand):
                return c.Not(self._said(operand))
            case c.AllOf(parts):
                return c.AllOf(tuple(map(self._said, parts)))
            case c.AnyOf(parts):
                return c.AnyOf(tuple(map(self._said, parts)))
            case _:
                assert_never(tree)

    def _ref(self, ref: str) -> str:
        return self._ids.get(ref) or self._phases.get(ref, ref)

    def _of_phase(self, tree: c.Expr) -> c.Expr:
        return c.Const(self.phase(tree.value)) if isinstance(tree, c.Const) and isinstance(tree.value, str) else tree
