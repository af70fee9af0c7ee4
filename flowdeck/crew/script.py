"""A scripted crew: two competent pilots who do what is owed, and the slips that a scenario plants.

Pure: from the flight at one moment and what the crew remembers to the inputs it sends now. Each
seat does one thing at a time at a human pace. A pilot who planted an omission believes it done, and
so goes on where the omission would have stopped an attentive one.
"""

from collections.abc import Sequence

from msgspec import Struct
from msgspec.structs import replace

from flowdeck.crew.choice import choose
from flowdeck.crew.manner import Manner, Memory, hurried, planted_for
from flowdeck.crew.slips import due_slips, in_force
from flowdeck.engine.owed import Duty, Owed, to_input
from flowdeck.model import inputs as inp
from flowdeck.model.condition import Scalar, Truth
from flowdeck.model.deck import Deck
from flowdeck.model.scenario import Scenario
from flowdeck.model.seats import Seat
from flowdeck.model.session import Session

BOTH = (Seat.CAPTAIN, Seat.FIRST_OFFICER)
_WORDED = (Duty.DO, Duty.SAY, Duty.ANSWER_CALL, Duty.ANSWER)


class Turn(Struct, frozen=True, kw_only=True):
    """What the crew does now, and what it remembers afterwards."""

    inputs: tuple[inp.Input, ...]
    memory: Memory


def play(
    deck: Deck,
    scenario: Scenario,
    session: Session,
    script: Sequence[Truth],
    memory: Memory,
    now: int,
    seats: tuple[Seat, ...] = BOTH,
) -> Turn:
    """One look of the crew at *now* (ms); *script* holds the truths of the scenario's own conditions.

    *seats*: those that this crew plays; the other one is somebody else's.
    """
    return act(deck, Manner(seats=seats, planted=scenario.planted, pace=scenario.pace), session, script, memory, now)


def act(deck: Deck, manner: Manner, session: Session, script: Sequence[Truth], memory: Memory, now: int) -> Turn:
    """The same in any *manner*; `when` of its planted slips is looked up in *script*."""
    if session.ended:
        return Turn(inputs=(), memory=memory)
    sent, memory = due_slips(deck, manner, session, script, memory, now)
    if sent:
        return Turn(inputs=sent, memory=memory)
    manner = replace(manner, planted=in_force(manner.planted, script))
    for seat in (session.flying, session.flying.other):
        if seat not in manner.seats:
            continue
        duty = choose(deck, manner, session, memory, seat, now)
        if duty is None or (now < memory.busy.get(seat, 0) and not hurried(manner.planted, duty)):
            continue
        takes = round(manner.takes_ms(duty) * manner.pace_of(duty))
        memory = replace(memory, busy={**memory.busy, seat: now + takes})
        input_, memory = _turn(duty, manner, memory, now)
        return Turn(inputs=(input_,), memory=memory)  # the other seat looks again after this has had its effect
    return Turn(inputs=(), memory=memory)


def _turn(duty: Owed, manner: Manner, memory: Memory, now: int) -> tuple[inp.Input, Memory]:
    """The input for *duty*, with the slip that is planted on it. A wrong word is said once and then put right."""
    if planted_for(manner.planted, duty.ref, "wrong_seat") is not None:
        duty = replace(duty, seat=duty.seat.other)
    said = planted_for(manner.planted, duty.ref, "say")
    if said is None or duty.duty not in _WORDED or duty.ref in memory.said:
        return to_input(duty, now), memory
    value: Scalar | None = said.value
    return to_input(duty, now, value), replace(memory, said=memory.said | {duty.ref})
