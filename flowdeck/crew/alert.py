"""When a played pilot speaks up: about what the other one is late with or has got wrong, and lists not called.

Each thing is challenged at most twice. After two challenges without an answer it offers to take over, and does so
if the offer is not answered either. A failed gate is challenged at once, and answered with a go-around in time.
"""

from typing import NamedTuple

from msgspec.structs import replace

from flowdeck.crew.manner import Memory
from flowdeck.engine.owed import Duty, owed
from flowdeck.engine.program import program
from flowdeck.model import inputs as inp
from flowdeck.model.chance import between
from flowdeck.model.deck import Deck, Item, ItemKind
from flowdeck.model.deviation import Slip
from flowdeck.model.seats import Owner, Seat
from flowdeck.model.session import ListStatus, Session

NOTICE_MS = (2500, 6000)
"""Between these the time (ms) is drawn from something being wrong to speaking up, `our proposal`."""
GATE_MS = 1500
"""The same at a failed gate."""
AGAIN_MS = 30_000
"""How long (ms) after an answer it waits before it speaks up about the same thing again."""
OFFER_MS = 5000
"""How long (ms) an offer to take over stands before it is done, `our proposal`."""
GO_AROUND_MS = 1000
"""How long (ms) before the seconds of a failed gate run out it goes around."""
SILENT_MS = 120_000
"""A pilot who has done nothing for so long (ms), and leaves challenges unanswered, is taken to be unwell (ours)."""
SILENCE_MS = 2500
"""How long (ms) the answer to a critical call in the air may be missing: two seconds, and a moment to act."""
SPACE_MS = 20_000
"""How long (ms) it is silent between two remarks that are not urgent, `our proposal`: nobody listens to a stream."""
WAITS_MS = 5000
"""How long (ms) a line waits for what the other pilot should have done before that is spoken about."""
STUCK_MS = 60_000
"""The same of anything else that waits for the other pilot."""
TIMES = 2
_SEEN_WRONG = (
    Slip.UNVERIFIED,
    Slip.OUT_OF_ORDER,
    Slip.EARLY,
    Slip.STANDING_MISSED,
    Slip.STANDING_LEFT_ON,
    Slip.OMITTED,
)


class Spoken(NamedTuple):
    """What is said now, None for nothing, and what is remembered of it."""

    input: inp.Input | None
    memory: Memory


def speak_up(deck: Deck, session: Session, memory: Memory, seat: Seat, seed: int, now: int) -> Spoken:
    """One look at what the other pilot does, at *now* (ms)."""
    wrong = _wrong(deck, session, seat, now)
    noticed = {ref: at for ref, at in memory.noticed.items() if _lasts(deck, session, ref)}
    noticed |= {ref: memory.noticed.get(ref, now) for ref in wrong}
    if session.takeover is seat and _is_grave(deck, session, seat, now):
        noticed["takeover"] = memory.noticed.get("takeover", now)
    memory = replace(memory, noticed=noticed)
    taking = _take_over(deck, session, noticed, seat, now)
    if taking is not None:
        return Spoken(taking, memory)
    going = _go_around(deck, session, seat, now) or _unanswered(deck, session, seat, now)
    if going is not None:
        return Spoken(going, memory)
    if session.challenge is not None:
        return Spoken(None, memory)
    spoke = max((at for _, at in memory.spoken.values()), default=-SPACE_MS)
    for ref in wrong:
        if now < spoke + SPACE_MS and not _is_urgent(deck, session, ref):
            continue
        count, last = memory.spoken.get(ref, (0, 0))
        if count and last < noticed[ref]:
            count = 0  # it was put right, and is wrong anew
        wait = GATE_MS if ref in deck.gates else between(*NOTICE_MS, seed, f"notice/{ref}", noticed[ref])
        since = noticed[ref] + wait if not count else last + (wait if ref in session.challenges else AGAIN_MS)
        if count < TIMES and now >= since:
            memory = replace(memory, spoken={**memory.spoken, ref: (count + 1, now)})
            return Spoken(inp.Challenge(at=now, seat=seat, about=ref), memory)
    return Spoken(None, memory)


def _is_urgent(deck: Deck, session: Session, ref: str) -> bool:
    """What cannot wait for its turn: a gate, something critical, what was said once without an answer."""
    return ref in session.challenges or _endangers(deck, ref)


def _endangers(deck: Deck, ref: str) -> bool:
    return ref in deck.gates or (ref in deck.items and deck.items[ref].critical)


def _take_over(deck: Deck, session: Session, noticed: dict[str, int], seat: Seat, now: int) -> inp.Input | None:
    """Two challenges went unanswered, and the offer to take over as well.

    Only in the air, and only for what endangers the flight: nobody wrests the controls for a list that was not called.
    """
    offered = noticed.get("takeover")
    if offered is None or now < offered + OFFER_MS or session.flying is seat:
        return None
    return inp.TakeOver(at=now, seat=seat) if deck.phases[session.phase].airborne else None


def _lasts(deck: Deck, session: Session, ref: str) -> bool:
    """Whether a thing is still to be done, though there may be nothing to say of it just now."""
    if ref in deck.checklists:
        return session.list(ref).status is ListStatus.OPEN
    return ref in deck.items and session.item(ref).is_owed


def _is_grave(deck: Deck, session: Session, seat: Seat, now: int) -> bool:
    """Whether something that endangers the flight was challenged twice in vain, or the other pilot is silent."""
    missed = [about for about, count in session.challenges.items() if count >= TIMES]
    if any(_endangers(deck, about) for about in missed):
        return True
    return bool(missed) and now - _last_deed(session, seat.other) >= SILENT_MS


def _last_deed(session: Session, seat: Seat) -> int:
    """When *seat* did anything (ms), as far as it still stands."""
    done = (state.done_at for state in session.items.values() if state.seat is seat and state.done_at is not None)
    called = (
        each.called_at for each in session.lists.values() if each.called_by is seat and each.called_at is not None
    )
    return max((*done, *called), default=0)


def _go_around(deck: Deck, session: Session, seat: Seat, now: int) -> inp.Input | None:
    """At a failed gate: the pilot flying soon, the other one when the time runs out and nothing was answered."""
    for ref, state in session.gates.items():
        if state.status != "failed" or state.decide_at is None or deck.gates[ref].orders != "go_around":
            continue
        mine = session.flying is seat
        waited = now >= state.at + 2000 if mine else now >= state.decide_at - GO_AROUND_MS
        answered = ref in session.challenged and session.challenge is None and ref not in session.challenges
        if waited and (mine or not answered):
            return inp.GoAround(at=now, seat=seat)
    return None


def _unanswered(deck: Deck, session: Session, seat: Seat, now: int) -> inp.Input | None:
    """Silence after a critical call in the air, at the minimum above all: the pilot monitoring goes around."""
    if session.flying is seat or program(deck).machine.where_to(session.phase, "go_around", session.truths) is None:
        return None
    for ref, state in session.items.items():
        item = deck.items[ref]
        call = deck.items.get(item.partner or "")
        if item.kind is ItemKind.ANSWER and state.is_owed and call is not None and call.critical:
            if _is_of(item, session, seat.other) and now >= (state.opened_at or now) + SILENCE_MS:
                return inp.GoAround(at=now, seat=seat)
    return None


def _wrong(deck: Deck, session: Session, seat: Seat, now: int) -> list[str]:
    """What can be spoken about now: gates, then what is late or wrong of the other pilot's, then its lists."""
    other = seat.other
    ready = {duty.ref for duty in owed(deck, session) if duty.seat is other and duty.ready}
    found = [
        ref
        for ref, gate in session.gates.items()
        if gate.status == "failed" and gate.decide_at is not None and session.flying is other
    ]
    for ref, item in session.items.items():
        late = item.overdue and item.is_owed and deck.items[ref].kind not in (ItemKind.LINE, ItemKind.CALL)
        if late and ref in ready and (_is_of(deck.items[ref], session, other) or seat in item.partly):
            found.append(ref)
    for slip in session.deviations:
        mendable = bool(slip.cures) or slip.cure_when is not None
        if slip.is_open and slip.seat is other and slip.slip in _SEEN_WRONG and mendable:
            found.append(slip.item)
    for ref, list_ in session.lists.items():
        caller = deck.checklists[ref].called_by.seats(session.flying)[0]
        if list_.status is ListStatus.OPEN and (list_.prompted or list_.overdue_call) and caller is other:
            found.append(ref)
    found += _awaited(deck, session, seat, ready, now)
    return list(dict.fromkeys(found))


def _awaited(deck: Deck, session: Session, seat: Seat, ready: set[str], now: int) -> list[str]:
    """What the other pilot could do (*ready*) and this one waits for: a line soon, anything else after a while."""
    found = []
    for duty in owed(deck, session):
        reading = duty.duty in (Duty.READ, Duty.ANSWER)
        if duty.seat is not seat or now < duty.since + (WAITS_MS if reading else STUCK_MS):
            continue
        if not reading and not duty.overdue and deck.phases[session.phase].airborne:
            continue  # it will come; what is late of it is said anyway
        for ref in (*duty.waits_for, *duty.panel_first):
            item = deck.items.get(ref)
            if item is not None and ref in ready and _is_of(item, session, seat.other):
                found.append(ref)
    return found


def _is_of(item: Item, session: Session, seat: Seat) -> bool:
    return item.by is not Owner.BOTH and item.by.seats(session.flying)[0] is seat
