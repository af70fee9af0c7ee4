"""What happens to one checklist, folded.

waiting -- opened --> open -- called --> called -- completed --> complete
called -- held --> held -- resumed --> called      open -- lapsed --> lapsed (may still be called)
"""

from typing import assert_never

from msgspec.structs import replace

from flowdeck.model import events as ev
from flowdeck.model.events import UndoKind
from flowdeck.model.seats import Seat
from flowdeck.model.session import Evidence, ItemState, ListState, ListStatus, Session, Status, Undoable

_KEPT_ANSWERS = 8


def evolve_list(session: Session, event: ev.ListEvent) -> Session:
    ref = event.checklist
    state = session.list(ref)
    match event:
        case ev.ListOpened():
            return _put(session, ref, replace(state, status=ListStatus.OPEN, opened_at=event.at))
        case ev.ListCalled():
            return _called(session, event, state)
        case ev.ListOverdue():
            field = "overdue_call" if event.of == "call" else "overdue_completion"
            return _put(session, ref, replace(state, **{field: True}))
        case ev.LineRead():
            return _read(session, event, state)
        case ev.LineAnswered():
            return _answered(session, event, state)
        case ev.AnswerNotTaken():
            said = replace(session.item(event.line), value=event.value)
            return replace(session, items={**session.items, event.line: said})
        case ev.LineSkipped():
            line = replace(session.item(event.line), status=Status.LAPSED, skipped=True)
            after = replace(session, items={**session.items, event.line: line})
            return _undoable(session, after, event.seat, "skip", ref, event.at, (event.line,))
        case ev.ListHeld():
            new = replace(state, status=ListStatus.HELD, held_at=event.at, hold=event.hold)
            session_ = _put(session, ref, new)
            if event.seat is None:
                return session_
            return _undoable(session, session_, event.seat, "hold", ref, event.at)
        case ev.ListResumed():
            return _resumed(session, event, state)
        case ev.ListClosed():
            return _put(session, ref, replace(state, all_closed_at=event.at))
        case ev.ListCompleted():
            new = replace(state, status=ListStatus.COMPLETE, completed_at=event.at)
            after = replace(
                _put(session, ref, new),
                done=session.done | {ref},
                times={**session.times, ref: event.at},
            )
            return _undoable(session, after, event.seat, "completion", ref, event.at)
        case ev.ListLapsed():
            return _put(session, ref, replace(state, status=ListStatus.LAPSED))
        case ev.ListWithdrawn():
            return _put(session, ref, ListState())
        case _:
            assert_never(event)


def _put(session: Session, ref: str, state: ListState) -> Session:
    return replace(session, lists={**session.lists, ref: state})


def _called(session: Session, event: ev.ListCalled, state: ListState) -> Session:
    ref = event.checklist
    new = ListState(
        status=ListStatus.CALLED,
        opened_at=state.opened_at,
        overdue_call=state.overdue_call,
        called_at=event.at,
        called_by=event.seat,
    )
    after = replace(
        _put(session, ref, new),
        items={**session.items, **{line: ItemState() for line in event.lines}},
        done=session.done - {ref, *event.lines},
    )
    return _undoable(session, after, event.seat, "call", ref, event.at, event.lines)


def _read(session: Session, event: ev.LineRead, state: ListState) -> Session:
    line = replace(session.item(event.line), read_at=event.at)
    if line.skipped:  # come back to
        line = replace(line, skipped=False, status=Status.WAITING)
    passed = (*state.passed_holds, event.passes) if event.passes else state.passed_holds
    new = replace(state, status=ListStatus.CALLED, reread="", passed_holds=passed)
    session = _put(session, event.checklist, new)
    return replace(session, items={**session.items, event.line: line})


def _answered(session: Session, event: ev.LineAnswered, state: ListState) -> Session:
    before = session
    line = session.item(event.line)
    reread = "" if state.reread == event.line else state.reread
    if event.closed:
        line = replace(
            line,
            status=Status.DONE,
            evidence=Evidence.SAID,
            seat=event.seat,
            value=event.value,
            done_at=event.at,
            partly=(),
            times=line.times + 1,
        )
    else:
        line = replace(line, status=Status.PARTLY, partly=(*line.partly, event.seat), value=event.value)
    answered = (*state.answered, event.at)[-_KEPT_ANSWERS:]
    session = _put(session, event.checklist, replace(state, answered=answered, reread=reread))
    if event.closed:
        session = replace(session, done=session.done | {event.line}, times={**session.times, event.line: event.at})
    after = replace(session, items={**session.items, event.line: line})
    return _undoable(before, after, event.seat, "answer", event.checklist, event.at, (event.line,))


def _resumed(session: Session, event: ev.ListResumed, state: ListState) -> Session:
    new = replace(state, status=ListStatus.CALLED, held_at=None, hold="", reread=event.line)
    if state.hold:
        new = replace(new, passed_holds=(*state.passed_holds, state.hold))
    items = dict(session.items)
    if event.line:
        items[event.line] = replace(session.item(event.line), read_at=event.at)
    if event.restart:
        new = replace(new, reread="", all_closed_at=None, passed_holds=())
        for ref in event.lines:
            items[ref] = ItemState()
        session = replace(session, done=session.done - set(event.lines))
    return replace(_put(session, event.checklist, new), items=items)


def _undoable(
    before: Session, after: Session, seat: Seat, what: UndoKind, ref: str, at: int, lines: tuple[str, ...] = ()
) -> Session:
    """*after*, with one more act that *seat* may take back."""
    undo = Undoable(
        seat=seat,
        what=what,
        ref=ref,
        at=at,
        items_before=tuple((line, before.item(line)) for line in lines),
        lists_before=((ref, before.list(ref)),),
        items_after=tuple((line, after.item(line)) for line in lines),
        lists_after=((ref, after.list(ref)),),
    )
    return replace(after, undo=(*before.undo, undo))
