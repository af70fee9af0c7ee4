"""When time alone will matter next, so that a quiet sample costs one look and one comparison."""

from collections.abc import Mapping
from functools import lru_cache

from flowdeck.engine.program import Program
from flowdeck.model.deck import Limit
from flowdeck.model.session import ListStatus, Session, Status

NEVER = 2**62


def limit_at(limit: Limit | None, opened_at: int | None, times: Mapping[str, int]) -> int | None:
    """When a limit of time falls (ms), None for one by condition or not started yet. *times*: when things happened."""
    if limit is None or limit.after_s is None:
        return None
    base = times.get(limit.start) if limit.start is not None else opened_at
    return None if base is None else base + round(limit.after_s * 1000)


@lru_cache(maxsize=4)
def alarm(program: Program, session: Session) -> int:
    """The next moment (ms) at which a limit of time falls; `NEVER` if none. Sessions go by identity."""
    deck = program.deck

    def at(limit: Limit | None, opened_at: int | None) -> int:
        falls = limit_at(limit, opened_at, session.times)
        return NEVER if falls is None else falls

    soonest = NEVER
    for ref, state in session.items.items():
        if state.verify_at is not None:
            soonest = min(soonest, state.verify_at)
        if state.back_at is not None and state.status is Status.DEFERRED:
            soonest = min(soonest, state.back_at)
        if not state.is_owed:
            continue
        item = deck.items[ref]
        if state.cue_late_at is not None:
            soonest = min(soonest, state.cue_late_at if not state.overdue else NEVER)
            continue
        if session.phase not in item.phases:
            continue  # nothing looks at it before its phase comes again
        if not state.prompted:
            soonest = min(soonest, at(item.due, state.opened_at))
        if not state.overdue:
            soonest = min(soonest, at(item.late, state.opened_at))
        soonest = min(soonest, at(item.missed, state.opened_at))
    for ref, list_ in session.lists.items():
        checklist = deck.checklists[ref]
        if list_.status is ListStatus.OPEN and checklist.phase == session.phase:
            if not list_.prompted:
                soonest = min(soonest, at(checklist.due, list_.opened_at))
            if not list_.overdue_call:
                soonest = min(soonest, at(checklist.late, list_.opened_at))
        elif list_.is_running and not list_.overdue_completion:
            soonest = min(soonest, at(checklist.complete_by, list_.opened_at))
            if list_.all_closed_at is not None:
                soonest = min(soonest, list_.all_closed_at + round(deck.policy.completion_s * 1000))
    for gate in session.gates.values():
        if gate.status == "failed" and gate.decide_at is not None:
            soonest = min(soonest, gate.decide_at)
    if session.challenge is not None:
        soonest = min(soonest, session.challenge.reply_by)
    return soonest
