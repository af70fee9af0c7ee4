"""What a rehearsal tells afterwards, with stable keys and units in their names."""

from typing import Any

from msgspec import Struct

from flowdeck.engine.flight import NEW_FLIGHT
from flowdeck.model.deck import Deck
from flowdeck.model.deviation import Deviation
from flowdeck.model.events import Reset
from flowdeck.model.session import ItemState, Session
from flowdeck.trial.flight import Flight
from flowdeck.trial.rehearse import Step
from flowdeck.view.words import deck_line


class Report(Struct, frozen=True, kw_only=True):
    """*items*: id to final state. *deviations*: those that stand (a late one that was never done counts as omitted)."""

    deck_line: str
    deviations: tuple[Deviation, ...]
    phases: tuple[tuple[str, int], ...]
    items: dict[str, str]
    events: dict[str, int]
    timing: dict[str, float]
    end: str

    @property
    def done(self) -> int:
        """How many things were done, by any evidence."""
        return sum(state.startswith("done") for state in self.items.values())

    @property
    def owed(self) -> int:
        """How many things were owed at some time of the flight."""
        return sum(state != "waiting" for state in self.items.values())

    def as_dict(self) -> dict[str, Any]:
        return {
            "deck": self.deck_line,
            "end": self.end,
            "deviations": [deviation_dict(d) for d in self.deviations],
            "phases": [{"phase": phase, "entered_ms": at} for phase, at in self.phases],
            "items": self.items,
            "events": self.events,
            "timing": self.timing,
        }


class Tally:
    """The final state of each item over a whole flight, also of those that a new flight has cleared."""

    def __init__(self) -> None:
        self._before: Flight | None = None
        self._kept: dict[str, str] = {}

    def add(self, step: Step) -> None:
        """Take note of a step; what it clears for a new flight keeps the state that it had."""
        for event in step.events:
            if isinstance(event, Reset) and event.because == NEW_FLIGHT and self._before is not None:
                session = self._before.session
                self._kept.update({ref: final(session.item(ref)) for ref in event.items})
        self._before = step.flight

    def final(self, ref: str, session: Session) -> str:
        now = final(session.item(ref))
        return self._kept.get(ref, now) if now == "waiting" else now


def make_report(flight: Flight, tally: Tally, events: dict[str, int], *, load_s: float, fly_s: float) -> Report:
    session = flight.session
    return Report(
        deck_line=deck_line(flight.deck),
        deviations=standing_deviations(session),
        phases=session.visited,
        items={ref: tally.final(ref, session) for ref in flight.deck.items},
        events=events,
        timing={"flown_s": flight.now / 1000, "load_cpu_s": round(load_s, 3), "fly_cpu_s": round(fly_s, 3)},
        end=session.ended,
    )


def ways_out(deck: Deck, phase: str) -> str:
    """What a flight in *phase* waits for: each way out with its condition, as it is written."""
    return "; ".join(f"{way.to} when {deck.conditions[way.when].text}" for way in deck.phases[phase].exits)


def standing_deviations(session: Session) -> tuple[Deviation, ...]:
    return tuple(d for d in session.deviations if d.superseded_by is None)


def final(state: ItemState) -> str:
    """`done (seen)`, `omitted`, `waiting` ..."""
    if state.is_done:
        return f"done ({state.evidence})"
    if state.status == "lapsed":
        return "skipped" if state.skipped else "not done"
    return str(state.status)


def deviation_dict(d: Deviation) -> dict[str, Any]:
    return {
        "class": str(d.slip),
        "severity": str(d.severity),
        "seat": None if d.seat is None else str(d.seat),
        "item": d.item,
        "at_ms": d.at,
        "expected": d.expected,
        "actual": d.actual,
        "reason": d.reason,
        "phase": d.phase,
        "trapped_by": None if d.trapped_by is None else str(d.trapped_by),
        "trapped_at_ms": d.trapped_at,
    }
