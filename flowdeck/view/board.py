"""The whole screen of a flight as one frozen value: a projection of deck, session, readings and time."""

from collections.abc import Mapping
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from flowdeck.engine.lists import hold_before, line_at, owed_lines, passed_over
from flowdeck.engine.program import program
from flowdeck.engine.work import Work
from flowdeck.model.deck import Checklist, Deck
from flowdeck.model.deviation import Deviation, Severity
from flowdeck.model.readings import Readings
from flowdeck.model.seats import Seat
from flowdeck.model.session import ListStatus, Session
from flowdeck.view.lanes import Lane, make_lane
from flowdeck.view.sentences import sentence
from flowdeck.view.words import clock, plain, safe, short, shown_to, signals_of, title, value_text

TRAPPED_SHOWN_MS = 20_000
CLOSED_SHOWN_MS = 60_000
REVISED_SHOWN_MS = 180_000
"""How long a slip stays in the margin after it was corrected, or after a gate has closed it (our proposal)."""


class Stop(Struct, frozen=True):
    """One phase on the rail."""

    title: str
    state: Literal["past", "now", "ahead"]


class Cell(Struct, frozen=True, kw_only=True):
    """One reading of the strip. *age_s* is set when it is stale; its value is then the last one heard."""

    name: str
    value: str
    trend: str = ""
    age_s: float | None = None


class Line(Struct, frozen=True):
    """*passed*: the reader has passed over it, and it is not answered."""

    challenge: str
    response: str
    by: str
    passed: bool = False


class Pane(Struct, frozen=True, kw_only=True):
    """The list that is being read, over the lane of its reader."""

    checklist: str
    title: str
    reader: Seat
    place: str
    passed: int
    done: Line | None
    now: Line | None
    asked: bool
    after: Line | None
    doing: str


class Tab(Struct, frozen=True):
    """A list on hold, and what it waits for."""

    title: str
    waits: str
    since: str


class Notice(Struct, frozen=True, kw_only=True):
    """One row of the margin. *weight*: note, advice, caution, warning; *times*: how often, *at* the last time (ms)."""

    weight: str
    label: str
    text: str
    reason: str = ""
    at: int = 0
    times: int = 1
    said: bool = False


class Board(Struct, frozen=True, kw_only=True):
    phase: str
    rail: tuple[Stop, ...]
    strip: tuple[Cell, ...]
    lanes: tuple[Lane, Lane]
    spine_past: tuple[str, ...]
    spine_now: str
    spine_ahead: tuple[str, ...]
    pane: Pane | None
    tabs: tuple[Tab, ...]
    margin: tuple[Notice, ...]
    held_back: int
    clock: str
    pace: float
    paused: bool
    ended: str
    aid: str


def make_board(
    deck: Deck,
    session: Session,
    readings: Readings,
    now: int,
    before: Readings | None = None,
    keep: Mapping[Seat, str] | None = None,
) -> Board:
    """The screen at *now* (ms). *before*: readings of some seconds ago, for the trends.

    *keep*: what stood on each seat's line, so that it does not jump under a finger.
    """
    kept = keep or {}
    margin, held_back = _margin(deck, session, readings, now)
    past, ahead = _spine(deck, session)
    phase = deck.phases[session.phase]
    return Board(
        phase=phase.title,
        rail=_rail(deck, session),
        strip=_strip(deck, session, readings, now, before),
        lanes=(
            make_lane(deck, session, readings, now, Seat.CAPTAIN, kept.get(Seat.CAPTAIN, "")),
            make_lane(deck, session, readings, now, Seat.FIRST_OFFICER, kept.get(Seat.FIRST_OFFICER, "")),
        ),
        spine_past=past,
        spine_now=_distance(deck, readings, now),
        spine_ahead=ahead,
        pane=_pane(deck, session, readings, now),
        tabs=_tabs(deck, session, now),
        margin=margin,
        held_back=held_back,
        clock=clock(now),
        pace=session.pace,
        paused=session.paused,
        ended=session.ended,
        aid=session.aid,
    )


def _rail(deck: Deck, session: Session) -> tuple[Stop, ...]:
    """The phases of this flight: those behind, the present one, and those that can still come."""
    visited = {phase for phase, _ in session.visited}
    shown = (visited | _reachable(deck, session.phase)) - {deck.go_around}
    order = [phase for phase in deck.phases if phase in shown]
    if session.phase == deck.go_around:
        left = session.visited[-2][0] if len(session.visited) > 1 else deck.start
        order.insert(order.index(left) + 1, deck.go_around)
    here = order.index(session.phase)
    titles = [
        "Discontinued" if p == deck.go_around and session.how == "discontinued" else deck.phases[p].title for p in order
    ]
    return tuple(Stop(titles[i], _stop_state(i, here, p in visited)) for i, p in enumerate(order))


def _stop_state(index: int, here: int, visited: bool) -> Literal["past", "now", "ahead"]:
    if index == here:
        return "now"
    return "past" if visited and index < here else "ahead"


def _reachable(deck: Deck, phase: str) -> set[str]:
    found: set[str] = set()
    queue = [phase]
    while queue:
        name = queue.pop()
        if name in deck.phases and name not in found:
            found.add(name)
            queue.extend(exit_.to for exit_ in deck.phases[name].exits)
    return found


def _strip(deck: Deck, session: Session, readings: Readings, now: int, before: Readings | None) -> tuple[Cell, ...]:
    cells = []
    for name in deck.phases[session.phase].strip:
        signal = signals_of(deck)[name]
        value = readings.value(signal, now)
        if value is not None:
            cells.append(
                Cell(name=short(signal), value=value_text(value, signal.unit), trend=_trend(name, value, before))
            )
            continue
        age = readings.age_s(name, now)
        shown = value_text(readings.values[name], signal.unit) if age is not None else "?"
        cells.append(Cell(name=short(signal), value=shown, age_s=age))
    return tuple(cells)


def _trend(name: str, value: object, before: Readings | None) -> str:
    if before is None or not name.endswith(("_ft", "_kt")) or not isinstance(value, float):
        return ""
    old = before.values.get(name)
    if not isinstance(old, float) or abs(value - old) < 2:
        return ""
    return "rising" if value > old else "falling"


def _distance(deck: Deck, readings: Readings, now: int) -> str:
    shown = readings.values
    if "distance_nm" not in shown or shown.get("on_ground") is True:
        return ""
    return f"{value_text(shown['distance_nm'], 'nm')} NM"


def _spine(deck: Deck, session: Session) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What has opened things, and the gates that lie ahead in this phase."""
    past: list[tuple[int, str]] = [(at, deck.phases[phase].title) for phase, at in session.visited]
    past += [(at, deck.marks[ref].title) for ref, at in session.times.items() if ref in deck.marks]
    past += [(g.at, f"{deck.gates[ref].title}: {g.status}") for ref, g in session.gates.items()]
    past = sorted((pair for pair in past if pair[1]), key=lambda pair: pair[0])
    ahead = [
        gate.title
        for gate in program(deck).gates_of[session.phase]
        if gate.id not in session.gates and (gate.when is None or session.truths[gate.when] is True)
    ]
    return tuple(text for _, text in past), tuple(ahead)


def _pane(deck: Deck, session: Session, readings: Readings, now: int) -> Pane | None:
    for ref, state in session.lists.items():
        if state.status is ListStatus.CALLED:
            return _pane_of(deck, session, readings, now, deck.checklists[ref])
    return None


def _pane_of(deck: Deck, session: Session, readings: Readings, now: int, checklist: Checklist) -> Pane:
    work = Work(program(deck), session, readings, now)
    lines = owed_lines(work, checklist)
    state = session.list(checklist.id)
    item = line_at(work, checklist)
    passed = passed_over(work, checklist)
    index = len(lines) if item is None else lines.index(item)
    hold = hold_before(work, checklist, item)

    def line(at: int) -> Line | None:
        if not 0 <= at < len(lines):
            return None
        it = lines[at]
        by = " and ".join(seat.label for seat in it.by.seats(session.flying)[: 2 if it.by == "both" else 1])
        return Line(safe(it.do), shown_to(it, deck, readings, now), by, session.item(it.id).skipped)

    asked = item is not None and session.item(item.id).read_at is not None
    if state.reread:
        doing = "resumed: the last line again"
    elif item is None and passed:
        doing = f"passed over: {safe(passed[0].do)}. Read it now, or call the list complete without it"
    elif item is None:
        doing = f'"{safe(checklist.completion)}"'
    elif hold is not None and work.truth(hold.until) is not True:
        doing = f"{safe(hold.title)}: say that it is held"
    else:
        doing = "answer" if asked else "read it"
    return Pane(
        checklist=checklist.id,
        title=safe(checklist.title),
        reader=checklist.read_by.seats(session.flying)[0],
        place=f"{min(index + 1, len(lines))} of {len(lines)}",
        passed=len(passed),
        done=line(index - 1),
        now=line(index),
        asked=asked,
        after=line(index + 1),
        doing=doing,
    )


def _tabs(deck: Deck, session: Session, now: int) -> tuple[Tab, ...]:
    """Held lists, each with what it waits for; one that waits for nothing any more is to be resumed."""
    tabs = []
    for ref, state in session.lists.items():
        if state.status is not ListStatus.HELD:
            continue
        checklist = deck.checklists[ref]
        hold = next((h for h in checklist.holds if h.id == state.hold), None)
        met = hold is None or session.truths[hold.until] is True
        waits = "to be resumed" if met or hold is None else f"waits for {plain(deck, hold.until)}"
        since = f"{(now - (state.held_at or now)) // 1000} s"
        tabs.append(Tab(safe(checklist.title), waits, since))
    return tuple(tabs)


def _margin(deck: Deck, session: Session, readings: Readings, now: int) -> tuple[tuple[Notice, ...], int]:
    """Newest first. In the sterile period advice is held back and only counted; safety reports never are."""
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
            notices += _prompts(deck, session)
    notices += _standing_notices(session, now)
    notices += _revision(deck, session, now)
    notices += _lost(deck, session, readings, now)
    return _ordered(notices), held_back


def _ordered(notices: list[Notice]) -> tuple[Notice, ...]:
    """Warnings first, then cautions and what was said from outside, then all else; newest first. Alike ones are one."""
    alike: dict[tuple[str, str, str], Notice] = {}
    for notice in notices:
        key = (notice.weight, notice.label, notice.text)
        before = alike.get(key)
        times = notice.times if before is None else before.times + 1
        at = notice.at if before is None else max(before.at, notice.at)
        alike[key] = replace(notice, times=times, at=at)
    return tuple(sorted(alike.values(), key=lambda n: (_rank(n), -n.at)))


def _rank(notice: Notice) -> int:
    if notice.weight == "warning":
        return 0
    return 1 if notice.weight == "caution" or notice.said else 2


def _is_over(deviation: Deviation, now: int) -> bool:
    """Whether a slip has left the margin: corrected a while ago, or past a gate and past its phase. `b` keeps it."""
    if deviation.trapped_at is not None:
        return now - deviation.trapped_at > TRAPPED_SHOWN_MS
    return deviation.closed and now - deviation.at > CLOSED_SHOWN_MS


def _notice(deck: Deck, d: Deviation) -> Notice:
    label = d.slip.replace("_", " ")
    if d.trapped_by is not None:
        return Notice(weight="note", label=label, text=f"Put right. {sentence(deck, d)}", at=d.at)
    return Notice(weight=str(d.severity), label=label, text=sentence(deck, d), reason=safe(d.reason), at=d.at)


def _prompts(deck: Deck, session: Session) -> list[Notice]:
    notices = []
    for ref, state in session.items.items():
        if state.prompted and state.is_owed and not state.overdue:
            item = deck.items[ref]
            seat = item.by.seats(session.flying)[0].label
            text = f"{seat}: {title(deck, ref)} is due."
            notices.append(Notice(weight="note", label="due", text=safe(text), at=state.opened_at or 0))
    for ref, list_ in session.lists.items():
        if list_.prompted and list_.status is ListStatus.OPEN and not list_.overdue_call:
            checklist = deck.checklists[ref]
            other = checklist.called_by.seats(session.flying)[0].other.label
            text = f"{other}: suggest the {checklist.title}."
            notices.append(Notice(weight="note", label="due", text=safe(text), at=list_.opened_at or 0))
    return notices


def _standing_notices(session: Session, now: int) -> list[Notice]:
    notices = []
    if session.interruption is not None and now < session.interruption.until:
        label = "safety" if session.interruption.safety else "call"
        words = safe(session.interruption.words)
        notices.append(Notice(weight="note", label=label, text=words, at=session.at + 1, said=True))
    if session.heard is not None and now - session.heard[1] < 90_000:
        words = safe(session.heard[0])
        notices.append(Notice(weight="note", label="heard", text=words, at=session.heard[1], said=True))
    if session.takeover is not None:
        text = f"{session.takeover.label}: two challenges unanswered. Say 'I have control' and take over."
        notices.append(Notice(weight="warning", label="take over", text=text, at=session.at + 2))
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
    return [Notice(weight="note", label="overhead", text="The runway is behind: go around.", at=now, said=True)]
