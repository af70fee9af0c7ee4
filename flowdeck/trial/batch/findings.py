"""What a trial finds: said of a deck only where enough flights have shown it."""

from enum import StrEnum

from msgspec import Struct

from flowdeck.model.deck import ItemKind
from flowdeck.trial.batch.total import Times, Total

ENOUGH = 10
"""Times that something must have been owed, or a gate met, before *always* and *never* are said of it."""


class FindingKind(StrEnum):
    """Those that count come first; the rest is for the writer to know."""

    DEAD_END = "dead end"
    ALWAYS_LATE = "always late"
    ALWAYS_FAILED = "always failed"
    NEVER_OPENED = "never opened"
    NEVER_ENTERED = "never entered"
    TIGHT = "tight"
    NEVER_DUE = "never due"
    NEVER_FAILED = "never failed"
    NEVER_MET = "never met"


COUNTS = frozenset((FindingKind.DEAD_END, FindingKind.ALWAYS_LATE, FindingKind.ALWAYS_FAILED))
"""What is wrong, however the flights were drawn; that something never came may lie in what was drawn."""


MEANING: dict[FindingKind, str] = {
    FindingKind.DEAD_END: "The flight came to no end of the deck.",
    FindingKind.ALWAYS_LATE: "Late each time, though nobody forgot it.",
    FindingKind.ALWAYS_FAILED: "Failed each time by a crew that forgets nothing.",
    FindingKind.NEVER_OPENED: "Owed in no flight: the deck, or what was drawn, never came to it.",
    FindingKind.NEVER_ENTERED: "No flight came to these phases.",
    FindingKind.TIGHT: "What the slower crews take is more than what there is at the least.",
    FindingKind.NEVER_DUE: "Done before the prompt each time, so that the prompt was never tried.",
    FindingKind.NEVER_FAILED: "Passed each time by a crew that forgets nothing, as it should be.",
    FindingKind.NEVER_MET: "No flight came to these gates.",
}

IN_ONE = frozenset((FindingKind.NEVER_OPENED, FindingKind.NEVER_DUE, FindingKind.NEVER_FAILED, FindingKind.NEVER_MET))
"""Kinds of which the names alone are told, in one paragraph."""


class Finding(Struct, frozen=True):
    kind: FindingKind
    ref: str
    words: str


def findings_of(total: Total) -> tuple[Finding, ...]:
    """In the order of their kinds, then as the deck has them."""
    found: list[Finding] = []
    for each in total.stuck:
        words = f"run {each.run} came to no end in {each.flown_s:.0f} s: in '{each.stuck}', waiting for {each.why}"
        found.append(Finding(FindingKind.DEAD_END, each.stuck, words))
    for ref, times in total.times.items():
        found += _of_times(total, ref, times)
    for ref, gate in total.gates.items():
        if gate.met == 0:
            found.append(Finding(FindingKind.NEVER_MET, ref, f"the gate '{ref}' was never met"))
        elif gate.met >= ENOUGH and gate.failed == gate.met:
            found.append(Finding(FindingKind.ALWAYS_FAILED, ref, f"the gate '{ref}' failed all {gate.met} times"))
        elif gate.met >= ENOUGH and gate.failed == 0:
            found.append(Finding(FindingKind.NEVER_FAILED, ref, f"the gate '{ref}' never failed in {gate.met}"))
    for phase, runs in total.phases.items():
        if runs == 0:
            found.append(Finding(FindingKind.NEVER_ENTERED, phase, f"no flight came to the phase '{phase}'"))
    order = list(FindingKind)
    return tuple(sorted(found, key=lambda finding: order.index(finding.kind)))


def _of_times(total: Total, ref: str, times: Times) -> list[Finding]:
    item = total.deck.items.get(ref)
    if item is not None and item.kind is ItemKind.ANSWER:
        return []
    phase = item.phases[0] if item is not None else total.deck.checklists[ref].phase
    if times.owed == 0:
        if total.phases[phase] == 0:
            return []  # said of the phase
        return [Finding(FindingKind.NEVER_OPENED, ref, f"'{ref}' was never owed in {total.runs} flights")]
    found = []
    if times.owed >= ENOUGH and times.overdue == times.owed:
        words = (
            f"'{ref}' was late all {times.owed} times; it takes {_s(times.took_mid_s)} and has {_s(times.there_mid_s)}"
        )
        found.append(Finding(FindingKind.ALWAYS_LATE, ref, words))
    elif _is_tight(times):
        words = f"'{ref}' takes up to {_s(times.took_most_s)} and may have only {_s(times.there_least_s)}"
        found.append(Finding(FindingKind.TIGHT, ref, words))
    due = item.due if item is not None else total.deck.checklists[ref].due
    if due is not None and times.owed >= ENOUGH and times.prompted == 0:
        found.append(Finding(FindingKind.NEVER_DUE, ref, f"'{ref}' was done before it was due all {times.owed} times"))
    return found


def _is_tight(times: Times) -> bool:
    """Whether the slower crews have less time than they need when there is little of it."""
    if times.took_most_s is None or times.there_least_s is None:
        return False
    return times.took_most_s >= times.there_least_s


def _s(seconds: float | None) -> str:
    return "no time at all" if seconds is None else f"{seconds:.0f} s"
