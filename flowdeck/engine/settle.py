"""What follows from what is: after each input the session is settled until nothing more follows.

One round: look at every condition; marks; the phase; items; lists; gates; deadlines; trapping. A
round that adds no event ends it. Deferred and lapsed things of earlier phases are watched too.
"""

from flowdeck.engine import flight
from flowdeck.engine.lists import hold_before, next_line
from flowdeck.engine.windows import settle_deferred, settle_items, settle_stragglers
from flowdeck.engine.work import Work
from flowdeck.model import events as ev
from flowdeck.model.deck import Checklist, Gate
from flowdeck.model.deviation import Deviation, Slip
from flowdeck.model.diagnostic import Unsettled
from flowdeck.model.session import ListState, ListStatus, Status

_MOST_ROUNDS = 60


def settle(work: Work) -> None:
    """Emit all that follows. Raises `Unsettled` for a deck that never comes to rest."""
    for _ in range(_MOST_ROUNDS):
        before = len(work.events)
        _look(work)
        if work.session.ended:
            return
        _marks(work)
        before_phase = work.session.phase
        _phase(work)
        if work.session.ended:
            return
        if work.session.phase != before_phase:
            continue  # what the new phase voids and forgets is looked at before anything follows from it
        settle_deferred(work)
        settle_items(work)
        settle_stragglers(work)
        _lists(work)
        _gates(work)
        _deadlines(work)
        _traps(work)
        work.rose.clear()
        if len(work.events) == before:
            return
    kinds = sorted({type(event).__name__ for event in work.events[-20:]})
    raise Unsettled(f"the deck does not come to rest at {work.now} ms; it keeps making: {', '.join(kinds)}")


def _look(work: Work) -> None:
    truths = work.program.look(work.session, work.readings, work.now)
    before = work.session.truths
    if truths == before:
        return
    true, false, unknown = [], [], []
    for number, (new, old) in enumerate(zip(truths, before, strict=True)):
        if new is old:
            continue
        if new is True:
            true.append(number)
            if work.session.known[number] is not True and work.session.seq > 1:
                work.rose.add(number)
        elif new is False:
            false.append(number)
        else:
            unknown.append(number)
    work.emit(ev.TruthsChanged(at=work.now, true=tuple(true), false=tuple(false), unknown=tuple(unknown)))


def _marks(work: Work) -> None:
    for mark in work.deck.marks.values():
        if mark.when in work.rose:
            work.emit(ev.MarkPassed(at=work.now, mark=mark.id))


def _phase(work: Work) -> None:
    exits = work.deck.phases[work.session.phase].exits
    if any(work.truth(exit_.when) is True for exit_ in exits):
        to = work.program.machine.where_to(work.session.phase, "advance", work.session.truths)
        if to is not None:
            flight.enter(work, to)


def _lists(work: Work) -> None:
    for checklist in work.program.lists_of[work.session.phase]:
        state = work.session.list(checklist.id)
        match state.status:
            case ListStatus.WAITING:
                if work.truth(checklist.opens) is True and work.owed(checklist.when, checklist.unless):
                    work.emit(ev.ListOpened(at=work.now, checklist=checklist.id))
            case ListStatus.OPEN:
                _watch_open(work, checklist, state)
            case ListStatus.CALLED | ListStatus.HELD | ListStatus.COMPLETE | ListStatus.LAPSED:
                pass
    for ref, state in list(work.session.lists.items()):
        if state.is_running:
            _watch_running(work, work.deck.checklists[ref], state)


def _watch_open(work: Work, checklist: Checklist, state: ListState) -> None:
    if not work.owed(checklist.when, checklist.unless):
        work.emit(ev.ListWithdrawn(at=work.now, checklist=checklist.id))
        return
    if not state.prompted and work.reached(checklist.due, state.opened_at):
        caller = checklist.called_by.seats(work.session.flying)[0]
        work.emit(ev.Prompted(at=work.now, ref=checklist.id, seat=caller.other))
    if not state.overdue_call and work.reached(checklist.late, state.opened_at):
        flight.not_called(work, checklist)


def _watch_running(work: Work, checklist: Checklist, state: ListState) -> None:
    if state.all_closed_at is None and next_line(work, checklist) is None:
        hold = hold_before(work, checklist, None)
        if hold is None or work.truth(hold.until) is True:
            work.emit(ev.ListClosed(at=work.now, checklist=checklist.id))
    if state.overdue_completion:
        return
    limit = round(work.deck.policy.completion_s * 1000)
    silent = state.all_closed_at is not None and work.now >= state.all_closed_at + limit
    if silent or work.reached(checklist.complete_by, state.opened_at):
        flight.no_completion(work, checklist)


def _gates(work: Work) -> None:
    for gate in work.program.gates_of[work.session.phase]:
        state = work.session.gates.get(gate.id)
        if state is None:
            if gate.at in work.rose and work.truth(gate.at) is True and work.owed(gate.when, gate.unless):
                _judge_gate(work, gate)
        elif state.status == "failed" and gate.orders == "stop" and not _failing(work, gate):
            work.emit(ev.GateMended(at=work.now, gate=gate.id))
            for deviation in work.session.deviations:
                if deviation.item == gate.id and deviation.is_open:
                    work.trap(deviation)


def _failing(work: Work, gate: Gate) -> tuple[str, ...]:
    """What does not hold. Unknown is named too, since unknown satisfies nothing."""
    words = [m.words for m in gate.must if work.truth(m.that) is False]
    words += [f"{m.words} (not known)" for m in gate.must if work.truth(m.that) is None]
    for ref, state in work.session.items.items():
        item = work.deck.items[ref]
        if state.status is Status.DEFERRED and item.critical and set(item.phases) & set(gate.phases):
            words.append(f"deferred: {work.title(ref)}")
    return tuple(words)


def _judge_gate(work: Work, gate: Gate) -> None:
    failing = _failing(work, gate)
    if not failing:
        work.emit(ev.GatePassed(at=work.now, gate=gate.id))
        return
    decide_at = work.now + round(gate.within_s * 1000) if gate.orders == "go_around" else None
    work.emit(ev.GateFailed(at=work.now, gate=gate.id, failing=failing, decide_at=decide_at))
    asks = "go around" if gate.orders == "go_around" else "stop until it is so"
    work.slip(
        Slip.GATE_FAILED,
        gate.id,
        None,
        f"{gate.title}: all conditions, else {asks}",
        ", ".join(failing),
        reason=gate.why,
    )


def _deadlines(work: Work) -> None:
    now = work.now
    for ref, state in list(work.session.gates.items()):
        if state.status == "failed" and state.decide_at is not None and now >= state.decide_at:
            gate = work.deck.gates[ref]
            work.emit(ev.GateOverrun(at=now, gate=ref))
            work.slip(
                Slip.CONTINUED_PAST_GATE,
                ref,
                work.session.flying,
                f"a go-around within {gate.within_s:g} s",
                f"continued with: {', '.join(state.failing)}",
                reason=gate.why,
            )
    flight.settle_challenge(work)


def _is_of_an_earlier_time(work: Work, deviation: Deviation) -> bool:
    """Whether its item has opened anew since: a call at the next level-off does not make good the one missed before."""
    item = work.deck.items.get(deviation.item)
    opened_at = work.state(deviation.item).opened_at
    return item is not None and item.again and opened_at is not None and opened_at > deviation.at


def _traps(work: Work) -> None:
    """Slips that what has been done since has put right."""
    for deviation in work.session.deviations:
        if not deviation.is_open or _is_of_an_earlier_time(work, deviation):
            continue
        cured = bool(deviation.cures) and all(ref in work.session.done for ref in deviation.cures)
        if cured or (deviation.cure_when is not None and work.truth(deviation.cure_when) is True):
            seat = work.state(deviation.cures[0]).seat if deviation.cures else None
            work.trap(deviation, seat)
