"""A scripted crew: two competent pilots who do what is owed, and the slips that a scenario plants.

Pure: from the flight at one moment and what the crew remembers to the inputs it sends now. Each
seat does one thing at a time at a human pace. A pilot who planted an omission believes it done, and
so goes on where the omission would have stopped an attentive one.
"""

from collections.abc import Sequence

from msgspec import Struct
from msgspec.structs import replace

from flowdeck.crew.slips import Memory, due_slips, planted_for
from flowdeck.engine.owed import Duty, Owed, owed, to_input
from flowdeck.engine.program import program
from flowdeck.model import inputs as inp
from flowdeck.model.condition import Truth
from flowdeck.model.deck import Deck
from flowdeck.model.scenario import Planted, Scenario
from flowdeck.model.seats import Seat
from flowdeck.model.session import Session, Status

PACE_MS: dict[Duty, int] = {
    Duty.DO: 1800,
    Duty.SAY: 900,
    Duty.ANSWER_CALL: 900,
    Duty.READ: 1200,
    Duty.ANSWER: 1300,
    Duty.POINT: 700,
}
"""How long a duty takes (ms), `our proposal`; others take 1000."""
PATIENCE_MS = 60_000
"""How long a line waits for its proof before it is answered all the same."""
BLIND_MS = 6_000
"""The same where the pilot believes that what is verified was done."""


class Turn(Struct, frozen=True, kw_only=True):
    """What the crew does now, and what it remembers afterwards."""

    inputs: tuple[inp.Input, ...]
    memory: Memory


def play(deck: Deck, scenario: Scenario, session: Session, script: Sequence[Truth], memory: Memory, now: int) -> Turn:
    """One look of the crew at *now* (ms); *script* holds the truths of the scenario's own conditions."""
    if session.ended:
        return Turn(inputs=(), memory=memory)
    sent, memory = due_slips(deck, scenario.planted, session, script, memory, now)
    inputs = list(sent)
    if inputs:
        return Turn(inputs=tuple(inputs), memory=memory)
    for seat in (session.flying, session.flying.other):
        free_at = memory.busy.get(seat, 0)
        if now < free_at:
            continue
        duty = _choose(deck, scenario, session, memory, seat, now)
        if duty is None:
            continue
        inputs.append(_turn(duty, scenario, now))
        pace = PACE_MS.get(duty.duty, 1000)
        memory = replace(memory, busy={**memory.busy, seat: now + pace})
        break  # the other seat looks again after this has had its effect
    return Turn(inputs=tuple(inputs), memory=memory)


def _turn(duty: Owed, scenario: Scenario, now: int) -> inp.Input:
    said = planted_for(scenario.planted, duty.ref, "say")
    crossed = planted_for(scenario.planted, duty.ref, "wrong_seat")
    if crossed is not None:
        duty = replace(duty, seat=duty.seat.other)
    return to_input(duty, now, said.value if said is not None else None)


def _choose(deck: Deck, scenario: Scenario, session: Session, memory: Memory, seat: Seat, now: int) -> Owed | None:
    for duty in owed(deck, session):
        if duty.seat is seat and _may(deck, scenario.planted, session, memory, duty, now):
            return duty
    return None


def _may(deck: Deck, planted: tuple[Planted, ...], session: Session, memory: Memory, duty: Owed, now: int) -> bool:
    """Whether a competent pilot would do this now, with the slips that were planted on it."""
    if _withheld(deck, planted, session, memory, duty, now):
        return False
    forgotten = {p.ref for p in planted if p.kind in ("omit", "no_call", "no_completion", "unread", "hold", "delay")}
    forgotten |= {p.ref for p in planted if p.kind in ("read_first", "defer")}
    if any(ref not in forgotten for ref in (*duty.waits_for, *duty.panel_first)):
        return False
    if duty.duty is Duty.ANSWER:
        return _ready_to_answer(deck, planted, session, duty, now)
    return now - duty.since >= _think_ms(planted, duty)


def _think_ms(planted: tuple[Planted, ...], duty: Owed) -> int:
    hurried = planted_for(planted, duty.ref, "hurry")
    return 0 if hurried is not None else 600


def _ready_to_answer(deck: Deck, planted: tuple[Planted, ...], session: Session, duty: Owed, now: int) -> bool:
    line = deck.items[duty.ref]
    waited = now - duty.since
    if planted_for(planted, duty.ref, "hurry") is not None:
        return waited >= 100
    if waited < 1200:
        return False
    work_done = all(
        ref in session.done or session.item(ref).status in (Status.WAITING, Status.DEFERRED, Status.LAPSED)
        for ref in line.verifies
    )
    shown = line.seen is None or session.truths[line.seen] is not False
    believed = any(p.ref in (duty.ref, *line.verifies) for p in planted)
    return (work_done and shown) or waited >= (BLIND_MS if believed else PATIENCE_MS)


def _withheld(deck: Deck, planted: tuple[Planted, ...], session: Session, memory: Memory, duty: Owed, now: int) -> bool:
    for p in planted:
        if p.ref not in (duty.ref, duty.checklist):
            continue
        match p.kind:
            case "omit":
                if p.ref == duty.ref:
                    return True
            case "no_call":
                if duty.duty is Duty.CALL_LIST:
                    return True
            case "no_completion":
                if duty.duty is Duty.COMPLETE:
                    return True
            case "delay":
                if p.ref == duty.ref and now - duty.since < p.by_s * 1000:
                    return True
            case "read_first":
                if duty.duty is Duty.DO and not _line_read(deck, session, duty.ref):
                    return True
            case "defer":
                if p.ref == duty.ref and (p.lost or session.item(duty.ref).cue_late_at is None):
                    return True
            case "hold":
                if duty.duty is Duty.RESUME and not memory.released(p, now):
                    return True
            case _:
                pass
    return False


def _line_read(deck: Deck, session: Session, ref: str) -> bool:
    lines = program(deck).verified_by.get(ref, ())
    return any(session.item(line.id).read_at is not None for line in lines)
