"""The margin: what slipped, what is due, and what was said from outside, weighty things first."""

from msgspec import Struct
from msgspec.structs import replace

from flowdeck.engine.alarm import limit_at
from flowdeck.model.deck import Deck, Limit
from flowdeck.model.deviation import Deviation, Severity
from flowdeck.model.readings import Readings
from flowdeck.model.seats import Owner
from flowdeck.model.session import ListStatus, Session
from flowdeck.view.sentences import sentence
from flowdeck.view.vantage import BOTH_SEATS, Vantage
from flowdeck.view.words import safe, signals_of, title, value_text

TRAPPED_SHOWN_MS = 20_000
CLOSED_SHOWN_MS = 60_000
REVISED_SHOWN_MS = 180_000
"""How long a slip stays in the margin after it was corrected, or after a gate has closed it (our proposal)."""
_WEIGHTS = ("warning", "caution", "advice", "note")


class Notice(Struct, frozen=True, kw_only=True):
    """One row of the margin. *weight*: note, advice, caution, warning; *times*: how often, *at* the last time (ms).

    *ref*: what a slip is about, so that alike ones are counted; *said*: it comes from outside; *answer*: the action
    that answers it, for screens with keys.
    """

    weight: str
    label: str
    text: str
    reason: str = ""
    at: int = 0
    times: int = 1
    said: bool = False
    ref: str = ""
    answer: str = ""


def margin(
    deck: Deck, session: Session, readings: Readings, now: int, vantage: Vantage = BOTH_SEATS
) -> tuple[tuple[Notice, ...], int]:
    """The notices in their order, and how many more are held back. A prompt is shown to the pilot whom it is for.

    In the sterile period advice is held back and only counted; safety reports never are.
    """
    notices: list[Notice] = []
    held_back = 0
    sterile = deck.sterile is not None and session.truths[deck.sterile] is True and not session.ended
    if not session.withhold:
        for deviation in session.deviations:
            if deviation.superseded_by is not None or _is_over(deviation, now):
                continue
            if sterile and deviation.severity is Severity.ADVICE:
                held_back += 1
                continue
            notices.append(_notice(deck, deviation))
        if session.aid == "guided":
            notices += prompts(deck, session, vantage)
    notices += _standing_notices(deck, session, now, vantage)
    notices += _revision(deck, session, now)
    notices += _lost(deck, session, readings, now)
    return _ordered(notices), held_back


def _ordered(notices: list[Notice]) -> tuple[Notice, ...]:
    """Warnings, then cautions and what was said from outside, advice, notes; newest first. Alike ones are one."""
    alike: dict[tuple[str, str, str], Notice] = {}
    for notice in notices:
        key = (notice.weight, notice.label, notice.ref or notice.text)
        before = alike.get(key)
        times = notice.times if before is None else before.times + 1
        at = notice.at if before is None else max(before.at, notice.at)
        alike[key] = replace(notice, times=times, at=at)
    return tuple(sorted(alike.values(), key=lambda n: (_rank(n), -n.at)))


def _rank(notice: Notice) -> int:
    return min(_WEIGHTS.index(notice.weight), 1 if notice.said else len(_WEIGHTS))


def _is_over(deviation: Deviation, now: int) -> bool:
    """Whether a slip has left the margin: corrected a while ago, or past a gate and past its phase. `b` keeps it."""
    if deviation.trapped_at is not None:
        return now - deviation.trapped_at > TRAPPED_SHOWN_MS
    return deviation.closed and now - deviation.at > CLOSED_SHOWN_MS


def _notice(deck: Deck, d: Deviation) -> Notice:
    label = d.slip.replace("_", " ")
    if d.trapped_by is not None:
        return Notice(weight="note", label=label, text=f"Put right. {sentence(deck, d)}", at=d.at, ref=d.item)
    return Notice(
        weight=str(d.severity), label=label, text=sentence(deck, d), reason=safe(d.reason), at=d.at, ref=d.item
    )


def prompts(deck: Deck, session: Session, vantage: Vantage = BOTH_SEATS) -> list[Notice]:
    """What is due now, each with the time at which it became so."""
    notices = []
    for ref, state in session.items.items():
        if state.prompted and state.is_owed and not state.overdue:
            item = deck.items[ref]
            seats = item.by.seats(session.flying)
            if item.by is not Owner.BOTH and vantage.is_foreign(seats[0]):
                continue
            text = f"{seats[0].label}: {title(deck, ref)} is due."
            at = _due_at(session, item.due, state.opened_at)
            notices.append(Notice(weight="note", label="due", text=safe(text), at=at))
    for ref, list_ in session.lists.items():
        if list_.prompted and list_.status is ListStatus.OPEN and not list_.overdue_call:
            checklist = deck.checklists[ref]
            other = checklist.called_by.seats(session.flying)[0].other
            if vantage.is_foreign(other):
                continue
            text = f"{other.label}: suggest the {checklist.title}."
            at = _due_at(session, checklist.due, list_.opened_at)
            notices.append(Notice(weight="note", label="due", text=safe(text), at=at))
    return notices


def _due_at(session: Session, limit: Limit | None, opened_at: int | None) -> int:
    """When a limit was reached (ms); the opening where that is not known."""
    opened = opened_at or 0
    if limit is None:
        return opened
    if limit.when is not None:
        return max(opened, session.truth_at[limit.when])
    return limit_at(limit, opened_at, session.times) or opened


def _asked(deck: Deck, about: str) -> str:
    """What a challenge is about, as it is called."""
    known = about in deck.items or about in deck.checklists or about in deck.gates
    return title(deck, about) if known else about


def _standing_notices(deck: Deck, session: Session, now: int, vantage: Vantage) -> list[Notice]:
    notices = []
    open_ = session.challenge
    if open_ is not None and vantage.is_foreign(open_.seat):
        text = f'{open_.seat.label}: "{safe(_asked(deck, open_.about))}?"'
        notices.append(Notice(weight="note", label="asks", text=text, at=open_.at, said=True, answer="reply"))
    if session.interruption is not None and now < session.interruption.until:
        label = "safety" if session.interruption.safety else "call"
        words = safe(session.interruption.words)
        at = max((at for at, said in session.remarks if said == session.interruption.words), default=session.at)
        notices.append(Notice(weight="note", label=label, text=words, at=at, said=True))
    if session.heard is not None and now - session.heard[1] < 90_000:
        words = safe(session.heard[0])
        notices.append(Notice(weight="note", label="heard", text=words, at=session.heard[1], said=True))
    if session.takeover is not None and session.takeover is not session.flying:
        name = session.takeover.label
        text, answer = f"{name}: two challenges unanswered. Say 'I have control' and take over.", "take_over"
        if session.takeover not in vantage.own:
            text = f"{name}: two challenges unanswered. An answer keeps control; silence may lose it."
            answer = "reply" if vantage.own else ""
        at = max((at for _, at in session.challenged.values()), default=session.at)
        notices.append(Notice(weight="warning", label="take over", text=text, at=at, answer=answer))
    return notices


def _revision(deck: Deck, session: Session, now: int) -> list[Notice]:
    """What of the plan has changed, for some minutes: title, before, after."""
    found = session.revision
    if found is None or now - found.at > REVISED_SHOWN_MS:
        return []
    signals = signals_of(deck)
    parts = [
        f"{signals[c.signal].title.lower()} {value_text(c.before, signals[c.signal].unit)} \u2192 "
        f"{value_text(c.after, signals[c.signal].unit)}"
        for c in found.changes
        if c.signal in signals
    ]
    return [Notice(weight="advice", label="plan", text=f"Changed: {', '.join(parts)}.", at=found.at, said=True)]


def _lost(deck: Deck, session: Session, readings: Readings, now: int) -> list[Notice]:
    """The aeroplane has passed the runway in the air: no window is left to open by distance."""
    if readings.values.get("distance_nm") != 0 or readings.values.get("on_ground") is not False:
        return []
    if not deck.phases[session.phase].airborne or session.phase == deck.go_around:
        return []
    text = "The runway is behind: go around."
    return [Notice(weight="note", label="overhead", text=text, at=now, said=True, answer="go_around")]
