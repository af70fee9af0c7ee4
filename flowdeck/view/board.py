"""The whole screen of a flight as one frozen value: a projection of deck, session, readings and time."""

from collections.abc import Mapping
from typing import Literal

from msgspec import Struct

from flowdeck.engine.lists import hold_before, line_at, owed_lines, passed_over
from flowdeck.engine.program import program
from flowdeck.engine.work import Work, travel_ms
from flowdeck.model.condition import Scalar
from flowdeck.model.deck import Checklist, Deck, Item
from flowdeck.model.readings import Readings
from flowdeck.model.seats import Seat
from flowdeck.model.session import ListStatus, Session
from flowdeck.view.lanes import Lane, make_lane
from flowdeck.view.margin import Notice, margin
from flowdeck.view.vantage import BOTH_SEATS, Vantage
from flowdeck.view.words import clock, plain, safe, short, shown_to, signals_of, value_text

_GROWN_NM = 0.02
"""By how much a distance has grown when the aeroplane goes away."""


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
    """The list that is being read, over the lane of its reader. *said*: an answer that did not close the line."""

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
    said: str = ""


class Tab(Struct, frozen=True):
    """A list on hold, and what it waits for."""

    title: str
    waits: str
    since: str


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
    vantage: Vantage = BOTH_SEATS,
) -> Board:
    """The screen at *now* (ms). *before*: readings of some seconds ago, for the trends.

    *keep*: what stood on each seat's line, so that it does not jump under a finger. *vantage*: whose eyes look.
    """
    kept = keep or {}
    notices, held_back = margin(deck, session, readings, now, vantage)
    left, right = vantage.order
    past, ahead = _spine(deck, session)
    phase = deck.phases[session.phase]
    return Board(
        phase=phase.title,
        rail=_rail(deck, session),
        strip=_strip(deck, session, readings, now, before),
        lanes=(
            make_lane(deck, session, readings, now, left, kept.get(left, ""), vantage=vantage),
            make_lane(deck, session, readings, now, right, kept.get(right, ""), vantage=vantage),
        ),
        spine_past=past,
        spine_now=_distance(readings, before),
        spine_ahead=ahead,
        pane=_pane(deck, session, readings, now),
        tabs=_tabs(deck, session, now),
        margin=notices,
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
        if _moved_since(deck, session, readings, name, now):
            cells.append(Cell(name=short(signal), value="?"))
            continue
        if value is not None:
            cells.append(
                Cell(name=short(signal), value=value_text(value, signal.unit), trend=_trend(name, value, before))
            )
            continue
        age = readings.age_s(name, now)
        shown = value_text(readings.values[name], signal.unit) if age is not None else "?"
        cells.append(Cell(name=short(signal), value=shown, age_s=age))
    return tuple(cells)


def _moved_since(deck: Deck, session: Session, readings: Readings, name: str, now: int) -> bool:
    """Whether a control has had the time to move since it was last heard: the battery that took its own light away."""
    heard = readings.at.get(name, now)
    if heard >= now:
        return False
    return any(
        state.done_at is not None and state.is_done and heard < state.done_at + travel_ms(deck.items[ref]) <= now
        for ref, state in session.items.items()
        if any(move.signal == name for move in deck.items[ref].moves)
    )


def _trend(name: str, value: object, before: Readings | None) -> str:
    if before is None or not name.endswith(("_ft", "_kt")) or not isinstance(value, float):
        return ""
    old = before.values.get(name)
    if not isinstance(old, float) or abs(value - old) < 2:
        return ""
    return "rising" if value > old else "falling"


def _distance(readings: Readings, before: Readings | None) -> str:
    """How far it is to the threshold; going away from it, as after a go-around, how far out."""
    shown = readings.values
    if "distance_nm" not in shown or shown.get("on_ground") is True:
        return ""
    here, was = shown["distance_nm"], None if before is None else before.values.get("distance_nm")
    if isinstance(here, float) and isinstance(was, float) and here > was + _GROWN_NM:
        return f"{here:.0f} out" if here >= 9.95 else f"{here:.1f} out"  # as short as the spine of a small screen
    return f"{value_text(here, 'nm')} NM"


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
    value = session.item(item.id).value if item is not None and asked else None
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
        said="" if value is None else f'said: "{safe(_said(deck, item, value))}"',
    )


def _said(deck: Deck, item: Item | None, value: Scalar) -> str:
    unit = signals_of(deck)[item.value].unit if item is not None and item.value is not None else ""
    return value_text(value, unit)


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
