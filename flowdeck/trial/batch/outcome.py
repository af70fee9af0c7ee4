"""One arrival of a trial: flown by two pilots who forget nothing, and what became of everything in it."""

from collections import Counter
from collections.abc import Iterable, Sequence
from typing import NamedTuple

from msgspec import Struct

from flowdeck.debrief.counts import Minute, minutes_of
from flowdeck.debrief.lists import readings_of
from flowdeck.debrief.lives import Life, lives_of
from flowdeck.model import events as ev
from flowdeck.model.deck import Deck, ItemKind, Limit
from flowdeck.model.diagnostic import Unsettled
from flowdeck.model.scenario import Scenario
from flowdeck.trial.rehearse import rehearse
from flowdeck.trial.report import ways_out


class Owed(NamedTuple):
    """One time that something was owed. Seconds; *there_s*: until it would be late, None where that never came.

    *took_s*: until it was done, None where it was not.
    """

    prompted: bool
    overdue: bool
    took_s: float | None
    there_s: float | None


class Outcome(Struct, frozen=True, kw_only=True):
    """*end*: empty where the flight came to none; *stuck*: the phase it was in then, and *why*.

    *seen_true*, *seen_false*: conditions by number, a bit each.
    """

    run: int
    end: str
    stuck: str = ""
    why: str = ""
    flown_s: float = 0.0
    owed: dict[str, tuple[Owed, ...]] = {}
    gates: dict[str, tuple[int, int]] = {}
    minutes: tuple[Minute, ...] = ()
    seen_true: int = 0
    seen_false: int = 0
    slips: dict[str, int] = {}
    phases: tuple[str, ...] = ()


def fly_once(deck: Deck, scenario: Scenario, run: int = 0) -> Outcome:
    """The whole flight. A deck that does not settle ends it, and says so."""
    events: list[ev.Event] = []
    flight = None
    try:
        for step in rehearse(deck, scenario, recorded=False):
            flight = step.flight
            events += step.events
    except Unsettled as error:
        return Outcome(run=run, end="", stuck=deck.start if flight is None else flight.session.phase, why=str(error))
    assert flight is not None
    truths = Truths(deck, events)
    told = [event for event in events if not isinstance(event, ev.TruthsChanged)]
    session = flight.session
    return Outcome(
        run=run,
        end=session.ended,
        stuck="" if session.ended else session.phase,
        why="" if session.ended else ways_out(deck, session.phase),
        flown_s=round(flight.now / 1000, 1),
        owed=_owed(deck, told, truths),
        gates=_gates(told),
        minutes=minutes_of(told),
        seen_true=truths.seen_true,
        seen_false=truths.seen_false,
        slips=dict(Counter(f"{d.slip} {d.item}" for d in session.deviations if d.superseded_by is None)),
        phases=tuple(phase for phase, _ in session.visited),
    )


class Truths:
    """When each condition became true, and whether it was ever true and ever false."""

    def __init__(self, deck: Deck, events: Iterable[ev.Event]) -> None:
        self.seen_true = self.seen_false = 0
        self._rises: dict[int, list[int]] = {}
        for event in events:
            if isinstance(event, ev.TruthsChanged):
                for row in event.true:
                    self.seen_true |= 1 << row
                    self._rises.setdefault(row, []).append(event.at)
                for row in event.false:
                    self.seen_false |= 1 << row

    def first_after(self, row: int, at: int) -> int | None:
        """When condition *row* first became true at or after *at* (ms)."""
        return next((rise for rise in self._rises.get(row, ()) if rise >= at), None)


def _owed(deck: Deck, told: Sequence[ev.Event], truths: Truths) -> dict[str, tuple[Owed, ...]]:
    found: dict[str, list[Owed]] = {}
    for life in lives_of(deck, told):
        if life.was_owed and life.opened_at is not None and life.kind is not ItemKind.LINE:
            found.setdefault(life.item, []).append(_of_life(deck, life, truths))
    for reading in readings_of(deck, told):
        if reading.opened_at is None:
            continue
        checklist = deck.checklists[reading.checklist]
        limit = checklist.complete_by or checklist.late
        done = reading.completed_at
        found.setdefault(reading.checklist, []).append(
            Owed(
                prompted=reading.prompted,
                overdue=reading.overdue_at is not None,
                took_s=None if done is None else (done - reading.opened_at) / 1000,
                there_s=_there_s(limit, reading.opened_at, truths),
            )
        )
    return {ref: tuple(times) for ref, times in found.items()}


def _of_life(deck: Deck, life: Life, truths: Truths) -> Owed:
    item = deck.items[life.item]
    assert life.opened_at is not None
    return Owed(
        prompted=life.prompted,
        overdue=life.overdue_at is not None or life.missed_at is not None or life.lapsed_at is not None,
        took_s=None if life.done_at is None else (life.done_at - life.opened_at) / 1000,
        there_s=_there_s(item.late or item.missed, life.opened_at, truths),
    )


def _there_s(limit: Limit | None, opened: int, truths: Truths) -> float | None:
    """Seconds from the opening to the limit, as this flight went."""
    if limit is None:
        return None
    if limit.when is not None:
        came = truths.first_after(limit.when, opened)
        return None if came is None else (came - opened) / 1000
    return limit.after_s if limit.start is None else None


def _gates(told: Iterable[ev.Event]) -> dict[str, tuple[int, int]]:
    """How often each gate was met, and how often it failed."""
    met: Counter[str] = Counter()
    failed: Counter[str] = Counter()
    for event in told:
        if isinstance(event, ev.GatePassed | ev.GateFailed):
            met[event.gate] += 1
            failed[event.gate] += isinstance(event, ev.GateFailed)
    return {gate: (number, failed[gate]) for gate, number in met.items()}
