"""What each seat owes now, most urgent first: one answer for the guided lanes, the prompts and the played pilot.

Urgency: a go-around that a gate asks for; a challenge or control to answer; a call and its answer;
the list that is being read; what is overdue; standing items; a list to call; then flows in the order
of the deck. What cannot be done yet keeps its place and says what it waits for: a hard predecessor, a
limit, a control that is still travelling (*waits_for*), or a neighbour of the panel (*panel_first*). But for
a list in its time, no seat waits for a neighbour that a sealed seat beside it leaves undone: that would tell of it.
"""

from enum import StrEnum
from functools import lru_cache
from typing import assert_never

from msgspec import Struct

from flowdeck.engine.lists import hold_before, line_at, owed_lines, passed_over
from flowdeck.engine.program import program
from flowdeck.engine.words import in_words
from flowdeck.engine.work import Work
from flowdeck.model import inputs as inp
from flowdeck.model.condition import Scalar
from flowdeck.model.deck import Checklist, Deck, Item, ItemKind
from flowdeck.model.readings import Readings
from flowdeck.model.seats import Owner, Seat
from flowdeck.model.session import ListState, ListStatus, Session


class Duty(StrEnum):
    GO_AROUND = "go_around"
    REPLY = "reply"
    TAKE_CONTROL = "take_control"
    CONFIRM_CONTROL = "confirm_control"
    ANSWER_CALL = "answer_call"
    SAY = "say"
    READ = "read"
    ANSWER = "answer"
    HOLD = "hold"
    RESUME = "resume"
    COMPLETE = "complete"
    CALL_LIST = "call_list"
    POINT = "point"
    DO = "do"


_RANK = {duty: rank for rank, duty in enumerate(Duty)}


class Owed(Struct, frozen=True, kw_only=True):
    """One duty of one seat. *ref*: item, line, list or gate; *since*: ms.

    *waits_for*: what must come first; *panel_first*: what is open and should. *passed*: its moment has gone by; it is
    still shown, and no key is led to it any more.
    """

    seat: Seat
    duty: Duty
    ref: str
    checklist: str = ""
    since: int = 0
    overdue: bool = False
    standing: bool = False
    restart: bool = False
    waits_for: tuple[str, ...] = ()
    panel_first: tuple[str, ...] = ()
    passed: bool = False

    @property
    def ready(self) -> bool:
        """Whether it may be done now without breaking any order."""
        return not self.waits_for and not self.panel_first and not self.passed


@lru_cache(maxsize=4)
def owed(deck: Deck, session: Session) -> tuple[Owed, ...]:
    """Every duty of both seats, most urgent first. Both decks and sessions go by identity."""
    if session.ended:
        return ()
    work = Work(program(deck), session, Readings(), session.at)
    duties = [*_gates(work), *_control(session), *_items(work), *_lists(work)]
    duties.sort(key=lambda d: _urgency(d, work.program.order))
    return tuple(duties)


def _urgency(d: Owed, order: dict[str, int]) -> tuple[int, int, int]:
    late_or_standing = d.duty is Duty.DO and (d.overdue or d.standing)
    rank = _RANK[Duty.CALL_LIST] if late_or_standing else _RANK[d.duty]
    return (rank, order.get(d.ref, -1), d.since)


def _gates(work: Work) -> list[Owed]:
    """A gate that failed asks for a go-around: the flying pilot makes it, the other calls it.

    It stands on their lines while its seconds run. Gone past, it is still shown in the air, but the lines are free:
    the key that lowers the gear must not break off a landing that the crew has decided upon.
    """
    s = work.session
    met = [
        (state.decide_at is not None, state.at, gate.id)
        for gate in work.program.gates_of[s.phase]
        if gate.orders == "go_around" and (state := s.gates.get(gate.id)) is not None
    ]
    if not met:
        return []
    runs, at, ref = max(met)  # the one that is asked now, else the latest: a later one that was met makes good
    if s.gates[ref].status not in ("failed", "overrun") or (not runs and work.truth(work.program.on_ground) is True):
        return []
    if work.program.machine.where_to(s.phase, "go_around", s.truths) is None:
        return []
    return [
        Owed(seat=seat, duty=Duty.GO_AROUND, ref=ref, since=at, overdue=True, passed=not runs)
        for seat in (s.flying, s.monitoring)
    ]


def _control(s: Session) -> list[Owed]:
    duties = []
    if s.challenge is not None:
        since = s.challenge.at
        duties.append(Owed(seat=s.challenge.seat.other, duty=Duty.REPLY, ref=s.challenge.about, since=since))
    if s.offered is not None:
        seat, duty = (s.offered, Duty.CONFIRM_CONTROL) if s.taken else (s.offered.other, Duty.TAKE_CONTROL)
        duties.append(Owed(seat=seat, duty=duty, ref="control", since=s.control_at))
    return duties


def _items(work: Work) -> list[Owed]:
    duties: list[Owed] = []
    here = work.session.phase
    for ref, state in work.session.items.items():
        item = work.deck.items[ref]
        if not state.is_owed or item.kind is ItemKind.LINE:
            continue
        if here not in item.phases and state.cue_late_at is None:
            continue
        hard, flow = work.broken_edges(item.after)
        waits = tuple(edge.before for edge in hard)
        waits += tuple(edge.before for edge in item.after if edge.hard and _is_travelling(work, edge.before))
        waits += tuple(need.reason for need in item.needs if work.truth(need.that) is False)
        for gate in work.program.gates_of[here]:
            failed = work.session.gates.get(gate.id)
            if failed is not None and failed.status == "failed" and ref in gate.stops:
                waits += (gate.id,)
        first = tuple(edge.before for edge in flow)
        for seat in _answerers(work, item):
            if seat in state.partly:
                continue
            duties.append(
                Owed(
                    seat=seat,
                    duty=_duty(item, state.pointed),
                    ref=ref,
                    since=state.opened_at or 0,
                    overdue=state.overdue,
                    standing=item.kind in (ItemKind.STANDING_ON, ItemKind.STANDING_OFF),
                    waits_for=waits,
                    panel_first=_known(work, seat, first),
                )
            )
    return duties


def _is_travelling(work: Work, ref: str) -> bool:
    """Whether it was done a moment ago and the control is still on its way."""
    state = work.state(ref)
    return state.is_done and state.verify_at is not None


def _answerers(work: Work, item: Item) -> tuple[Seat, ...]:
    seats = work.seats(item)
    return seats if item.by is Owner.BOTH else seats[:1]


def _duty(item: Item, pointed: bool) -> Duty:
    if item.kind is ItemKind.CALL:
        return Duty.SAY
    if item.kind is ItemKind.ANSWER:
        return Duty.ANSWER_CALL
    return Duty.POINT if item.point and not pointed else Duty.DO


def _lists(work: Work) -> list[Owed]:
    duties: list[Owed] = []
    for ref, state in work.session.lists.items():
        checklist = work.deck.checklists[ref]
        flying = work.session.flying
        if state.status is ListStatus.OPEN and work.owed(checklist.when, checklist.unless):
            hard, _ = work.broken_edges(checklist.after)
            caller = checklist.called_by.seats(flying)[0]
            waits = tuple(edge.before for edge in hard) + _not_now(work, checklist)
            lines = _lines_to_hold(work, checklist)
            first = tuple(ref for line in lines for ref in _undone(work, line) if work.state(ref).is_owed)
            if state.prompted or state.overdue_call or checklist.due is None:
                first = _known(work, caller, first)
            duties.append(
                Owed(
                    seat=caller,
                    duty=Duty.CALL_LIST,
                    ref=ref,
                    checklist=ref,
                    since=state.opened_at or 0,
                    overdue=state.overdue_call,
                    waits_for=waits,
                    panel_first=first,
                )
            )
        elif state.status is ListStatus.CALLED:
            duties += _reading(work, checklist, state)
        elif state.status is ListStatus.HELD:
            duties += _held(work, checklist, state)
    return duties


def _reading(work: Work, checklist: Checklist, state: ListState) -> list[Owed]:
    reader = checklist.read_by.seats(work.session.flying)[0]
    line = line_at(work, checklist)
    if line is None:
        hold = hold_before(work, checklist, None)
        waiting = hold is not None and work.truth(hold.until) is not True
        duty = Duty.HOLD if waiting else Duty.COMPLETE
        since = state.all_closed_at or state.called_at or 0
        ending = Owed(seat=reader, duty=duty, ref=checklist.id, checklist=checklist.id, since=since)
        passed = passed_over(work, checklist)
        if waiting or not passed:
            return [ending]
        return [Owed(seat=reader, duty=Duty.READ, ref=passed[0].id, checklist=checklist.id, since=since), ending]
    here = work.state(line.id)
    if here.read_at is None:
        hold = hold_before(work, checklist, line)
        if hold is not None and work.truth(hold.until) is not True:
            return [Owed(seat=reader, duty=Duty.HOLD, ref=checklist.id, checklist=checklist.id, since=work.now)]
        since = max((*state.answered, state.called_at or 0))
        first = _known(work, reader, _undone(work, line))
        return [Owed(seat=reader, duty=Duty.READ, ref=line.id, checklist=checklist.id, since=since, panel_first=first)]
    duty = Duty.POINT if line.point and not here.pointed else Duty.ANSWER
    return [
        Owed(
            seat=seat,
            duty=duty,
            ref=line.id,
            checklist=checklist.id,
            since=here.read_at,
            waits_for=tuple(ref for ref in line.verifies if _is_travelling(work, ref)),
            panel_first=_known(work, seat, _undone(work, line)),
        )
        for seat in _answerers(work, line)
        if seat not in here.partly
    ]


def _not_now(work: Work, checklist: Checklist) -> tuple[str, ...]:
    """Why a list is not to be called or read now, as what it waits for."""
    if checklist.not_while is None or work.truth(checklist.not_while) is not True:
        return ()
    return (f"not while {in_words(work.deck, checklist.not_while)}",)


def _undone(work: Work, line: Item) -> tuple[str, ...]:
    """What this line verifies that is not done and could be: a list is read over a finished flow."""
    found = []
    for ref in line.verifies:
        if ref not in work.deck.items or work.fulfilled(ref):
            continue
        item = work.deck.items[ref]
        if work.state(ref).is_owed or (work.not_started(ref) and work.session.phase in item.phases):
            hard, _ = work.broken_edges(item.after)
            if not hard and all(work.truth(need.that) is not False for need in item.needs):
                found.append(ref)
    return tuple(found)


def _known(work: Work, seat: Seat, refs: tuple[str, ...]) -> tuple[str, ...]:
    """Of what is undone, what *seat* may know: not what a sealed seat beside it has to do, or its part of it."""
    sealed = work.session.sealed
    if not sealed or seat in sealed:
        return refs
    return tuple(ref for ref in refs if not _is_sealed(work, ref))


def _is_sealed(work: Work, ref: str) -> bool:
    item = work.deck.items.get(ref)
    if item is None or item.by is Owner.EITHER:
        return False
    left = [seat for seat in _answerers(work, item) if seat not in work.state(ref).partly]
    return bool(left) and all(seat in work.session.sealed for seat in left)


def _lines_to_hold(work: Work, checklist: Checklist) -> list[Item]:
    """The lines that come before the first hold that is not met."""
    end = min((h.before for h in checklist.holds if work.truth(h.until) is not True), default=len(checklist.lines))
    return [item for item in owed_lines(work, checklist) if checklist.lines.index(item.id) < end]


def _held(work: Work, checklist: Checklist, state: ListState) -> list[Owed]:
    """A held list is owed its resuming once what it waits for has come, or the interruption is over."""
    hold = next((h for h in checklist.holds if h.id == state.hold), None)
    if hold is not None and work.truth(hold.until) is not True:
        return []
    interruption = work.session.interruption
    if hold is None and interruption is not None and work.now < interruption.until:
        return []
    reader = checklist.read_by.seats(work.session.flying)[0]
    held_for = work.now - (state.held_at or work.now)
    long_ = held_for > work.deck.policy.hold_restart_s * 1000
    moved = (state.held_at or 0) < work.session.phase_at
    restart = hold is None and (long_ or moved)
    return [
        Owed(
            seat=reader,
            duty=Duty.RESUME,
            ref=checklist.id,
            checklist=checklist.id,
            since=state.held_at or 0,
            restart=restart,
            waits_for=_not_now(work, checklist),
        )
    ]


def to_input(duty: Owed, at: int, value: Scalar | None = None) -> inp.Input:
    """The input by which its seat does this duty at *at* (ms)."""
    seat, ref = duty.seat, duty.ref
    match duty.duty:
        case Duty.GO_AROUND:
            return inp.GoAround(at=at, seat=seat)
        case Duty.REPLY:
            return inp.Reply(at=at, seat=seat)
        case Duty.TAKE_CONTROL:
            return inp.Transfer(at=at, seat=seat, part="take")
        case Duty.CONFIRM_CONTROL:
            return inp.Transfer(at=at, seat=seat, part="confirm")
        case Duty.ANSWER_CALL | Duty.SAY | Duty.DO:
            return inp.Act(at=at, seat=seat, item=ref, value=value)
        case Duty.POINT:
            return inp.Point(at=at, seat=seat, item=ref)
        case Duty.READ:
            return inp.ReadLine(at=at, seat=seat, checklist=duty.checklist)
        case Duty.ANSWER:
            return inp.Answer(at=at, seat=seat, line=ref, value=value)
        case Duty.HOLD:
            return inp.HoldList(at=at, seat=seat, checklist=ref)
        case Duty.RESUME:
            return inp.ResumeList(at=at, seat=seat, checklist=ref, restart=duty.restart)
        case Duty.COMPLETE:
            return inp.CompleteList(at=at, seat=seat, checklist=ref)
        case Duty.CALL_LIST:
            return inp.CallList(at=at, seat=seat, checklist=ref)
        case _:
            assert_never(duty.duty)
