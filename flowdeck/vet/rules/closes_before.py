"""A window that is late before what must come first can be done.

The item is then late in every flight, however quick the crew. Open the first one earlier, or give this one longer.
"""

from collections.abc import Iterator

from flowdeck.model.deck import Checklist, Edge, Item, Limit
from flowdeck.model.diagnostic import Level
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.ERROR
SOURCE = "our proposal, after CR-177549 App. A(12) (second-hand)"


def find(s: Subject) -> Iterator[Finding]:
    things: list[tuple[Item | Checklist, tuple[Edge, ...], Limit | None]] = [
        (item, item.after, item.late) for item in s.deck.items.values()
    ]
    things += [(each, each.after, each.complete_by or each.late) for each in s.deck.checklists.values()]
    for thing, edges, late in things:
        if late is None or late.when is None:
            continue
        for edge in edges:
            first = s.deck.items.get(edge.before)
            if not edge.hard or first is None or first.opens is None:
                continue
            if s.prover.implies(first.opens, late.when):
                message = (
                    f"'{thing.id}' is late ({s.text(late.when)}) as soon as '{first.id}', which must come first, "
                    f"opens ({s.text(first.opens)})"
                )
                yield s.at(thing.id, "late"), message
