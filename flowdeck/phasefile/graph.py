"""Checks that need the whole deck: cycles in the order, phases that lead nowhere."""

from collections.abc import Collection, Iterator, Mapping

from flowdeck.model.deck import Deck
from flowdeck.model.diagnostic import Diagnostic, Level
from flowdeck.phasefile.builder import Spot


def check_graph(deck: Deck, ids: dict[str, Spot], spot: Spot) -> list[Diagnostic]:
    """Findings over the finished deck; places are those where the things were named."""
    return [*_cycles(deck, ids, spot), *_dead_ends(deck, ids, spot)]


def _cycles(deck: Deck, ids: dict[str, Spot], spot: Spot) -> list[Diagnostic]:
    edges = {item.id: [edge.before for edge in item.after] for item in deck.items.values()}
    edges.update({c.id: [edge.before for edge in c.after] for c in deck.checklists.values()})
    return [
        Diagnostic(
            place=ids.get(loop[0], spot).place,
            kind="order-cycle",
            message=f"these wait for each other: {' after '.join(loop)}; remove one of the edges",
        )
        for loop in loops(edges)
    ]


def loops(before: Mapping[str, Collection[str]]) -> Iterator[list[str]]:
    """Each way from a thing through what must come *before* it back to itself, that thing first and last."""
    state: dict[str, int] = {}
    for root in before:
        path: list[str] = []
        stack: list[tuple[str, bool]] = [(root, False)]
        while stack:
            node, leaving = stack.pop()
            if leaving:
                path.pop()
                state[node] = 2
            elif state.get(node) == 1:
                yield [*path[path.index(node) :], node]
            elif state.get(node) != 2:
                state[node] = 1
                path.append(node)
                stack.append((node, True))
                stack.extend((first, False) for first in before[node] if first in before)


def _dead_ends(deck: Deck, ids: dict[str, Spot], spot: Spot) -> list[Diagnostic]:
    findings = []
    reaching: set[str] = set(deck.ends)
    grown = True
    while grown:
        grown = False
        for phase in deck.phases.values():
            if phase.id not in reaching and any(e.to in reaching for e in phase.exits):
                reaching.add(phase.id)
                grown = True
    for name in deck.phases:
        if name not in reaching:
            message = f"no way leads from the phase '{name}' to an end ({', '.join(deck.ends)}); mend its 'leads_to'"
            findings.append(Diagnostic(place=ids.get(name, spot).place, kind="no-end", message=message))
    exits = {exit_.to for phase in deck.phases.values() for exit_ in phase.exits}
    for i, end in enumerate(deck.ends):
        if end not in exits:
            message = f"no phase leads to the end '{end}'; remove it, or lead to it"
            place = (spot / "ends" / i).place
            findings.append(Diagnostic(place=place, kind="unreached-end", message=message, level=Level.WARNING))
    return findings
