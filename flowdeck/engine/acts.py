"""What a pilot does to an item: act, point, defer, take back."""

from flowdeck.engine import judge
from flowdeck.engine.lists import answer
from flowdeck.engine.words import in_words
from flowdeck.engine.work import Work, travel_ms
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.condition import Scalar
from flowdeck.model.deck import Item, ItemKind
from flowdeck.model.deviation import Slip
from flowdeck.model.seats import Owner, Seat
from flowdeck.model.session import GateState, ItemState, Status, Undoable

_CALLS = (ItemKind.CALL, ItemKind.ANSWER)


def act(work: Work, i: inp.Act) -> None:
    """An item is done, a call made, an answer given. Wrong acts are taken and judged, never blocked."""
    item = work.deck.items.get(i.item)
    if item is None:
        work.refuse(i.item, "this deck has no such item", i.seat)
        return
    if item.kind is ItemKind.LINE:
        answer(work, inp.Answer(at=i.at, seat=i.seat, line=i.item, value=i.value))
        return
    state = work.state(item.id)
    unfit = judge.unfit_value(work, item, i.value)
    if unfit:
        work.refuse(item.id, f"{item.do}: {unfit}", i.seat)
        return
    mends = state.is_done and _mends(work, item, state, i.value)
    if state.is_done and not mends:
        judge.judge_seat(work, item.id, item.by, i.seat)
        work.slip(Slip.REPEATED, item.id, i.seat, "once", "done again")
        return
    if item.kind is ItemKind.ANSWER and state.status is Status.WAITING:
        work.refuse(item.id, "nothing has been called that this would answer", i.seat)
        return
    right_seat = judge.judge_seat(work, item.id, item.by, i.seat)
    if item.by is Owner.BOTH and not mends and not _both(work, item, i.seat):
        return
    if item.kind in _CALLS:
        if state.is_owed or state.status is Status.LAPSED:
            judge.judge_call(work, item, i.seat)
        else:
            judge.judge_early(work, item, i.seat)
    elif right_seat or state.is_owed:
        judge.judge_early(work, item, i.seat)
    judge.judge_order(work, item, i.seat)
    judge.judge_read_do(work, item, i.seat)
    _gates(work, item, i.seat)
    if item.point and not work.state(item.id).pointed:
        work.slip(Slip.UNVERIFIED, item.id, i.seat, "pointed at before it is done", "done without pointing")
    if judge.judge_value(work, item, i.seat, i.value) and mends:
        judge.put_right(work, item, i.seat)
    finish(work, item, i.seat, i.value)


def _mends(work: Work, item: Item, state: ItemState, value: Scalar | None) -> bool:
    """Whether doing an item again puts it right: another value than before, or a state that the aircraft has not.

    While a control is still on its way to what was asked for, asking for the same again is a repetition.
    """
    if item.kind in _CALLS:
        return False
    travelling = state.verify_at is not None and work.now < state.verify_at
    if value is not None and state.value is not None and not judge.matches(value, state.value):
        return True
    if item.moves and value is not None and state.value is None and item.value is not None:
        shown = work.value(item.value)
        return shown is not None and not travelling and not judge.matches(value, shown)
    return not travelling and item.seen is not None and work.truth(item.seen) is False


def finish(work: Work, item: Item, seat: Seat, value: Scalar | None) -> None:
    """Record it, with the time by which a signal should show it."""
    state = work.state(item.id)
    verify_at = None
    if item.seen is not None and item.moves:
        verify_at = work.now + travel_ms(item) + round(work.deck.policy.settle_s * 1000)
    elif item.seen is not None and work.truth(item.seen) is False:
        work.slip(
            Slip.UNVERIFIED,
            item.id,
            seat,
            in_words(work.deck, item.seen),
            "said while the aircraft shows otherwise",
            cure_when=item.seen,
        )
    work.emit(
        ev.ItemDone(
            at=work.now,
            item=item.id,
            seat=seat,
            value=value,
            verify_at=verify_at,
            prompted=state.prompted,
            shown=work.shown(item, value),
        )
    )
    work.answered(item.id, seat)
    if item.tells is not None:
        tell(work, item.tells, True, seat)
    if item.kind is ItemKind.CALL and item.partner is not None:
        if work.state(item.partner).status is not Status.WAITING:
            work.emit(ev.ItemReopened(at=work.now, item=item.partner, because="called again"))
        work.emit(ev.ItemOpened(at=work.now, item=item.partner))


def _both(work: Work, item: Item, seat: Seat) -> bool:
    """Whether both have now done it; the first of the two is noted."""
    partly = work.state(item.id).partly
    if seat in partly:
        work.slip(Slip.REPEATED, item.id, seat, "once by each pilot", "done twice by the same pilot")
        return False
    if partly:
        return True
    work.emit(ev.ItemPartly(at=work.now, item=item.id, seat=seat))
    return False


def _gates(work: Work, item: Item, seat: Seat) -> None:
    """An item that a failed ground gate forbids for now."""
    for gate in work.program.gates_of[work.session.phase]:
        state: GateState | None = work.session.gates.get(gate.id)
        if state is not None and state.status == "failed" and item.id in gate.stops:
            work.emit(ev.GateOverrun(at=work.now, gate=gate.id))
            work.slip(
                Slip.CONTINUED_PAST_GATE,
                gate.id,
                seat,
                f"no {work.title(item.id)} until: {', '.join(state.failing)}",
                "done all the same",
                reason=gate.why,
            )


def point(work: Work, i: inp.Point) -> None:
    if i.item not in work.deck.items:
        work.refuse(i.item, "this deck has no such item", i.seat)
    elif work.state(i.item).pointed:
        work.refuse(i.item, "already pointed at", i.seat)
    else:
        work.emit(ev.ItemPointed(at=work.now, item=i.item, seat=i.seat))


def defer(work: Work, i: inp.Defer) -> None:
    """No deferral without a cue: an intention does not come back to mind by itself."""
    item = work.deck.items.get(i.item)
    if item is None or item.kind in (*_CALLS, ItemKind.LINE):
        work.refuse(i.item, "only an item of a flow can be deferred", i.seat)
        return
    if work.state(item.id).is_done:
        work.refuse(i.item, "it is already done", i.seat)
        return
    cue = i.cue if i.cue is not None or i.in_s is not None else item.cue
    if cue is None and i.in_s is None:
        work.refuse(i.item, "a deferral needs the event, place or time at which it comes back", i.seat)
        return
    if cue is not None and cue not in work.deck.cues:
        work.refuse(i.item, f"this deck has no cue '{cue}'", i.seat)
        return
    judge.judge_seat(work, item.id, item.by, i.seat)
    back_at = None if i.in_s is None else work.now + round(i.in_s * 1000)
    work.emit(ev.ItemDeferred(at=work.now, item=item.id, seat=i.seat, cue=cue, back_at=back_at))


def undo(work: Work, i: inp.Undo) -> None:
    """This seat's last reversible act of the phase. What rested on it is opened again."""
    mine = [u for u in work.session.undo if u.seat is i.seat]
    if not mine:
        work.refuse("undo", "nothing of this seat can be taken back in this phase", i.seat)
        return
    last = mine[-1]
    if not _stands_as_left(work, last):
        work.refuse("undo", f"{work.title(last.ref)} has gone on since; it cannot be taken back", i.seat)
        return
    line = last.items_before[0][0] if last.items_before else last.ref
    work.emit(ev.Undone(at=work.now, seat=i.seat, what=last.what, ref=last.ref))
    if last.what == "tick":
        _reopen_dependants(work, last.ref)
        _withdraw_answer(work, last.ref)
    for deviation in work.session.deviations:
        of_it = deviation.item in (last.ref, line) and deviation.seat in (i.seat, None)
        if of_it and deviation.is_open and deviation.at >= last.at:
            work.trap(deviation, i.seat, undone=True)


def _stands_as_left(work: Work, last: Undoable) -> bool:
    """Whether nothing but proof has come since: what others did on top of an act is not taken back with it."""

    def core(state: ItemState) -> tuple[object, ...]:
        return (state.status, state.seat, state.partly, state.times, state.done_at, state.pointed)

    items = all(core(work.session.item(ref)) == core(after) for ref, after in last.items_after)
    lists = all(
        (now := work.session.list(ref)).status is after.status
        and (now.answered, now.held_at) == (after.answered, after.held_at)
        for ref, after in last.lists_after
    )
    return items and lists


def _withdraw_answer(work: Work, ref: str) -> None:
    """A call that was taken back asks for no answer, whichever of the two was taken back first."""
    item = work.deck.items[ref]
    if item.kind not in _CALLS or item.partner is None:
        return
    call, reply = (ref, item.partner) if item.kind is ItemKind.CALL else (item.partner, ref)
    if call not in work.session.done and work.state(reply).is_owed:
        work.emit(ev.ItemWithdrawn(at=work.now, item=reply))


def _reopen_dependants(work: Work, ref: str) -> None:
    for line in work.program.verified_by.get(ref, ()):
        if work.state(line.id).is_done:
            work.emit(ev.ItemReopened(at=work.now, item=line.id, because=f"{work.title(ref)} was taken back"))
    for dependant in work.program.hard_after.get(ref, ()):
        state = work.state(dependant)
        if state.is_done and state.seat is not None:
            work.emit(ev.ItemReopened(at=work.now, item=dependant, because=f"{work.title(ref)} was taken back"))


def tell(work: Work, fact: str, value: bool, seat: Seat | None) -> None:
    """Record a fact and void the ticks that rest on its being otherwise."""
    if work.session.facts.get(fact) is value:
        return
    work.emit(ev.FactTold(at=work.now, fact=fact, value=value, seat=seat))
    if not value:
        return
    title = work.deck.facts[fact].title
    for item in work.deck.items.values():
        if fact in item.reopened_by:
            reopen(work, item, title)


def reopen(work: Work, item: Item, because: str) -> None:
    """Void the tick of an item that is done, and the answers to the lines that verify it."""
    if work.state(item.id).status is not Status.DONE:
        return
    work.emit(ev.ItemReopened(at=work.now, item=item.id, because=because))
    for line in work.program.verified_by.get(item.id, ()):
        if work.state(line.id).is_done:
            work.emit(ev.ItemReopened(at=work.now, item=line.id, because=because))
