"""The planted slips that send something of their own, beside the duties that they withhold or change."""

from collections.abc import Sequence
from typing import TypeAlias

from msgspec.structs import replace

from flowdeck.crew.manner import Manner, Memory, planted_for
from flowdeck.engine.lists import next_line
from flowdeck.engine.program import program
from flowdeck.engine.work import Work
from flowdeck.model import inputs as inp
from flowdeck.model.condition import Truth
from flowdeck.model.deck import Deck
from flowdeck.model.readings import Readings
from flowdeck.model.scenario import Planted
from flowdeck.model.seats import Seat
from flowdeck.model.session import ListStatus, Session, Status

_Sent: TypeAlias = (
    inp.Act
    | inp.CallList
    | inp.SkipLine
    | inp.HoldList
    | inp.CompleteList
    | inp.Defer
    | inp.Transfer
    | inp.Challenge
    | inp.GoAround
    | inp.Undo
)


def in_force(planted: Sequence[Planted], script: Sequence[Truth]) -> tuple[Planted, ...]:
    """Slips that may be made now: those without a `when`, and those whose `when` is true."""
    return tuple(p for p in planted if p.when is None or script[p.when] is True)


def due_slips(
    deck: Deck,
    manner: Manner,
    session: Session,
    script: Sequence[Truth],
    memory: Memory,
    now: int,
) -> tuple[tuple[inp.Input, ...], Memory]:
    """Inputs that slips send now, one at a time, and the memory after them."""
    gate = _failed_gate(deck, in_force(manner.planted, script), session, memory, now)
    if gate is not None and manner.seed is None and session.monitoring in manner.seats:
        memory = replace(memory, answered_gates=memory.answered_gates | {f"{gate}/{session.approach}"})
        return (inp.GoAround(at=now, seat=session.monitoring),), memory
    for p in manner.planted:
        if p in memory.played or (p.when is not None and script[p.when] is not True):
            continue
        inputs = tuple(each for each in _play(deck, p, session, now) if each.seat in manner.seats)
        if inputs:
            memory = replace(memory, played={**memory.played, p: now})
            if p.kind == "hold":
                memory = replace(memory, held_at={**memory.held_at, p.ref: now})
            return inputs, memory
    return (), memory


def _failed_gate(deck: Deck, planted: tuple[Planted, ...], session: Session, memory: Memory, now: int) -> str | None:
    """A failed airborne gate that a competent crew answers with a go-around, two seconds after it."""
    for ref, state in session.gates.items():
        asked = state.status == "failed" and deck.gates[ref].orders == "go_around"
        if asked and now - state.at >= 2000 and f"{ref}/{session.approach}" not in memory.answered_gates:
            if planted_for(planted, ref, "continue") is None:
                return ref
    return None


def _play(deck: Deck, p: Planted, session: Session, now: int) -> tuple[_Sent, ...]:
    """What a slip that is in force sends; nothing if its moment has not come, or if it only withholds or changes."""
    match p.kind:
        case "hasten":
            seat = _owner(deck, session, p.ref)
            if p.ref in deck.checklists:
                return (inp.CallList(at=now, seat=seat, checklist=p.ref),)
            return (inp.Act(at=now, seat=seat, item=p.ref, value=p.value),)
        case "go_around":
            return (inp.GoAround(at=now, seat=session.flying),)
        case "discontinue":
            return (inp.GoAround(at=now, seat=session.flying, how="discontinued"),)
        case "transfer":
            return (inp.Transfer(at=now, seat=session.flying, part="offer"),)
        case "repeat":
            state = session.item(p.ref)
            done = state.is_done and now - (state.done_at or 0) >= p.by_s * 1000
            return (inp.Act(at=now, seat=_owner(deck, session, p.ref), item=p.ref),) if done else ()
        case "undo":
            state = session.item(p.ref)
            done = state.is_done and state.seat is not None and now - (state.done_at or 0) >= p.by_s * 1000
            return (inp.Undo(at=now, seat=state.seat),) if done and state.seat is not None else ()
        case "defer":
            owed = session.item(p.ref).status is Status.OPEN
            return (inp.Defer(at=now, seat=_owner(deck, session, p.ref), item=p.ref, cue=p.cue),) if owed else ()
        case "challenge":
            late = session.item(p.ref).overdue or session.list(p.ref).overdue_call
            seat = _owner(deck, session, p.ref).other
            return (inp.Challenge(at=now, seat=seat, about=p.ref),) if late else ()
        case "skip" | "hold" | "unread":
            return _in_list(deck, p, session, now)
        case _:
            return ()


def _in_list(deck: Deck, p: Planted, session: Session, now: int) -> tuple[_Sent, ...]:
    work = Work(program(deck), session, Readings(), now)
    checklist = deck.checklists.get(p.ref) or program(deck).list_of_line.get(p.ref)
    if checklist is None or session.list(checklist.id).status is not ListStatus.CALLED:
        return ()
    reader = checklist.read_by.seats(session.flying)[0]
    line = next_line(work, checklist)
    if p.kind == "unread":
        answered = sum(1 for ref in checklist.lines if session.item(ref).is_done)
        enough = answered >= p.lines and now - (session.list(checklist.id).called_at or 0) > 1500
        return (inp.CompleteList(at=now, seat=reader, checklist=checklist.id),) if enough else ()
    if line is None or session.item(line.id).read_at is not None:
        return ()
    here = line.id == p.ref if p.ref in deck.items else checklist.lines.index(line.id) >= p.lines
    if not here:
        return ()
    if p.kind == "skip":
        return (inp.SkipLine(at=now, seat=reader, checklist=checklist.id),)
    return (inp.HoldList(at=now, seat=reader, checklist=checklist.id, why="interrupted"),)


def _owner(deck: Deck, session: Session, ref: str) -> Seat:
    item = deck.items.get(ref)
    if item is not None:
        return item.by.seats(session.flying)[0]
    return deck.checklists[ref].called_by.seats(session.flying)[0]
