"""Windows of items: what opens, what the aircraft already shows, what is due, late or missed."""

from flowdeck.engine import flight, judge
from flowdeck.engine.words import in_words
from flowdeck.engine.work import Work, said, travel_ms
from flowdeck.model import events as ev
from flowdeck.model.deck import Item, ItemKind
from flowdeck.model.deviation import Slip
from flowdeck.model.session import ItemState, Status
from flowdeck.model.signals import SignalKind

_STANDING = (ItemKind.STANDING_ON, ItemKind.STANDING_OFF)
_SPOKEN = (ItemKind.CALL, ItemKind.ANSWER)


def settle_items(work: Work) -> None:
    for item in work.program.items_of[work.session.phase]:
        _settle(work, item, work.state(item.id))


def _settle(work: Work, item: Item, state: ItemState) -> None:
    match state.status:
        case Status.WAITING:
            _wait(work, item)
        case Status.OPEN | Status.PARTLY:
            _watch(work, item, state)
        case Status.DONE:
            if state.evidence != "seen" and state.verify_at is not None and judge.close_seen(work, item):
                work.emit(ev.ItemSeen(at=work.now, item=item.id, shown=work.shown(item)))
            _again(work, item)
            if _no_longer_so(work, item, work.state(item.id)):
                work.emit(ev.ItemReopened(at=work.now, item=item.id, because="it is no longer so"))
                _wait(work, item)
        case Status.LAPSED:
            if _came_true(work, item, state):
                work.emit(ev.ItemSeen(at=work.now, item=item.id, shown=work.shown(item)))
            _again(work, item)
        case Status.DEFERRED:
            if _came_true(work, item, state):
                work.emit(ev.ItemSeen(at=work.now, item=item.id, shown=work.shown(item)))


def _wait(work: Work, item: Item) -> None:
    if item.kind is ItemKind.ANSWER or not work.owes(item):
        return
    is_open = item.opens is None or work.truth(item.opens) is True
    if not is_open:
        if item.early and item.seen is not None and item.seen in work.rose:
            work.slip(
                Slip.EARLY,
                item.id,
                None,
                f"{work.title(item.id)} once its window is open",
                "the aircraft shows it already",
                reason=item.early,
            )
        return
    if item.kind is ItemKind.STANDING_OFF and not _is_on(work, item):
        return
    if judge.close_seen(work, item):
        work.emit(ev.ItemFound(at=work.now, item=item.id, shown=_found(work, item)))
    else:
        work.emit(ev.ItemOpened(at=work.now, item=item.id))


def _found(work: Work, item: Item) -> str:
    """What the aircraft shows of an item that was so already: the number that stands there, not the one on the card."""
    signal = work.program.signals.get(item.moves[0].signal) if len(item.moves) == 1 else None
    value = None if signal is None else work.value(signal.name)
    if signal is None or signal.kind is not SignalKind.NUMBER or value is None or "{" in item.to:
        return work.shown(item)
    return said(value, signal.unit)


def _no_longer_so(work: Work, item: Item, state: ItemState) -> bool:
    """Whether what was done before its time, or out of its order, has been undone since and is owed again.

    Either its window opens only now and the aircraft does not show it, or an item that comes before it in its flow
    was done after it and has moved the control back.
    """
    if not item.moves or item.seen is None or not state.is_done or state.verify_at is not None:
        return False
    if work.truth(item.seen) is not False or not work.owes(item):
        return False
    if item.opens is not None and work.truth(item.opens) is not True:
        return False
    early = state.opened_at is None and item.opens is not None and item.opens in work.rose
    return early or _moved_back(work, item, state.done_at or 0)


def _moved_back(work: Work, item: Item, done_at: int) -> bool:
    group = work.deck.groups.get(item.group)
    before = () if group is None or item.id not in group.items else group.items[: group.items.index(item.id)]
    moved = {move.signal for move in item.moves}
    for ref in before:
        other = work.state(ref)
        same = any(move.signal in moved for move in work.deck.items[ref].moves)
        if same and other.is_done and (other.done_at or 0) > done_at and other.evidence == "seen":
            return True
    return False


def _is_on(work: Work, off: Item) -> bool:
    """Whether there is anything to undo."""
    assert off.partner is not None
    on = work.deck.items[off.partner]
    if on.seen is not None and work.truth(on.seen) is not None:
        return work.truth(on.seen) is True
    return work.state(on.id).is_done


def _watch(work: Work, item: Item, state: ItemState) -> None:
    gone = item.kind in _STANDING and work.truth(item.opens) is False
    if gone or work.truth(item.when) is False or work.truth(item.unless) is True:
        work.emit(ev.ItemWithdrawn(at=work.now, item=item.id))
        return
    if _came_true(work, item, state):
        judge.judge_order(work, item, None)
        judge.judge_read_do(work, item, None)
        work.emit(ev.ItemSeen(at=work.now, item=item.id, shown=work.shown(item)))
        return
    if state.cue_late_at is not None:
        _watch_cue(work, item, state)
        return
    if not state.prompted and work.reached(item.due, state.opened_at):
        for seat in work.seats(item):
            work.emit(ev.Prompted(at=work.now, ref=item.id, seat=seat))
    if not state.overdue and work.reached(item.late, state.opened_at):
        work.emit(ev.ItemOverdue(at=work.now, item=item.id))
        _late(work, item)
    if item.missed is not None and work.reached(item.missed, state.opened_at):
        work.emit(ev.ItemMissed(at=work.now, item=item.id))
        flight.omitted(work, item, Slip.CALL_MISSED)


def _came_true(work: Work, item: Item, state: ItemState) -> bool:
    """Whether the aircraft shows it since the item was opened; what was taken back is not proved by an old reading."""
    if item.seen is None or not judge.close_seen(work, item):
        return False
    return state.opened_at is None or work.session.truth_at[item.seen] > state.opened_at


def _late(work: Work, item: Item) -> None:
    """A late call is judged when it is made; all else at the moment its limit passes."""
    if item.kind in _SPOKEN:
        return
    slip = {ItemKind.STANDING_ON: Slip.STANDING_MISSED, ItemKind.STANDING_OFF: Slip.STANDING_LEFT_ON}
    seats = work.seats(item)
    work.slip(
        slip.get(item.kind, Slip.LATE),
        item.id,
        seats[0] if len(seats) == 1 else None,
        f"{work.title(item.id)} by now",
        "not done yet",
        reason=item.why,
        cures=(item.id,),
    )


def _watch_cue(work: Work, item: Item, state: ItemState) -> None:
    """A deferred item that has come back: prompt, prompt again, and it is lost."""
    assert state.cue_late_at is not None
    if work.now >= state.cue_late_at and not state.overdue:
        work.emit(ev.ItemOverdue(at=work.now, item=item.id))
        work.emit(ev.Prompted(at=work.now, ref=item.id, seat=work.seats(item)[0]))
        flight.deferred_lost(work, item.id)


def _again(work: Work, item: Item) -> None:
    """Recurrent items open anew each time their condition comes true."""
    if item.again and item.opens is not None and item.opens in work.rose and work.owes(item):
        if item.kind is ItemKind.STANDING_OFF and not _is_on(work, item):
            return
        work.emit(ev.ItemReopened(at=work.now, item=item.id, because="again"))
        if item.partner is not None and item.kind is ItemKind.CALL:
            work.emit(ev.ItemReopened(at=work.now, item=item.partner, because="again"))
        _wait(work, item)


def settle_deferred(work: Work) -> None:
    """Deferred items whose cue has come, in whatever phase they belong to."""
    for ref, state in list(work.session.items.items()):
        if state.status is not Status.DEFERRED:
            continue
        by_time = state.back_at is not None and work.now >= state.back_at
        by_cue = state.cue is not None and work.truth(work.deck.cues[state.cue].when) is True
        if by_time or by_cue:
            late_at = work.now + round(work.deck.policy.cue_reply_s * 1000)
            work.emit(ev.CueCame(at=work.now, item=ref, cue=state.cue or "time", late_at=late_at))
            work.emit(ev.Prompted(at=work.now, ref=ref, seat=work.seats(work.deck.items[ref])[0]))


def settle_stragglers(work: Work) -> None:
    """Items of earlier phases: proof that is still due, and deferred ones that came back."""
    here = work.session.phase
    for ref, state in list(work.session.items.items()):
        item = work.deck.items[ref]
        if state.verify_at is not None:
            _prove(work, item, state)
        if here not in item.phases and item.kind is not ItemKind.LINE:
            if state.status is Status.LAPSED and judge.close_seen(work, item):
                work.emit(ev.ItemSeen(at=work.now, item=ref, shown=work.shown(item)))
            elif state.cue_late_at is not None and state.is_owed:
                _watch(work, item, state)


def _prove(work: Work, item: Item, state: ItemState) -> None:
    assert state.verify_at is not None and item.seen is not None
    if work.truth(item.seen) is True:
        if not work.state(item.id).verify_at:
            return
        work.emit(ev.ItemSeen(at=work.now, item=item.id, shown=work.shown(item)))
    elif work.now >= state.verify_at:
        work.emit(ev.ItemUnproved(at=work.now, item=item.id))
        fresh = work.heard_since(item.seen, (state.done_at or 0) + travel_ms(item))
        if fresh and work.truth(item.seen) is False and work.open_slip(item.id, Slip.UNVERIFIED) is None:
            work.slip(
                Slip.UNVERIFIED,
                item.id,
                state.seat,
                in_words(work.deck, item.seen),
                "done on a pilot's word, and the aircraft shows otherwise",
                cure_when=item.seen,
            )
