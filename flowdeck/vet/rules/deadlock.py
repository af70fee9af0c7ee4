"""Things that wait for one another through their windows: none of them can ever come first.

Beside the edges, whose circles the loader finds, a window that opens on `done(...)`, a hold, the order of the lines of
a list and what a line verifies all say what comes first. A list that is to verify the gear, held until something that
opens only when the list is complete, is never finished.
"""

from collections.abc import Iterator

from flowdeck.model.deck import ItemKind
from flowdeck.model.diagnostic import Level
from flowdeck.phasefile.graph import loops
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.ERROR
SOURCE = "our proposal"


def find(s: Subject) -> Iterator[Finding]:
    for loop in loops({ref: sorted(firsts) for ref, firsts in _graph(s).items()}):
        said = f"'{loop[0]}' waits for {', which waits for '.join(repr(ref) for ref in loop[1:])}"
        yield s.at(loop[0]), f"{said}; let one of them open otherwise"


def _graph(s: Subject) -> dict[str, set[str]]:
    """What each thing needs before it."""
    graph: dict[str, set[str]] = {}
    for item in s.deck.items.values():
        firsts = s.firsts.of(item.opens) | s.firsts.of(item.when)
        hard = {edge.before for edge in item.after if edge.hard}
        call = {item.partner} if item.kind is ItemKind.ANSWER and item.partner is not None else set()
        graph[item.id] = {*firsts, *hard, *call}
    for checklist in s.deck.checklists.values():
        opening = s.firsts.of(checklist.opens) | s.firsts.of(checklist.when)
        hard = {edge.before for edge in checklist.after if edge.hard}
        begun = f"{checklist.id} called"
        graph[begun] = set(opening | hard)
        before = begun
        for number, ref in enumerate(checklist.lines):
            held = {f for hold in checklist.holds if hold.before == number for f in s.firsts.of(hold.until)}
            graph[ref] |= {before, *held}
            graph[ref] |= {each for each in s.deck.items[ref].verifies if each not in checklist.lines}
            before = ref if s.deck.items[ref].when is None and s.deck.items[ref].unless is None else before
        graph[checklist.id] = {before}
    for mark in s.deck.marks.values():
        graph[mark.id] = set(s.firsts.of(mark.when))
    for gate in s.deck.gates.values():
        graph[gate.id] = set(s.firsts.of(gate.at) | s.firsts.of(gate.when))
    return graph
