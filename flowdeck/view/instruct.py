"""What an instructor can let happen now, as rows of a name to send and words to show."""

from collections.abc import Mapping

from flowdeck.model.scenario import Happening, Scenario
from flowdeck.model.session import Session
from flowdeck.view.words import safe

PLAY, HOLD_BACK = "play", "later"
HELD_BACK_S = 60.0
"""By how much (s) something comes later by one press."""


def rows(
    scenario: Scenario, session: Session, happened: frozenset[str], held: Mapping[str, int], now: int
) -> list[tuple[str, str]]:
    """By hand only first, then what would come by itself: now, or later than it would."""
    if session.ended:
        return []
    by_hand = [each for each in scenario.happenings if each.when is None]
    coming = [each for each in scenario.happenings if each.when is not None and not _is_over(each, session, happened)]
    found = [(f"{PLAY}/{each.id}", _named(each)) for each in by_hand]
    for each in coming:
        waits = max(0, held.get(each.id, 0) - now) // 1000
        later = f"{HELD_BACK_S:g} s later" if not waits else f"held back for {waits} s; {HELD_BACK_S:g} s from now"
        found += [(f"{PLAY}/{each.id}", f"Now: {_named(each)}"), (f"{HOLD_BACK}/{each.id}", f"{_named(each)}: {later}")]
    return found


def _is_over(happening: Happening, session: Session, happened: frozenset[str]) -> bool:
    return (f"{happening.id}#{session.approach}" if happening.again else happening.id) in happened


def _named(happening: Happening) -> str:
    """Its title; else its words, cut; else its id."""
    words = happening.title or happening.words or happening.id.replace("-", " ")
    length = f" ({happening.interrupts_s:g} s)" if happening.interrupts_s is not None else ""
    return f"{safe(words)[:70]}{length}"
