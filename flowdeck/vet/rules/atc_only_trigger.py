"""A list, call or item that opens on nothing but words from outside.

The controller may say it late, or in other words, or to another aeroplane. Name what else opens it: a distance, a
height, a mode.
"""

from collections.abc import Iterator

from flowdeck.conditions import facts_used, names_used, refs_used
from flowdeck.model.diagnostic import Level
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.WARNING
SOURCE = "CR-177642, from memory"


def find(s: Subject) -> Iterator[Finding]:
    outside = {fact.id for fact in s.deck.facts.values() if fact.by == "outside"}
    opened = [(each.id, each.opens) for each in s.deck.checklists.values()]
    opened += [(item.id, item.opens) for item in s.deck.items.values() if item.opens is not None and not item.again]
    for ref, row in opened:
        tree = s.deck.conditions[row].tree
        facts = facts_used(tree, s.deck.conditions)
        others = names_used(tree, s.deck.conditions) | refs_used(tree, s.deck.conditions)
        if facts and facts <= outside and not others:
            yield s.at(ref), f"'{ref}' opens only on words from outside ({s.text(row)}); name what else opens it"
