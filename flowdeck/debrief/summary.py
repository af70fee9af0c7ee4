"""What a logbook keeps of a flight: who it was is no part of it, only seats."""

from collections import Counter

from msgspec import Struct

from flowdeck.debrief.study import Debrief
from flowdeck.engine.words import title
from flowdeck.model.deviation import Severity, Slip, Trapper
from flowdeck.model.seats import Seat


class Tally(Struct, frozen=True, kw_only=True, gc=False):
    """Deviations of a class in one flight; *chances* None where it is not judged."""

    slip: Slip
    count: int
    chances: int | None


class Slipped(Struct, frozen=True, kw_only=True, gc=False):
    """One deviation. Times in ms of session time."""

    number: int
    slip: Slip
    severity: Severity
    seat: Seat | None
    item: str
    title: str
    phase: str
    at: int
    trapped_by: Trapper | None
    latency_ms: int | None


class Summary(Struct, frozen=True, kw_only=True):
    """One flight. *begun*: local date and time; *owed*: how often each item, call and list was owed."""

    begun: str
    deck: str
    deck_title: str
    deck_hash: str
    scenario: str
    scenario_title: str
    solo: bool
    end: str
    length_ms: int
    tallies: tuple[Tally, ...]
    slips: tuple[Slipped, ...]
    owed: dict[str, int]


def summary_of(d: Debrief, begun: str) -> Summary:
    owed = Counter(life.item for life in d.lives if life.was_owed)
    owed.update(reading.checklist for reading in d.readings if reading.was_owed)
    owed.update(line for reading in d.readings for line in {*reading.read, *reading.skipped})
    owed.update(gate.gate for gate in d.crew.gates)
    return Summary(
        begun=begun,
        deck=d.deck.id,
        deck_title=d.deck.identity.title,
        deck_hash=d.deck.hash,
        scenario=d.scenario.id,
        scenario_title=d.scenario.title,
        solo=d.solo,
        end=d.end,
        length_ms=d.length_ms,
        tallies=tuple(Tally(slip=c.slip, count=c.count, chances=c.chances) for c in d.classes),
        slips=tuple(
            Slipped(
                number=s.deviation.number,
                slip=s.deviation.slip,
                severity=s.deviation.severity,
                seat=s.deviation.seat,
                item=s.deviation.item,
                title=title(d.deck, s.deviation.item),
                phase=s.deviation.phase,
                at=s.deviation.at,
                trapped_by=s.deviation.trapped_by,
                latency_ms=s.latency_ms,
            )
            for s in d.slips
        ),
        owed=dict(owed),
    )
