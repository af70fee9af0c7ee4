"""A window that is late before what must come first can be done.

The item is then late in every flight, however quick the crew. Open the first one earlier, or give this one longer.
"""

from collections.abc import Iterator

from flowdeck.model.deck import Checklist, Item, Limit
from flowdeck.model.diagnostic import Level
from flowdeck.vet.subject import Finding, Subject
from flowdeck.vet.ways import reach

LEVEL = Level.ERROR
SOURCE = "our proposal, after CR-177549 App. A(12) (second-hand)"


def find(s: Subject) -> Iterator[Finding]:
    things: list[tuple[Item | Checklist, Limit | None]] = [(item, item.late) for item in s.deck.items.values()]
    things += [(each, each.complete_by or each.late) for each in s.deck.checklists.values()]
    for thing, late in things:
        if late is None or late.when is None:
            continue
        for ref in _before(s, thing.id):
            opens = s.deck.items[ref].opens if ref in s.deck.items else s.deck.checklists[ref].opens
            if opens is not None and s.prover.implies(opens, late.when):
                message = (
                    f"'{thing.id}' is late ({s.text(late.when)}) as soon as '{ref}', which must come first, "
                    f"opens ({s.text(opens)}); open that earlier, or let this be late later"
                )
                yield s.at(thing.id, "late"), message


def _before(s: Subject, ref: str) -> list[str]:
    """All that must come first, by hard edges, step by step; gates have no window."""

    def firsts(name: str) -> list[str]:
        thing = s.deck.items.get(name) or s.deck.checklists.get(name)
        return [e.before for e in thing.after if e.hard and e.before not in s.deck.gates] if thing is not None else []

    return reach(firsts(ref), firsts)
