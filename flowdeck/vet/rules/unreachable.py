"""Something of the deck that no flight can come to.

A phase that no way leads to; an item, list or gate whose window, condition and phase exclude one another, though each
could be met alone; or one that waits for something that is itself never reached.
"""

from collections.abc import Iterator

from flowdeck.model.diagnostic import Level
from flowdeck.vet.owing import Owing, owings
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.ERROR
SOURCE = "our proposal"


def find(s: Subject) -> Iterator[Finding]:
    reached = s.ways.reached
    for name in s.deck.phases:
        said = name == s.deck.go_around and s.prover.never((s.deck.committed, "not true"))
        if name not in reached and not said:
            yield s.at(name), f"no way leads from '{s.deck.start}' to the phase '{name}'"
    lost: dict[str, str] = {}
    everything = [owing for owing in owings(s.deck) if any(phase in reached for phase in owing.phases)]
    for owing in everything:
        why = _excluded(s, owing)
        if why:
            lost[owing.ref] = why
    grown = True
    while grown:
        grown = False
        for owing in everything:
            behind = next((ref for ref in sorted(_firsts(s, owing)) if ref in lost), None)
            if owing.ref not in lost and behind is not None:
                lost[owing.ref] = f"it waits for '{behind}', which is never reached"
                grown = True
    for owing in everything:
        if owing.ref in lost:
            yield s.at(owing.ref), f"'{owing.ref}' can never be owed: {lost[owing.ref]}"


def _excluded(s: Subject, owing: Owing) -> str:
    phases = [phase for phase in owing.phases if phase in s.ways.reached]
    if any(not s.prover.never(*owing.claims, phase=phase) for phase in phases):
        return ""
    if any(s.prover.never(claim) for claim in owing.claims):
        return ""  # a matter of that condition alone
    texts = [s.text(row) if wanted == "true" else f"not ({s.text(row)})" for row, wanted in owing.claims]
    where = " or ".join(repr(phase) for phase in phases)
    return f"in {where} it cannot be that {' and '.join(texts)}"


def _firsts(s: Subject, owing: Owing) -> frozenset[str]:
    return frozenset[str]().union(*(s.firsts.of(row) for row, wanted in owing.claims if wanted == "true"))
