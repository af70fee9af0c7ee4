"""A window that opens when it is late already, always or for some arrival.

Where the limits hang on planned figures (an altitude of the missed approach, a minimum), the figures that are shown
leave no time between opening and late. Narrow the range of the planned signal in deck.yaml to what the operator allows,
or let the window open earlier.
"""

from collections.abc import Iterator

from flowdeck.conditions.describe import names_used
from flowdeck.model.condition import AllOf, Compare, Expr, SignalRef
from flowdeck.model.deck import Checklist, Item, Limit
from flowdeck.model.diagnostic import Level
from flowdeck.vet.owing import claims_of
from flowdeck.vet.proof import Possible
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.ERROR
SOURCE = "our proposal"


def find(s: Subject) -> Iterator[Finding]:
    things: list[tuple[Item | Checklist, Limit | None, str]] = []
    for item in s.deck.items.values():
        things += [(item, item.late, "late"), (item, item.missed, "missed")]
    for each in s.deck.checklists.values():
        things += [(each, each.late, "late"), (each, each.complete_by, "complete_by")]
    for thing, limit, field in things:
        why = "" if limit is None else _empty(s, thing, limit)
        if why:
            late = "missed" if field == "missed" else "late"
            yield (
                s.at(thing.id, field),
                f"'{thing.id}' is {late} the moment it opens{why}; open it earlier, or give it time",
            )


def _empty(s: Subject, thing: Item | Checklist, limit: Limit) -> str:
    if limit.when is None:
        return " (after_s: 0)" if limit.after_s == 0 and limit.start is None else ""
    opening = claims_of(thing, thing.opens)
    if opening and s.prover.never(*opening, (limit.when, "not true")) and not s.prover.never(*opening):
        texts = " and ".join(s.text(row) for row, wanted in opening if wanted == "true")
        return f", always: {texts} makes {s.text(limit.when)} true"
    for opening_end, closing in _pairs(s, thing.opens, limit.when) if thing.opens is not None else ():
        found = s.prover.can(also=s.prover.compared(opening_end, "<=", closing))
        if isinstance(found, Possible):
            return f" for some arrivals: {found.values}"
    return ""


def _pairs(s: Subject, opens: int, late: int) -> Iterator[tuple[Expr, Expr]]:
    """Ends of the window on one falling reading: it opens below the first and is late below the second."""
    for name, opening in _below(s, s.deck.conditions[opens].tree):
        for other, closing in _below(s, s.deck.conditions[late].tree):
            if name == other and (names_used(opening) or names_used(closing)):
                yield opening, closing


def _below(s: Subject, tree: Expr) -> Iterator[tuple[str, Expr]]:
    """`altitude_ft < planned_missed_ft - 300` as the name and the end, where the end is planned before."""
    planned = {signal.name for signal in s.deck.signals if signal.planned}
    for part in tree.parts if isinstance(tree, AllOf) else (tree,):
        if isinstance(part, Compare) and len(part.ops) == 1 and part.ops[0] in ("<", "<="):
            left, right = part.operands
            if isinstance(left, SignalRef) and left.name not in planned and names_used(right) <= planned:
                yield left.name, right
