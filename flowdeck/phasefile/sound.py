"""Checks on how a deck is made, beyond its being well-formed: each a warning with the rule's own name.

`critical-late`     a critical line in the second half of its list, and nothing forces it there
                    (CR-177549 App. A(10), second-hand)
`duplicate-control` one thing verified by two lists of a phase, without `reverify` (CR-177549 App. A(11), second-hand)
`atc-only-trigger`  a list, call or item that opens on nothing but words from outside
                    (CR-177642, from memory)
`due-after-late`    the prompt comes when it is already late (CR-177549 App. A(12), second-hand)
`list-too-long`     more than nine lines (common practice, no source)
"""

from collections.abc import Iterator, Mapping

from flowdeck.conditions import facts_used, names_used, refs_used
from flowdeck.model.condition import Compare, Const, SignalRef
from flowdeck.model.deck import Checklist, Deck, Edge, Limit
from flowdeck.model.diagnostic import Diagnostic, Level
from flowdeck.phasefile.builder import Spot

LONGEST_LIST = 9


def check_sound(deck: Deck, ids: Mapping[str, Spot]) -> list[Diagnostic]:
    """All warnings over a finished deck; *ids* are the places where its things were named."""
    found: list[Diagnostic] = []
    for kind, ref, message in (
        *_critical_late(deck),
        *_duplicate_control(deck),
        *_outside_only(deck),
        *_due_after_late(deck),
        *_too_long(deck),
    ):
        found.append(Diagnostic(place=ids[ref].place, kind=kind, message=message, level=Level.WARNING))
    return found


Row = tuple[str, str, str]


def _critical_late(deck: Deck) -> Iterator[Row]:
    for checklist in deck.checklists.values():
        first_hold = min((hold.before for hold in checklist.holds), default=len(checklist.lines))
        for index, ref in enumerate(checklist.lines):
            line = deck.items[ref]
            if not line.critical or index * 2 < len(checklist.lines) or index >= first_hold:
                continue
            if any(edge.hard for item in line.verifies for edge in _edges(deck, item)):
                continue
            where = f"line {index + 1} of {len(checklist.lines)}"
            yield "critical-late", ref, f"'{ref}' is critical and comes as {where}; nothing forces it so late"


def _edges(deck: Deck, ref: str) -> tuple[Edge, ...]:
    item = deck.items.get(ref)
    return item.after if item is not None else ()


def _duplicate_control(deck: Deck) -> Iterator[Row]:
    seen: dict[tuple[str, str], str] = {}
    for checklist in deck.checklists.values():
        for ref in checklist.lines:
            if deck.items[ref].reverify:
                continue
            for verified in deck.items[ref].verifies:
                first = seen.setdefault((checklist.phase, verified), ref)
                if first != ref and first not in checklist.lines:
                    yield "duplicate-control", ref, f"'{verified}' is verified by '{first}' and again by '{ref}'"


def _outside_only(deck: Deck) -> Iterator[Row]:
    outside = {fact.id for fact in deck.facts.values() if fact.by == "outside"}
    opened = [(c.id, c.opens) for c in deck.checklists.values()]
    opened += [(i.id, i.opens) for i in deck.items.values() if i.opens is not None and not i.again]
    for ref, number in opened:
        text, tree = deck.conditions[number].text, deck.conditions[number].tree
        if not any(name in text for name in outside):
            continue
        facts = facts_used(tree, deck.conditions)
        others = names_used(tree, deck.conditions) | refs_used(tree, deck.conditions)
        if facts and facts <= outside and not others:
            message = f"'{ref}' opens only on words from outside ({text}); name what else opens it"
            yield "atc-only-trigger", ref, message


def _due_after_late(deck: Deck) -> Iterator[Row]:
    windows = [(i.id, i.due, i.late) for i in deck.items.values()]
    windows += [(c.id, c.due, c.late) for c in deck.checklists.values()]
    for ref, due, late in windows:
        if due is not None and late is not None and _later(deck, due, late):
            yield "due-after-late", ref, f"'{ref}' is due only when it is late already; give it time to be put right"


def _later(deck: Deck, due: Limit, late: Limit) -> bool:
    """Whether a due limit of the same kind as the late one does not come before it."""
    if due.after_s is not None and late.after_s is not None and due.start == late.start:
        return due.after_s >= late.after_s
    if due.when is None or late.when is None:
        return False
    first, last = _bound(deck, due.when), _bound(deck, late.when)
    if first is None or last is None or first[:2] != last[:2]:
        return False
    falling = first[1] in ("<", "<=")
    return first[2] <= last[2] if falling else first[2] >= last[2]


def _bound(deck: Deck, number: int) -> tuple[str, str, float] | None:
    """`distance_nm <= 6` as (signal, comparison, value); None for anything else."""
    tree = deck.conditions[number].tree
    if not isinstance(tree, Compare) or len(tree.operands) != 2:
        return None
    left, right = tree.operands
    if isinstance(left, SignalRef) and isinstance(right, Const) and isinstance(right.value, (int, float)):
        return left.name, tree.ops[0], float(right.value)
    return None


def _too_long(deck: Deck) -> Iterator[Row]:
    for checklist in deck.checklists.values():
        if len(checklist.lines) > LONGEST_LIST:
            yield "list-too-long", checklist.id, _long(checklist)


def _long(checklist: Checklist) -> str:
    return f"'{checklist.id}' has {len(checklist.lines)} lines; split it by system, at most {LONGEST_LIST} each"
