"""A scripted crew: two competent pilots who do what is owed, and the slips that a scenario plants.

Pure: from the flight at one moment and what the crew remembers to the inputs it sends now. Each
seat does one thing at a time at a human pace. A pilot who planted an omission believes it done, and
so goes on where the omission would have stopped an attentive one.
"""

from collections.abc import Sequence

from msgspec import Struct
from msgspec.structs import replace

from flowdeck.crew.slips import Memory, due_slips, in_force, planted_for
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
HURRIED_MS = 300
"""How long a hurried line takes to read or to answer (ms), `our proposal`: shorter than any look."""
_WORDED = (Duty.DO, Duty.SAY, Duty.ANSWER_CALL, Duty.ANSWER)
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
    if sent:
        return Turn(inputs=sent, memory=memory)
    planted = in_force(scenario.planted, script)
    for seat in (session.flying, session.flying.other):
        pace = scenario.pace.get(seat, 1.0)
        duty = _choose(deck, planted, session, memory, seat, now, pace)
        if duty is None or (now < memory.busy.get(seat, 0) and not _hurried(planted, duty)):
            continue
        takes = round(_pace_ms(planted, duty) * pace)
        memory = replace(memory, busy={**memory.busy, seat: now + takes})
        input_, memory = _turn(duty, planted, memory, now)
        return Turn(inputs=(input_,), memory=memory)  # the other seat looks again after this has had its effect
    return Turn(inputs=(), memory=memory)


def _turn(duty: Owed, planted: tuple[Planted, ...], memory: Memory, now: int) -> tuple[inp.Input, Memory]:
    """The input for *duty*, with the slip that is planted on it. A wrong word is said once and then put right."""
    if planted_for(planted, duty.ref, "wrong_seat") is not None:
        duty = replace(duty, seat=duty.seat.other)
    said = planted_for(planted, duty.ref, "say")
    if said is None or duty.duty not in _WORDED or duty.ref in memory.said:
        return to_input(duty, now), memory
    return to_input(duty, now, said.value), replace(memory, said=memory.said | {duty.ref})


def _choose(
    deck: Deck, planted: tuple[Planted, ...], session: Session, memory: Memory, seat: Seat, now: int, pace: float
) -> Owed | None:
    for duty in owed(deck, session):
        if duty.seat is seat and _may(deck, planted, session, memory, duty, now, pace):
            return duty
    return None


def _may(
    deck: Deck,
    planted: tuple[Planted, ...],
    session: Session,
    memory: Memory,
    duty: Owed,
    now: int,
    pace: float,
) -> bool:
    """Whether a competent pilot of that *pace* would do this now, with the slips that were planted on it."""
    if duty.duty is Duty.GO_AROUND:  # made by `slips`, a moment after the gate
        return False
    if _withheld(deck, planted, session, memory, duty, now) or _wrong_time(deck, session, duty):
        return False
    forgotten = {p.ref for p in planted if p.kind in ("omit", "no_call", "no_completion", "unread", "hold", "delay")}
    forgotten |= {p.ref for p in planted if p.kind in ("read_first", "defer")}
    if any(ref not in forgotten for ref in (*duty.waits_for, *duty.panel_first)):
        return False
    if duty.duty is Duty.ANSWER:
        return _ready_to_answer(deck, planted, session, duty, now, pace)
    return now - duty.since >= _think_ms(planted, duty) * pace


def _wrong_time(deck: Deck, session: Session, duty: Owed) -> bool:
    """A list is not read on where it may not be read, near a runway for one."""
    if duty.duty not in (Duty.READ, Duty.RESUME):
        return False
    forbidden = deck.checklists[duty.checklist].not_while
    return forbidden is not None and session.truths[forbidden] is True


def _list_of(deck: Deck, ref: str) -> str:
    """The id of the list that *ref* names or is a line of, empty if neither."""
    if ref in deck.checklists:
        return ref
    checklist = program(deck).list_of_line.get(ref)
    return checklist.id if checklist is not None else ""


def _think_ms(planted: tuple[Planted, ...], duty: Owed) -> int:
    """Time (ms) to take something in before doing it. A challenge and an offer of control are answered at once."""
    at_once = duty.duty in (Duty.REPLY, Duty.TAKE_CONTROL, Duty.CONFIRM_CONTROL)
    return 0 if at_once or _hurried(planted, duty) else 600


def _pace_ms(planted: tuple[Planted, ...], duty: Owed) -> int:
    """For how long (ms) the seat is taken up by it. Who is about to take it back does nothing else until then."""
    undone = planted_for(planted, duty.ref, "undo")
    if undone is not None:
        return round(undone.by_s * 1000) + 500
    return HURRIED_MS if _hurried(planted, duty) else PACE_MS.get(duty.duty, 1000)


def _hurried(planted: tuple[Planted, ...], duty: Owed) -> bool:
    return duty.duty in (Duty.READ, Duty.ANSWER) and any(
        planted_for(planted, ref, "hurry") is not None for ref in (duty.ref, duty.checklist)
    )


def _ready_to_answer(
    deck: Deck, planted: tuple[Planted, ...], session: Session, duty: Owed, now: int, pace: float
) -> bool:
    line = deck.items[duty.ref]
    waited = now - duty.since
    if _hurried(planted, duty):
        return waited >= 100
    if waited < 1200 * pace:
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
        held_here = p.kind == "hold" and _list_of(deck, p.ref) == duty.checklist
        if not held_here and p.ref not in (duty.ref, duty.checklist):
            continue
        match p.kind:
            case "omit":
                if p.ref == duty.ref:
                    return True
            case "no_call":
                if duty.duty is Duty.CALL_LIST:
                    return True
            case "no_completion":
                if duty.duty is Duty.COMPLETE and (p.by_s == 0 or now - duty.since < p.by_s * 1000):
                    return True
            case "delay" | "linger":
                begun = duty.duty not in (Duty.HOLD, Duty.RESUME, Duty.COMPLETE)
                if p.ref == duty.ref and begun and now - duty.since < p.by_s * 1000:
                    return True
            case "skip":
                if duty.duty is Duty.READ and p.ref == duty.ref and session.item(duty.ref).skipped:
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
