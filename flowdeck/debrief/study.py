"""A whole flight studied: `study` is the one way from events to a `Debrief`."""

from collections import Counter

from msgspec import Struct

from flowdeck.debrief.chances import Chances
from flowdeck.debrief.counts import Calls, Minute, Proof, Replies, calls_of, minutes_of, proof_of, replies_of
from flowdeck.debrief.crew import Crew, crew_of
from flowdeck.debrief.lapses import LapseFate, lapses_of
from flowdeck.debrief.lists import Reading, readings_of
from flowdeck.debrief.lives import Life, lives_of
from flowdeck.debrief.path import Flown, flown_of
from flowdeck.debrief.slips import Slipped, slips_of
from flowdeck.debrief.timeline import Entry, timeline_of
from flowdeck.engine import fold
from flowdeck.model import events as ev
from flowdeck.model.deck import Deck, ItemKind
from flowdeck.model.deviation import Slip, Trapper
from flowdeck.model.scenario import Scenario
from flowdeck.model.seats import Seat
from flowdeck.model.session import Session


class Span(Struct, frozen=True, kw_only=True):
    """A phase from *at* to *until* (ms). *how*: go_around or discontinued, for that phase."""

    phase: str
    at: int
    until: int
    how: str = ""


class ClassCount(Struct, frozen=True, kw_only=True):
    """Deviations of one class. *chances*: how often it could have happened, None where it is not judged.

    *by_other* is None with one person in both seats, where no trap by the other seat can be told.
    """

    slip: Slip
    count: int
    chances: int | None
    by_maker: int
    by_other: int | None
    by_tool: int

    @property
    def untrapped(self) -> int:
        return self.count - self.by_maker - (self.by_other or 0) - self.by_tool


class Debrief(Struct, frozen=True, kw_only=True):
    """All that is told of a flight. *end*: empty where the journal ends before the flight did.

    *played*: the seats that the tool played; *lapses*: what they let slip on purpose, and what became of it.
    """

    deck: Deck
    scenario: Scenario
    solo: bool
    end: str
    length_ms: int
    spans: tuple[Span, ...]
    slips: tuple[Slipped, ...]
    classes: tuple[ClassCount, ...]
    lives: tuple[Life, ...]
    readings: tuple[Reading, ...]
    calls: Calls
    answers: Calls
    replies: Replies | None
    proof: Proof
    minutes: tuple[Minute, ...]
    crew: Crew
    flown: Flown
    timeline: tuple[Entry, ...]
    played: tuple[Seat, ...] = ()
    lapses: tuple[LapseFate, ...] = ()


def study(deck: Deck, scenario: Scenario, events: tuple[ev.Event, ...]) -> Debrief:
    """Raises `ValueError` when the events do not begin with the start of a flight."""
    if not events or not isinstance(events[0], ev.FlightStarted):
        raise ValueError("the events do not begin with the start of a flight")
    told = tuple(e for e in events if not isinstance(e, (ev.Trace, ev.Checkpoint, ev.TruthsChanged)))
    session = fold(Session(), told)
    slips = slips_of(deck, session, told)
    lives, readings, crew = lives_of(deck, told), readings_of(deck, told), crew_of(told)
    chances = Chances(
        deck=deck,
        solo=session.solo,
        lives=lives,
        readings=readings,
        gates=crew.gates,
        not_taken=_not_taken(slips, lives, readings),
    )
    answers = {(gate.gate, gate.at): gate.answer for gate in crew.gates}
    return Debrief(
        deck=deck,
        scenario=scenario,
        solo=session.solo,
        end=session.ended,
        length_ms=events[-1].at,
        spans=_spans(told, events[-1].at),
        slips=slips,
        classes=tuple(_count(slip, slips, chances) for slip in Slip),
        lives=lives,
        readings=readings,
        calls=calls_of(lives, ItemKind.CALL),
        answers=calls_of(lives, ItemKind.ANSWER),
        replies=None if session.solo else replies_of(deck, readings),
        proof=proof_of(deck, lives),
        minutes=minutes_of(told),
        crew=crew,
        flown=flown_of(scenario, events, answers),
        timeline=timeline_of(deck, told, scenario),
        played=session.sealed,
        lapses=lapses_of(deck, told),
    )


def _count(slip: Slip, slips: tuple[Slipped, ...], chances: Chances) -> ClassCount:
    mine = [s.deviation for s in slips if s.deviation.slip is slip]
    by = Counter(d.trapped_by for d in mine)
    return ClassCount(
        slip=slip,
        count=len(mine),
        chances=chances.of(slip),
        by_maker=by[Trapper.MAKER],
        by_other=None if chances.solo else by[Trapper.OTHER_SEAT],
        by_tool=by[Trapper.TOOL],
    )


_OF_ACTS = frozenset(
    {
        Slip.EARLY,
        Slip.OUT_OF_ORDER,
        Slip.FLOW_ORDER,
        Slip.REPEATED,
        Slip.WRONG_SEAT,
        Slip.UNVERIFIED,
        Slip.READ_DO,
        Slip.ROTE,
        Slip.FROM_MEMORY,
        Slip.NONSTANDARD_RESPONSE,
        Slip.WRONG_TIME,
    }
)
"""Classes of what somebody does; the others are of time that passes."""


def _not_taken(slips: tuple[Slipped, ...], lives: tuple[Life, ...], readings: tuple[Reading, ...]) -> Counter[Slip]:
    """Slips whose own act is not there: refused as a repeat or a wrong answer, taken back, or made by nobody known."""
    acts = {(life.item, at) for life in lives for at in (life.done_at, *(at for _, at in life.parts))}
    acts |= {(reply.line, reply.at) for reading in readings for reply in reading.replies}
    acts |= {(r.checklist, at) for r in readings for at in (r.called_at, r.completed_at, *r.read_at)}
    found: Counter[Slip] = Counter()
    for d in (s.deviation for s in slips):
        if d.slip is Slip.REPEATED or (d.slip in _OF_ACTS and (d.item, d.at) not in acts):
            found[d.slip] += 1
    return found


def _spans(events: tuple[ev.Event, ...], end: int) -> tuple[Span, ...]:
    entries = [e for e in events if isinstance(e, (ev.FlightStarted, ev.PhaseEntered))]
    ends = [*(e.at for e in entries[1:]), end]
    return tuple(
        Span(phase=e.phase, at=e.at, until=until, how=e.how if isinstance(e, ev.PhaseEntered) else "")
        for e, until in zip(entries, ends, strict=True)
    )
