"""What happens to one item, folded.

waiting -- opened --> open -- done / seen --> done -- reopened --> open
open -- partly --> partly (one of two)      open -- deferred --> deferred -- cue --> open
open -- lapsed / missed --> lapsed (may still be done)      open -- withdrawn --> waiting
"""

from typing import assert_never

from msgspec.structs import replace

from flowdeck.model import events as ev
from flowdeck.model.events import UndoKind
from flowdeck.model.seats import Seat
from flowdeck.model.session import Evidence, ItemState, Session, Status, Undoable


def evolve_item(session: Session, event: ev.ItemEvent) -> Session:
    ref = event.item
    state = session.item(ref)
    match event:
        case ev.ItemOpened():
            return _put(session, ref, replace(state, status=Status.OPEN, opened_at=event.at, prompted=False))
        case ev.ItemFound():
            new = replace(
                state,
                status=Status.DONE,
                evidence=Evidence.FOUND,
                opened_at=event.at,
                done_at=event.at,
                seat=None,
                shown=event.shown,
            )
            return _finish(session, ref, new, event.at)
        case ev.ItemPointed():
            new = replace(state, pointed=True)
            return _undoable(_put(session, ref, new), event.seat, "point", ref, event.at, state)
        case ev.ItemPartly():
            new = replace(state, status=Status.PARTLY, partly=(*state.partly, event.seat))
            return _undoable(_put(session, ref, new), event.seat, "tick", ref, event.at, state)
        case ev.ItemDone():
            new = replace(
                state,
                status=Status.DONE,
                back_at=None,
                evidence=Evidence.SAID,
                seat=event.seat,
                done_at=event.at,
                value=event.value,
                shown=event.shown,
                verify_at=event.verify_at,
                times=state.times + 1,
            )
            return _undoable(_finish(session, ref, new, event.at), event.seat, "tick", ref, event.at, state)
        case ev.ItemSeen():
            if state.status is Status.DONE:
                return _put(session, ref, replace(state, evidence=Evidence.SEEN, verify_at=None, shown=event.shown))
            new = replace(
                state,
                status=Status.DONE,
                evidence=Evidence.SEEN,
                back_at=None,
                done_at=event.at,
                times=state.times + 1,
                shown=event.shown,
            )
            return _finish(session, ref, new, event.at)
        case ev.ItemUnproved():
            return _put(session, ref, replace(state, verify_at=None))
        case ev.ItemReopened():
            session = _put(session, ref, ItemState(times=state.times))
            times = {name: at for name, at in session.times.items() if name != ref}
            return replace(session, done=session.done - {ref}, times=times)
        case ev.ItemLapsed():
            return _put(session, ref, replace(state, status=Status.LAPSED))
        case ev.ItemWithdrawn():
            return _put(session, ref, ItemState(times=state.times))
        case ev.ItemMissed():
            return _put(session, ref, replace(state, status=Status.LAPSED, missed=True))
        case ev.ItemOverdue():
            return _put(session, ref, replace(state, overdue=True))
        case ev.ItemDeferred():
            new = replace(state, status=Status.DEFERRED, cue=event.cue, back_at=event.back_at, seat=event.seat)
            return _undoable(_put(session, ref, new), event.seat, "deferral", ref, event.at, state)
        case ev.CueCame():
            new = replace(
                state, status=Status.OPEN, opened_at=event.at, overdue=False, back_at=None, cue_late_at=event.late_at
            )
            return _put(session, ref, new)
        case _:
            assert_never(event)


def _put(session: Session, ref: str, state: ItemState) -> Session:
    return replace(session, items={**session.items, ref: state})


def _finish(session: Session, ref: str, state: ItemState, at: int) -> Session:
    return replace(
        session,
        items={**session.items, ref: state},
        done=session.done | {ref},
        times={**session.times, ref: at},
    )


def _undoable(session: Session, seat: Seat, what: UndoKind, ref: str, at: int, before: ItemState) -> Session:
    """The session with one more act that *seat* may take back."""
    after = ((ref, session.item(ref)),)
    undo = Undoable(seat=seat, what=what, ref=ref, at=at, items_before=((ref, before),), items_after=after)
    return replace(session, undo=(*session.undo, undo))
