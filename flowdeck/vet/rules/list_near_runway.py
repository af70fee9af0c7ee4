"""A list that may be read near a runway, or that opens only below 1000 feet.

Heads belong outside there. On the ground say `not_while: near_runway` (a fact of this name that the deck has); in the
air let the list open, and be due, higher up.
"""

from collections.abc import Iterator

from flowdeck.model.condition import Const, SignalRef
from flowdeck.model.deck import Checklist
from flowdeck.model.diagnostic import Level
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.WARNING
SOURCE = "CR-177549(13), second-hand; FSF 2014, from memory"
NEAR = "near_runway"
LOW_FT = 1000.0


def find(s: Subject) -> Iterator[Finding]:
    near = s.deck.facts.get(NEAR)
    for checklist in s.deck.checklists.values():
        phase = s.deck.phases[checklist.phase]
        told = near is not None and not phase.airborne and (not near.phases or checklist.phase in near.phases)
        if told and not _is_kept_off(s, checklist):
            yield s.at(checklist.id), f"'{checklist.id}' may be read near a runway; say not_while: {NEAR}"
        never = s.prover.never((checklist.opens, "true"), phase=checklist.phase)
        if phase.airborne and not never and _opens_low(s, checklist):
            message = f"'{checklist.id}' opens only below {LOW_FT:g} ft above the aerodrome; open it higher up"
            yield s.at(checklist.id, "opens"), message


def _is_kept_off(s: Subject, checklist: Checklist) -> bool:
    forbidden = checklist.not_while
    return forbidden is not None and s.prover.never((forbidden, "not true"), also=s.prover.told(NEAR))


def _opens_low(s: Subject, checklist: Checklist) -> bool:
    higher = s.prover.compared(SignalRef("height_aal_ft"), ">=", Const(LOW_FT))
    return s.prover.never((checklist.opens, "true"), phase=checklist.phase, also=higher)
