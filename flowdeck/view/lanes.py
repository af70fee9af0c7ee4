"""The two lanes: what each seat has done, what it does next on the one fixed line, what lies ahead."""

import re
from collections.abc import Sequence
from enum import StrEnum
from functools import lru_cache

from msgspec import Struct

from flowdeck.engine.owed import Duty, Owed, owed
from flowdeck.engine.program import program
from flowdeck.model.deck import PLACEHOLDER, Deck, Item, ItemKind
from flowdeck.model.readings import Readings
from flowdeck.model.seats import Owner, Seat
from flowdeck.model.session import Evidence, ItemState, Session, Status
from flowdeck.view.vantage import BOTH_SEATS, Vantage
from flowdeck.view.words import blank, filled, plain, safe, shown_to, signals_of, title

MOST_ROWS = 100
"""Rows of a lane in either direction; no screen shows more."""
_DISTANCE = re.compile(r"\b(distance_nm|fix_distance_nm) <=? (\d+(?:\.\d+)?)")


class Row(StrEnum):
    """What a row of a lane is; the screen gives each a shape and a weight."""

    WARNING = "warning"
    SEEN = "seen"
    SAID = "said"
    FOUND = "found"
    HALF = "half"
    MISSED = "missed"
    PUT_OFF = "put off"
    NEXT = "next"
    OWED = "owed"
    OVERDUE = "overdue"
    BLOCKED = "blocked"
    AHEAD = "ahead"


class LaneRow(Struct, frozen=True, kw_only=True):
    """*text* and *value* are the action and its state; *note* says how it was proved, or when it opens."""

    ref: str
    kind: Row
    text: str
    value: str = ""
    note: str = ""
    duty: Duty | None = None
    both: bool = False


class Lane(Struct, frozen=True, kw_only=True):
    """*foreign*: somebody else's; of such a lane only what lies behind is shown."""

    seat: Seat
    heading: str
    past: tuple[LaneRow, ...]
    next: LaneRow | None
    ahead: tuple[LaneRow, ...]
    owed: Owed | None
    why: str = ""
    foreign: bool = False


def next_duty(duties: Sequence[Owed], keep: str = "") -> Owed | None:
    """What stands on a seat's line: the most urgent that is ready.

    *keep*: what stood there before; it stays while nothing more urgent than a flow item has come up.
    """
    ready = [d for d in duties if d.ready]
    if not ready:
        return None
    kept = next((d for d in ready if d.ref == keep and d.duty in (Duty.DO, Duty.POINT)), None)
    flow_item = ready[0].duty in (Duty.DO, Duty.POINT) and not ready[0].overdue and not ready[0].standing
    return kept if kept is not None and flow_item else ready[0]


def make_lane(
    deck: Deck,
    session: Session,
    readings: Readings,
    now: int,
    seat: Seat,
    keep: str = "",
    rows: int = MOST_ROWS,
    vantage: Vantage = BOTH_SEATS,
) -> Lane:
    """The lane of one seat at *now* (ms); *keep* as in `next_duty`. At most *rows* rows behind and ahead."""
    role = "flying" if session.flying is seat else "monitoring"
    heading = vantage.heading(seat, role)
    past = tuple(_past(deck, session, readings, now, seat, rows))
    if vantage.is_foreign(seat):
        return Lane(seat=seat, heading=heading, past=past, next=None, ahead=(), owed=None, foreign=True)
    duties = [d for d in owed(deck, session) if d.seat is seat]
    current = next_duty(duties, keep)
    others = [d for d in duties if d is not current][:rows]

    def row(duty: Owed, *, first: bool) -> LaneRow:
        waits = awaited(deck, session, vantage, duty.waits_for[0]) if duty.waits_for else ""
        return _duty_row(deck, readings, now, duty, first=first, flies=session.flying is seat, waits=waits)

    ahead = [row(d, first=False) for d in others]
    return Lane(
        seat=seat,
        heading=heading,
        past=past,
        next=row(current, first=True) if current is not None else None,
        ahead=(*ahead, *_waiting(deck, session, readings, now, seat, rows - len(ahead))),
        owed=current,
        why=_why(deck, current),
    )


def awaited(deck: Deck, session: Session, vantage: Vantage, ref: str) -> str:
    """`after` what a duty comes, or the words of what it waits for; of what somebody else owes no more than that."""
    item = deck.items.get(ref)
    if item is not None and item.by not in (Owner.BOTH, Owner.EITHER) and not session.item(ref).is_done:
        if vantage.is_foreign(item.by.seats(session.flying)[0]):
            return "other pilot first"
    return f"after {title(deck, ref)}" if _is_ref(deck, ref) else safe(ref)


def _why(deck: Deck, duty: Owed | None) -> str:
    if duty is None:
        return ""
    if duty.ref in deck.items:
        return deck.items[duty.ref].why
    if duty.ref in deck.checklists:
        return deck.checklists[duty.ref].why
    return deck.gates[duty.ref].why if duty.ref in deck.gates else ""


_VERBS = {
    Duty.CALL_LIST: "call it",
    Duty.READ: "read",
    Duty.ANSWER: "answer",
    Duty.HOLD: "say: holding",
    Duty.RESUME: "resume",
    Duty.COMPLETE: "say: complete",
    Duty.POINT: "point at it",
}


def _duty_row(deck: Deck, readings: Readings, now: int, duty: Owed, *, first: bool, flies: bool, waits: str) -> LaneRow:
    """*first*: it stands on the fixed line; *flies*: its seat is the flying one; *waits*: for what, in words."""
    if duty.duty is Duty.GO_AROUND:
        return _go_around_row(deck, duty, flies=flies)
    kind = Row.BLOCKED if duty.waits_for else Row.OVERDUE if duty.overdue else Row.NEXT if first else Row.OWED
    text, value = _words(deck, readings, now, duty)
    note = _VERBS.get(duty.duty, "")
    if duty.duty is Duty.RESUME and duty.restart:
        note = "start again from the top"
    if duty.waits_for:
        note = waits
    elif duty.overdue:
        note = "late"
    item = deck.items.get(duty.ref)
    both = item is not None and item.by is Owner.BOTH
    return LaneRow(ref=duty.ref, kind=kind, text=text, value=value, note=note, duty=duty.duty, both=both)


def _go_around_row(deck: Deck, duty: Owed, *, flies: bool) -> LaneRow:
    """The flying pilot flies it, the other one says it."""
    return LaneRow(
        ref=duty.ref,
        kind=Row.WARNING,
        text="Go around" if flies else 'Say: "Go around"',
        value=f"not met: {safe(deck.gates[duty.ref].title)}",
        note="gone past" if duty.passed else "now",
        duty=duty.duty,
    )


def _is_ref(deck: Deck, ref: str) -> bool:
    return ref in deck.items or ref in deck.checklists or ref in deck.gates


def _words(deck: Deck, readings: Readings, now: int, duty: Owed) -> tuple[str, str]:
    match duty.duty:
        case Duty.GO_AROUND:
            return "Go around", ""
        case Duty.REPLY:
            return "Answer the challenge", title(deck, duty.ref)
        case Duty.TAKE_CONTROL:
            return '"I have control"', ""
        case Duty.CONFIRM_CONTROL:
            return '"You have control"', ""
        case Duty.SAY | Duty.ANSWER_CALL:
            return f'"{filled(deck.items[duty.ref].do, deck, readings, now)}"', ""
        case Duty.COMPLETE:
            return f'"{safe(deck.checklists[duty.ref].completion)}"', ""
        case Duty.READ | Duty.ANSWER | Duty.DO | Duty.POINT:
            item = deck.items[duty.ref]
            return safe(item.do), "" if duty.duty is Duty.READ else shown_to(item, deck, readings, now)
        case Duty.HOLD | Duty.RESUME | Duty.CALL_LIST:
            return safe(deck.checklists[duty.ref].title), ""


def _past(deck: Deck, session: Session, readings: Readings, now: int, seat: Seat, rows: int) -> list[LaneRow]:
    """What this seat has behind it in this phase, oldest first: the last *rows* of it."""
    return [
        LaneRow(ref=ref, kind=Row.SAID, text=safe(deck.checklists[ref].title), value="complete")
        if ref in deck.checklists
        else _past_row(deck, readings, now, deck.items[ref], session.items[ref])
        for ref in _behind(deck, session, seat)[-rows:]
    ]


@lru_cache(maxsize=8)
def _behind(deck: Deck, session: Session, seat: Seat) -> tuple[str, ...]:
    """Items and lists that this seat has behind it in this phase, oldest first. Decks and sessions go by identity."""
    dated: list[tuple[int, str]] = []
    for ref, state in session.items.items():
        at = state.done_at if state.done_at is not None else state.opened_at
        if at is None or at < session.phase_at or not _is_past(state, seat):
            continue
        item = deck.items[ref]
        if item.kind is not ItemKind.LINE and _is_of(session, item, state, seat):
            dated.append((at, ref))
    for ref, list_ in session.lists.items():
        if list_.completed_at is not None and list_.completed_at >= session.phase_at:
            if seat in deck.checklists[ref].read_by.seats(session.flying):
                dated.append((list_.completed_at, ref))
    dated.sort(key=lambda pair: pair[0])
    return tuple(ref for _, ref in dated)


def _is_past(state: ItemState, seat: Seat) -> bool:
    over = (Status.DONE, Status.LAPSED, Status.DEFERRED)
    return state.status in over or (state.status is Status.PARTLY and seat in state.partly)


def _is_of(session: Session, item: Item, state: ItemState, seat: Seat) -> bool:
    if state.seat is not None and item.by is not Owner.BOTH:
        return state.seat is seat
    owners = item.by.seats(session.flying)
    return seat in owners if item.by is Owner.BOTH else owners[0] is seat


def _past_row(deck: Deck, readings: Readings, now: int, item: Item, state: ItemState) -> LaneRow:
    """What was said or done as it was then: a value that was keyed stays as it was keyed."""
    spoken = item.kind in (ItemKind.CALL, ItemKind.ANSWER)
    text = f'"{safe(state.shown) or blank(item.do)}"' if spoken else safe(item.do)
    value = "" if spoken else safe(state.shown) or shown_to(item, deck, readings, now)
    both = item.by is Owner.BOTH
    match state.status:
        case Status.LAPSED:
            return LaneRow(ref=item.id, kind=Row.MISSED, text=text, value=value, note="missed", both=both)
        case Status.DEFERRED:
            cue = deck.cues[state.cue].title if state.cue is not None else "a time"
            return LaneRow(ref=item.id, kind=Row.PUT_OFF, text=text, value=value, note=f"until {safe(cue)}", both=both)
        case Status.PARTLY:
            return LaneRow(ref=item.id, kind=Row.HALF, text=text, value="waits for the other pilot", both=both)
        case _:
            evidence = state.evidence or Evidence.SAID
            kind = {Evidence.SEEN: Row.SEEN, Evidence.SAID: Row.SAID, Evidence.FOUND: Row.FOUND}[evidence]
            return LaneRow(ref=item.id, kind=kind, text=text, value=value, both=both)


def _waiting(deck: Deck, session: Session, readings: Readings, now: int, seat: Seat, rows: int) -> list[LaneRow]:
    """What is still to open for this seat in this phase: by distance where it goes by distance, else as in the deck."""
    items = _to_come(deck, session, seat)
    here, fix = readings.values.get("distance_nm"), readings.values.get("fix_distance_nm")
    to_fix = here - fix if isinstance(here, float) and isinstance(fix, float) else None
    places = _places([(item.group, _opens_nm(deck, item.opens, to_fix)) for item in items])
    order = sorted(range(len(items)), key=lambda i: (-places[i], i))
    return [_waiting_row(deck, readings, now, items[i]) for i in order[: max(0, rows)]]


def _waiting_row(deck: Deck, readings: Readings, now: int, item: Item) -> LaneRow:
    text = f'"{blank(item.do)}"' if item.kind is ItemKind.CALL else safe(item.do)
    value = "" if item.kind is ItemKind.CALL else _planned(deck, readings, now, item.to)
    note = plain(deck, item.opens).split(" and ")[0] if item.opens is not None else ""
    return LaneRow(ref=item.id, kind=Row.AHEAD, text=text, value=value, note=note)


@lru_cache(maxsize=8)
def _to_come(deck: Deck, session: Session, seat: Seat) -> tuple[Item, ...]:
    """The items that are still to open for this seat in this phase. Decks and sessions go by identity."""
    return tuple(item for item in program(deck).items_of[session.phase] if _is_ahead(session, item, seat))


def _planned(deck: Deck, readings: Readings, now: int, text: str) -> str:
    """A state to come: figures that were worked out beforehand are known, readings of then are not."""
    names = PLACEHOLDER.findall(text)
    if all(signals_of(deck)[name].planned for name in names):
        return filled(text, deck, readings, now)
    return ""


def _places(rows: Sequence[tuple[str, float | None]]) -> list[float]:
    """Where each row (its group, its own distance) stands (NM).

    By its own distance, else by that of the one before it in its group, else of the next one.
    """
    found: list[float | None] = []
    last: dict[str, float] = {}
    for group, distance in rows:
        if distance is not None:
            last[group] = distance
        found.append(last.get(group))
    last.clear()
    for i in range(len(rows) - 1, -1, -1):
        group, distance = rows[i]
        if distance is not None:
            last[group] = distance
        if found[i] is None:
            found[i] = last.get(group)
    return [distance or 0.0 for distance in found]


def _is_ahead(session: Session, item: Item, seat: Seat) -> bool:
    state = session.items.get(item.id)
    if state is not None and state.status is not Status.WAITING:
        return False
    if item.kind in (ItemKind.ANSWER, ItemKind.STANDING_OFF, ItemKind.STANDING_ON) or item.again:
        return False
    owners = item.by.seats(session.flying)
    if not (seat in owners if item.by is Owner.BOTH else owners[0] is seat):
        return False
    if item.when is not None and session.truths[item.when] is not True:
        return False
    return item.unless is None or session.truths[item.unless] is not True


def _opens_nm(deck: Deck, number: int | None, to_fix: float | None) -> float | None:
    """The distance to the threshold (NM) at which a condition that goes by distance opens; *to_fix*: to the fix."""
    found = None if number is None else _distance(deck.conditions[number].text)
    if found is None or found[0] == "distance_nm":
        return None if found is None else found[1]
    return None if to_fix is None else found[1] + to_fix


@lru_cache(maxsize=20_000)
def _distance(condition: str) -> tuple[str, float] | None:
    """The distance that a condition names, as it is written, and from where it is counted."""
    match = _DISTANCE.search(condition)
    return None if match is None else (match[1], float(match[2]))
