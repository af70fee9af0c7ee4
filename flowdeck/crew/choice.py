"""What a pilot does next: the first thing owed that a competent one would do now, with the slips planted on it."""

from flowdeck.crew.manner import Manner, Memory, hurried
from flowdeck.engine.owed import Duty, Owed, owed
from flowdeck.engine.program import program
from flowdeck.model.deck import Deck, Item, ItemKind
from flowdeck.model.scenario import Planted
from flowdeck.model.seats import Seat
from flowdeck.model.session import Session, Status

PATIENCE_MS = 60_000
"""How long a line waits for its proof before it is answered all the same."""
BLIND_MS = 6_000
"""The same where the pilot believes that what is verified was done."""
PLAYED_PATIENCE_MS = 12_000
"""How long a played pilot waits for what the other one should have done before it reads or calls a list."""
_BELIEVED = frozenset(
    {"omit", "no_call", "no_completion", "unread", "hold", "delay", "read_first", "defer", "swap", "leave_held"}
)
"""Slips whose maker believes the thing done, and goes on."""
_URGENT = (Duty.REPLY, Duty.TAKE_CONTROL, Duty.CONFIRM_CONTROL, Duty.ANSWER_CALL, Duty.SAY)


def choose(deck: Deck, manner: Manner, session: Session, memory: Memory, seat: Seat, now: int) -> Owed | None:
    """The duty that *seat* does at *now* (ms), None for none."""
    mine = [duty for duty in owed(deck, session) if duty.seat is seat]
    load = sum(1 for duty in mine if duty.ready)
    for duty in mine:
        if manner.urgent_only and duty.duty not in _URGENT:
            continue
        if _may(deck, manner, session, memory, duty, now, load):
            return duty
    return None


def _may(deck: Deck, manner: Manner, session: Session, memory: Memory, duty: Owed, now: int, load: int) -> bool:
    """Whether a competent pilot of that pace would do this now, with the slips that were planted on it."""
    if duty.duty is Duty.GO_AROUND:  # made by `slips`, a moment after the gate
        return False
    if withheld(deck, manner.planted, session, memory, duty, now) or _wrong_time(deck, session, duty):
        return False
    pace = manner.pace_of(duty, load)
    if _waits(manner, duty, now):
        return False
    if duty.duty is Duty.ANSWER:
        return _ready_to_answer(deck, manner, session, duty, now, pace)
    return now - duty.since >= manner.think_ms(duty) * pace


def _waits(manner: Manner, duty: Owed, now: int) -> bool:
    """Whether something must come first. What the pilot forgot is believed done.

    A script waits for the other seat for ever; a played pilot waits for a time, and then reads or calls the list.
    """
    forgotten = {p.ref for p in manner.planted if p.kind in _BELIEVED}
    if any(ref not in forgotten for ref in duty.waits_for):
        return True
    if manner.is_alone and duty.duty in (Duty.READ, Duty.CALL_LIST) and now - duty.since >= PLAYED_PATIENCE_MS:
        return False
    return any(ref not in forgotten for ref in duty.panel_first)


def _wrong_time(deck: Deck, session: Session, duty: Owed) -> bool:
    """A list is not read on where it may not be read, near a runway for one."""
    if duty.duty not in (Duty.READ, Duty.RESUME):
        return False
    forbidden = deck.checklists[duty.checklist].not_while
    return forbidden is not None and session.truths[forbidden] is True


def _ready_to_answer(deck: Deck, manner: Manner, session: Session, duty: Owed, now: int, pace: float) -> bool:
    line = deck.items[duty.ref]
    waited = now - duty.since
    if hurried(manner.planted, duty):
        return waited >= 100
    if waited < 1200 * pace:
        return False
    work_done = all(
        ref in session.done or session.item(ref).status in (Status.WAITING, Status.DEFERRED, Status.LAPSED)
        for ref in line.verifies
    )
    shown = line.seen is None or session.truths[line.seen] is not False
    believed = any(p.ref in (duty.ref, *line.verifies) for p in manner.planted)
    return (work_done and shown) or waited >= (BLIND_MS if believed else PATIENCE_MS)


def _list_of(deck: Deck, ref: str) -> str:
    """The id of the list that *ref* names or is a line of, empty if neither."""
    if ref in deck.checklists:
        return ref
    checklist = program(deck).list_of_line.get(ref)
    return checklist.id if checklist is not None else ""


def withheld(deck: Deck, planted: tuple[Planted, ...], session: Session, memory: Memory, duty: Owed, now: int) -> bool:
    """Whether a planted slip keeps the pilot from *duty* at *now* (ms)."""
    for p in planted:
        held_here = p.kind == "hold" and _list_of(deck, p.ref) == duty.checklist
        if not held_here and p.ref not in (duty.ref, duty.checklist):
            continue
        match p.kind:
            case "omit":
                if p.ref == duty.ref:
                    return True
            case "no_call":
                if duty.duty is Duty.CALL_LIST:
                    return True
            case "no_completion":
                if duty.duty is Duty.COMPLETE and (p.by_s == 0 or now - duty.since < p.by_s * 1000):
                    return True
            case "delay" | "linger":
                begun = duty.duty not in (Duty.HOLD, Duty.RESUME, Duty.COMPLETE)
                if p.ref == duty.ref and begun and now - duty.since < p.by_s * 1000:
                    return True
            case "swap":
                if p.ref == duty.ref and _before_its_follower(deck, session, p, duty, now):
                    return True
            case "skip":
                if duty.duty is Duty.READ and p.ref == duty.ref and session.item(duty.ref).skipped:
                    return True
            case "read_first":
                if duty.duty is Duty.DO and not _line_read(deck, session, duty.ref):
                    return True
            case "defer":
                if p.ref == duty.ref and (p.lost or session.item(duty.ref).cue_late_at is None):
                    return True
            case "hold":
                if duty.duty is Duty.RESUME and not memory.released(p, now):
                    return True
            case "leave_held":
                if duty.duty is Duty.RESUME:
                    return True
            case _:
                pass
    return False


def followers(deck: Deck, ref: str) -> tuple[Item, ...]:
    """Items of flows that should come after *ref* and are owed by the same pilot."""
    item = deck.items[ref]
    return tuple(
        other
        for other in deck.items.values()
        if other.kind is ItemKind.ACTION and other.by is item.by and any(edge.before == ref for edge in other.after)
    )


def _before_its_follower(deck: Deck, session: Session, p: Planted, duty: Owed, now: int) -> bool:
    """Whether what should follow is still to be done; after *by_s* seconds (0: for ever) it is waited for no longer."""
    if p.by_s > 0 and now - duty.since >= p.by_s * 1000:
        return False
    after = followers(deck, duty.ref)
    return bool(after) and not any(item.id in session.done for item in after)


def _line_read(deck: Deck, session: Session, ref: str) -> bool:
    lines = program(deck).verified_by.get(ref, ())
    return any(session.item(line.id).read_at is not None for line in lines)
