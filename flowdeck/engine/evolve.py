"""Facts to state: the fold of events into a Session.

The law: `evolve` reads nothing but its two arguments. It holds no rule of the trade and asks no
deck; whatever had to be judged was judged by `decide` and stands in the event.
"""

from collections.abc import Iterable
from typing import assert_never

from msgspec.structs import replace

from flowdeck.engine.evolve_items import evolve_item
from flowdeck.engine.evolve_lists import evolve_list
from flowdeck.model import events as ev
from flowdeck.model.deviation import Deviation
from flowdeck.model.session import (
    GateState,
    Interruption,
    ListState,
    ListStatus,
    OpenChallenge,
    Revision,
    Session,
    Status,
)

MOST_REMARKS = 60
"""Words from outside that a session keeps."""


def fold(session: Session, events: Iterable[ev.Event]) -> Session:
    """The session after *events*."""
    for event in events:
        session = evolve(session, event)
    return session


def evolve(session: Session, event: ev.Event) -> Session:
    """The session after one event. Times in the event are ms of session time."""
    session = replace(session, seq=session.seq + 1, at=event.at)
    match event:
        case (
            ev.ItemOpened()
            | ev.ItemFound()
            | ev.ItemPointed()
            | ev.ItemPartly()
            | ev.ItemDone()
            | ev.ItemSeen()
            | ev.ItemUnproved()
            | ev.ItemReopened()
            | ev.ItemLapsed()
            | ev.ItemWithdrawn()
            | ev.ItemMissed()
            | ev.ItemOverdue()
            | ev.ItemDeferred()
            | ev.CueCame()
        ):
            return evolve_item(session, event)
        case (
            ev.ListOpened()
            | ev.ListCalled()
            | ev.ListOverdue()
            | ev.LineRead()
            | ev.LineAnswered()
            | ev.AnswerNotTaken()
            | ev.LineSkipped()
            | ev.ListHeld()
            | ev.ListResumed()
            | ev.ListClosed()
            | ev.ListCompleted()
            | ev.ListLapsed()
            | ev.ListWithdrawn()
        ):
            return evolve_list(session, event)
        case (
            ev.GatePassed()
            | ev.GateFailed()
            | ev.GateMended()
            | ev.GateOverrun()
            | ev.DeviationRaised()
            | ev.DeviationTrapped()
            | ev.Prompted()
        ):
            return _judged(session, event)
        case (
            ev.ControlOffered()
            | ev.ControlTaken()
            | ev.ControlConfirmed()
            | ev.Challenged()
            | ev.Replied()
            | ev.ReplyMissed()
            | ev.Undone()
            | ev.Refused()
        ):
            return _crewed(session, event)
        case _:
            return _flown(session, event)


def _judged(session: Session, event: ev.JudgeEvent) -> Session:
    match event:
        case ev.GatePassed():
            gates = {**session.gates, event.gate: GateState(status="passed", at=event.at)}
            return replace(
                session,
                gates=gates,
                done=session.done | {event.gate},
                times={**session.times, event.gate: event.at},
                deviations=_closed(session.deviations),
            )
        case ev.GateFailed():
            state = GateState(status="failed", at=event.at, failing=event.failing, decide_at=event.decide_at)
            gates = {**session.gates, event.gate: state}
            return replace(session, gates=gates, deviations=_closed(session.deviations))
        case ev.GateMended():
            return _gate(session, event.gate, "mended")
        case ev.GateOverrun():
            return _gate(session, event.gate, "overrun")
        case ev.DeviationRaised():
            raised = Deviation(
                number=event.number,
                slip=event.slip,
                severity=event.severity,
                item=event.item,
                at=event.at,
                expected=event.expected,
                actual=event.actual,
                seat=event.seat,
                reason=event.reason,
                phase=session.phase,
                cures=event.cures,
                cure_when=event.cure_when,
            )
            kept = tuple(
                replace(d, superseded_by=event.number) if d.number == event.supersedes else d
                for d in session.deviations
            )
            return replace(session, deviations=(*kept, raised))
        case ev.DeviationTrapped():
            trapped = tuple(
                replace(d, trapped_by=event.by, trapped_at=event.at) if d.number == event.number else d
                for d in session.deviations
            )
            return replace(session, deviations=trapped)
        case ev.Prompted():
            if event.ref in session.lists:
                state_ = replace(session.lists[event.ref], prompted=True)
                return replace(session, lists={**session.lists, event.ref: state_})
            item = replace(session.item(event.ref), prompted=True)
            return replace(session, items={**session.items, event.ref: item})
        case _:
            assert_never(event)


def _closed(deviations: tuple[Deviation, ...]) -> tuple[Deviation, ...]:
    """A gate has come: what was not trapped before it stays untrapped."""
    return tuple(replace(d, closed=True) if d.is_open else d for d in deviations)


def _gate(session: Session, gate: str, status: str) -> Session:
    state = replace(session.gates[gate], status=status, decide_at=None)
    return replace(session, gates={**session.gates, gate: state})


def _crewed(session: Session, event: ev.CrewEvent) -> Session:
    match event:
        case ev.ControlOffered():
            return replace(session, offered=event.seat, taken=False, control_at=event.at)
        case ev.ControlTaken():
            return replace(session, taken=True, control_at=event.at)
        case ev.ControlConfirmed():
            return replace(session, flying=event.flying, offered=None, taken=False, takeover=None)
        case ev.Challenged():
            open_ = OpenChallenge(at=event.at, seat=event.seat, about=event.about, reply_by=event.reply_by)
            challenged = {**session.challenged, event.about: (event.seat, event.at)}
            return replace(session, challenge=open_, challenged=challenged)
        case ev.Replied():
            own = {about for about, (seat, _) in session.challenged.items() if seat is event.seat}
            counts = {about: n for about, n in session.challenges.items() if about in own}  # these stay unanswered
            takeover = session.takeover if session.takeover is event.seat else None
            return replace(session, challenge=None, challenges=counts, takeover=takeover)
        case ev.ReplyMissed():
            counts = {**session.challenges, event.about: event.count}
            takeover = event.seat if event.count >= 2 and event.seat is not session.flying else session.takeover
            return replace(session, challenge=None, challenges=counts, takeover=takeover)
        case ev.Undone():
            return _undone(session, event)
        case ev.Refused():
            return session
        case _:
            assert_never(event)


def _undone(session: Session, event: ev.Undone) -> Session:
    mine = [u for u in session.undo if u.seat is event.seat and u.what == event.what and u.ref == event.ref]
    if not mine:
        return session
    last = mine[-1]
    items, lists = dict(session.items), dict(session.lists)
    done, times = set(session.done), dict(session.times)
    for ref, before in last.items_before:
        was_watched = before.opened_at is not None or before.status is Status.DEFERRED
        opened_at = event.at if was_watched else None  # proof counts from now on
        items[ref] = replace(before, opened_at=opened_at)
        _stand(ref, before.status is Status.DONE, done, times)
    for ref, list_before in last.lists_before:
        now = session.list(ref)
        lists[ref] = replace(
            list_before,
            overdue_call=list_before.overdue_call or now.overdue_call,
            overdue_completion=list_before.overdue_completion or now.overdue_completion,
        )
        _stand(ref, list_before.status is ListStatus.COMPLETE, done, times)
    kept = list(session.undo)
    kept.remove(last)
    return replace(session, items=items, lists=lists, done=frozenset(done), times=times, undo=tuple(kept))


def _stand(ref: str, is_done: bool, done: set[str], times: dict[str, int]) -> None:
    if is_done:
        done.add(ref)
        return
    done.discard(ref)
    times.pop(ref, None)


def _flown(session: Session, event: ev.FlightEvent) -> Session:
    match event:
        case ev.FlightStarted():
            return replace(
                session,
                phase=event.phase,
                phase_at=event.at,
                flying=event.flying,
                solo=event.solo,
                sealed=event.sealed,
                facts=dict(event.facts),
                facts_at_start=dict(event.facts),
                truths=(None,) * event.truths,
                truth_at=(event.at,) * event.truths,
                known=(None,) * event.truths,
                visited=((event.phase, event.at),),
                times={event.phase: event.at},
            )
        case ev.PhaseEntered():
            return replace(
                session,
                phase=event.phase,
                phase_at=event.at,
                how=event.how,
                approach=session.approach + (1 if event.airborne_again else 0),
                visited=(*session.visited, (event.phase, event.at)),
                times={**session.times, event.phase: event.at},
                undo=(),
            )
        case ev.FlightEnded():
            return replace(session, ended=event.end, deviations=_closed(session.deviations))
        case ev.TruthsChanged():
            return _truths(session, event)
        case ev.MarkPassed():
            return replace(session, times={**session.times, event.mark: event.at})
        case ev.Reset():
            return _reset(session, event)
        case ev.FactTold():
            return replace(session, facts={**session.facts, event.fact: event.value})
        case ev.Interrupted():
            interruption = Interruption(words=event.words, until=event.until, safety=event.safety)
            return replace(session, interruption=interruption, remarks=_remarked(session, event.words, event.at))
        case ev.Heard():
            return replace(session, heard=(event.words, event.at), remarks=_remarked(session, event.words, event.at))
        case ev.PlanRevised():
            revision = Revision(at=event.at, because=event.because, changes=event.changes)
            return replace(session, revision=revision)
        case ev.Paused():
            return replace(session, paused=True)
        case ev.Unpaused():
            return replace(session, paused=False)
        case ev.PaceSet():
            return replace(session, pace=event.pace)
        case ev.AidSet():
            return replace(session, aid=event.aid, withhold=event.withhold)
        case ev.Trace() | ev.ScriptMoved() | ev.Checkpoint() | ev.Noted():
            return session
        case ev.PilotPlayed() | ev.ScriptHeld() | ev.LapseMade() | ev.InputTaken():
            return session
        case _:
            assert_never(event)


def _remarked(session: Session, words: str, at: int) -> tuple[tuple[int, str], ...]:
    return (*session.remarks, (at, words))[-MOST_REMARKS:]


def _truths(session: Session, event: ev.TruthsChanged) -> Session:
    truths, since, known = list(session.truths), list(session.truth_at), list(session.known)
    for numbers, value in ((event.true, True), (event.false, False), (event.unknown, None)):
        for number in numbers:
            truths[number] = value
            since[number] = event.at
            if value is not None:
                known[number] = value
    return replace(session, truths=tuple(truths), truth_at=tuple(since), known=tuple(known))


def _reset(session: Session, event: ev.Reset) -> Session:
    gone = {*event.items, *event.lists, *event.gates, *event.marks}
    return replace(
        session,
        items={ref: state for ref, state in session.items.items() if ref not in gone},
        lists={ref: state if ref not in gone else ListState() for ref, state in session.lists.items()},
        gates={ref: state for ref, state in session.gates.items() if ref not in gone},
        done=session.done - gone,
        times={ref: at for ref, at in session.times.items() if ref not in gone},
        challenged={ref: by for ref, by in session.challenged.items() if ref not in gone},
    )
