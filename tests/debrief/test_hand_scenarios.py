"""The bundled flights: every planted slip counted where it belongs, and opportunities by a second count."""

from collections import Counter
from functools import cache

import pytest

from flowdeck.debrief.study import ClassCount, Debrief, study
from flowdeck.model import events as ev
from flowdeck.model.deviation import Slip, Trapper
from tests.debrief.tally import tally
from tests.scenarios.flown import flown

NAMES = ("slips", "interrupted", "go-around", "clean")
every = pytest.mark.parametrize("name", NAMES)


@cache
def debrief(name: str) -> Debrief:
    flight = flown(name)
    return study(flight.deck, flight.scenario, flight.events)


def classes(name: str) -> dict[Slip, ClassCount]:
    return {counted.slip: counted for counted in debrief(name).classes}


@every
def test_counts_are_the_planted_causes(name: str) -> None:
    """By class, and by class, item and seat where the scenario names the seat; nothing else stands."""
    causes = [cause for planted in flown(name).scenario.planted for cause in planted.causes]
    assert {s: c.count for s, c in classes(name).items() if c.count} == Counter(cause.slip for cause in causes)
    slips = Counter((s.deviation.slip, s.deviation.item) for s in debrief(name).slips)
    assert slips == Counter((cause.slip, cause.item) for cause in causes)
    seats = Counter((s.deviation.slip, s.deviation.item, s.deviation.seat) for s in debrief(name).slips)
    assert Counter((cause.slip, cause.item, cause.seat) for cause in causes if cause.seat) <= seats


@every
def test_sums(name: str) -> None:
    """Classes add up to the slips; trapped and untrapped add up to each class; no count is above its chances."""
    counted = debrief(name).classes
    assert len({c.slip for c in counted}) == len(counted) == len(Slip)
    assert sum(c.count for c in counted) == len(debrief(name).slips)
    for c in counted:
        assert c.by_maker + (c.by_other or 0) + c.by_tool + c.untrapped == c.count
        assert min(c.count, c.by_maker, c.by_other or 0, c.by_tool, c.untrapped) >= 0
        assert c.count == 0 if c.chances is None else c.count <= c.chances


@every
def test_traps_are_those_of_the_events(name: str) -> None:
    """Each trap that was told, of a slip that no graver one replaced."""
    events = flown(name).events
    replaced = {e.supersedes for e in events if isinstance(e, ev.DeviationRaised)}
    by = Counter(e.by for e in events if isinstance(e, ev.DeviationTrapped) and e.number not in replaced)
    counted = debrief(name).classes
    assert sum(c.by_maker for c in counted) == by[Trapper.MAKER]
    assert sum(c.by_other or 0 for c in counted) == by[Trapper.OTHER_SEAT]
    assert sum(c.by_tool for c in counted) == by[Trapper.TOOL]


@every
def test_opportunities_by_a_second_count(name: str) -> None:
    """Eighteen classes or more, counted again from the events by stories of letters."""
    second = tally(flown(name).deck, flown(name).events)
    first = {s: c.chances for s, c in classes(name).items() if s in second and c.chances is not None}
    first.pop(Slip.WRONG_SEAT)
    assert first == {s: n for s, n in second.items() if s in first}
    assert len(first) >= 18


@every
def test_wrong_seats_by_a_second_count(name: str) -> None:
    assert classes(name)[Slip.WRONG_SEAT].chances == tally(flown(name).deck, flown(name).events)[Slip.WRONG_SEAT]


def test_opportunities_of_a_long_day_in_figures() -> None:
    """From the events: 5 lists called and completed, 30 lines read, 31 answered (one by both), one answered twice;
    4 standing items on, 2 off; 47 calls and answers; 161 acts, 156 of one pilot, one made again."""
    c = {slip: counted.chances for slip, counted in classes("slips").items()}
    assert [c[s] for s in (Slip.FROM_MEMORY, Slip.CHUNKED, Slip.NO_COMPLETION, Slip.NOT_CALLED)] == [5, 5, 5, 5]
    assert (c[Slip.WRONG_TIME], c[Slip.ROTE], c[Slip.NONSTANDARD_RESPONSE]) == (5 + 30, 31, 31 + 1)
    assert (c[Slip.STANDING_MISSED], c[Slip.STANDING_LEFT_ON], c[Slip.DEFERRED_LOST]) == (4, 2, 1)
    assert (c[Slip.CALL_MISSED], c[Slip.CALL_LATE], c[Slip.CALL_PROMPTED]) == (47, 47, 47)
    assert c[Slip.REPEATED] == 161 + 1


def test_the_slips_of_a_long_day_and_who_caught_them() -> None:
    """Thirty-one. Told as trapped: 1, 3, 5, 8, 10, 11, 17, 25 by the tool and 30, the list, by a challenge of the other
    seat; the rest stayed. The gate that was failed and flown past is none of them."""
    c = classes("slips")
    assert len(debrief("slips").slips) == 31
    assert sum(x.by_tool for x in c.values()) == 8 and sum(x.by_other or 0 for x in c.values()) == 1
    assert (c[Slip.NOT_CALLED].by_other, c[Slip.NOT_CALLED].untrapped) == (1, 0)
    assert (c[Slip.GATE_FAILED].count, c[Slip.GATE_FAILED].by_tool, c[Slip.GATE_FAILED].untrapped) == (2, 1, 1)
    assert (c[Slip.ROTE].count, c[Slip.FLOW_ORDER].count, c[Slip.LATE].count) == (4, 2, 2)
    assert sum(x.untrapped for x in c.values()) == 31 - 9


def test_latencies_of_a_long_day() -> None:
    """Number, seconds: course 3 to 17; anti-ice 329 to 341; late call at once; answer 635.5 to 637; prompted call
    at once; completion 668 to 688; anti-ice off 728.5 to 748.5; stand gate 1426 to 1434; list 1790 to 1796."""
    told = {s.deviation.number: s.latency_ms for s in debrief("slips").slips if s.latency_ms is not None}
    assert told == {1: 14_000, 3: 12_000, 5: 0, 8: 1500, 10: 20_000, 11: 20_000, 17: 0, 25: 8000, 30: 6000}


def test_the_gates_of_a_long_day() -> None:
    """Seven; the first overrun 8 s after it failed, the stand mended 8 s after, five passed."""
    gates = debrief("slips").crew.gates
    assert [(g.gate, g.answer) for g in gates] == [
        ("stable-1000", "overrun"), ("stable-500", "passed"), ("minimum-gate", "passed"), ("touchdown-zone", "passed"),
        ("stand-entry", "mended"), ("power-before-cut", "passed"), ("apu-shutdown", "passed"),
    ]  # fmt: skip
    assert [(g.answered_at or 0) - g.at for g in gates if g.answer in ("overrun", "mended")] == [8000, 8000]
    assert classes("slips")[Slip.GATE_FAILED].chances == 7
    assert classes("slips")[Slip.CONTINUED_PAST_GATE].chances == 2


def test_the_calls_of_an_interrupted_flight() -> None:
    """One call late, none missed or prompted; each call and answer is one of four."""
    calls, answers = debrief("interrupted").calls, debrief("interrupted").answers
    assert (calls.late, calls.missed, calls.prompted) == (1, 0, 0)
    assert (answers.late, answers.missed, answers.prompted) == (0, 0, 0)
    for sums in (calls, answers):
        assert sums.owed == sums.on_time + sums.late
    assert calls.owed + answers.owed == classes("interrupted")[Slip.CALL_MISSED].chances


def test_the_holds_and_breaks_of_an_interrupted_flight() -> None:
    """26.5 s seen and read again at its line, 34 s spoken and read again, 135 s seen and from the top."""
    holds = [hold for reading in debrief("interrupted").readings for hold in reading.holds]
    assert [((h.until or 0) - h.at, h.spoken, h.way) for h in holds] == [
        (26_500, False, "read again"),
        (34_000, True, "read again"),
        (135_000, False, "from the top"),
    ]
    assert [b.until - b.at for b in debrief("interrupted").crew.breaks] == [26_000, 135_000]


def test_what_was_put_off_and_handed_over_in_an_interrupted_flight() -> None:
    """The trim to the stand, which came at 1429.5 s; control given by the first officer at 1147 s."""
    [life] = [life for life in debrief("interrupted").lives if life.deferrals]
    [deferral] = life.deferrals
    assert (life.item, deferral.at, deferral.cue, deferral.came_at) == (
        "trim-neutral",
        1_151_000,
        "on-stand",
        1_429_500,
    )
    assert life.done_at is not None and life.done_at > 1_429_500
    [transfer] = debrief("interrupted").crew.transfers
    assert (transfer.at, transfer.taken_at, transfer.confirmed_at) == (1_147_000, 1_147_000, 1_147_000)
    assert (transfer.by, transfer.flying, transfer.seized) == ("first_officer", "captain", False)


def test_both_approaches_of_a_go_around() -> None:
    """The gate failed at 1067 s and answered 2 s later; phases in their order; each list of an approach read twice."""
    around = debrief("go-around")
    gate = around.crew.gates[0]
    assert (gate.gate, gate.at, gate.answer, gate.answered_at) == ("stable-1000", 1_067_000, "mended", 1_069_000)
    assert [span.phase for span in around.spans] == [
        "approach", "go_around", "approach", "landing", "taxi_in", "shutdown", "securing",
    ]  # fmt: skip
    assert [span.how for span in around.spans if span.how] == ["go_around"]
    assert [span.until for span in around.spans[:-1]] == [span.at for span in around.spans[1:]]
    assert sum(reading.checklist == "landing-list" for reading in around.readings) == 2
    assert (around.end, around.length_ms) == ("secured", 2_084_000)


def test_a_clean_flight_alone_has_nothing_and_says_what_it_cannot_say() -> None:
    clean = debrief("clean")
    assert clean.solo and clean.slips == () and clean.replies is None
    assert {c.slip for c in clean.classes if c.chances is None} == {Slip.ROTE, Slip.CHUNKED}
    assert {c.by_other for c in clean.classes} == {None}
    assert (clean.calls.late, clean.calls.missed, clean.calls.prompted) == (0, 0, 0)
