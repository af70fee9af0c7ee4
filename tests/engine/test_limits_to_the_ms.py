"""Limits of time fall at their own millisecond, with nothing else happening: no signal moves, nobody acts.

Each flight stands still until a millisecond before the limit, where a sample brings nothing, and is then looked at
once more. So the moment is worked out beforehand, and is not only noticed when something else makes the engine look.
"""

import pytest

from flowdeck.engine.alarm import NEVER, alarm
from flowdeck.engine.program import program
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.deviation import Slip
from tests.engine.test_edges import changed
from tests.engine.test_slips import configured, descending, listed, on_ground, prepared
from tests.support.bench import CPT, FO, BenchFlight
from tests.support.small import APPROACH, DECK, small_deck

LIST = "landing-list"
SPEED = "late: {after_s: 60}\n        due: {after_s: 30}"
LIST_LIMITS = 'due: "distance_nm <= 6"\n    late: "distance_nm <= 4"\n    complete_by: "height_aal_ft <= 900"'


def flight(approach: str = APPROACH, deck: str = DECK) -> BenchFlight:
    """In cloud and warm, so that no condition waits for a time out of cloud."""
    return BenchFlight(small_deck(deck=deck, approach=approach), in_cloud=True)


def sample(f: BenchFlight, at: int) -> list[ev.Event]:
    f.now = at
    return list(f.send(inp.Sample(at=at)))


def rings(f: BenchFlight, at: int) -> list[ev.Event]:
    """What follows at *at* ms, when nothing follows a millisecond before."""
    assert f.now < at
    assert sample(f, at - 1) == []
    return sample(f, at)


def slips(events: list[ev.Event]) -> list[tuple[Slip, str, int]]:
    return [(e.slip, e.item, e.at) for e in events if isinstance(e, ev.DeviationRaised)]


def prompts(events: list[ev.Event]) -> list[tuple[str, int]]:
    return [(e.ref, e.at) for e in events if isinstance(e, ev.Prompted)]


def test_an_item_is_prompted_and_late_to_the_millisecond() -> None:
    """The speed is due after 30 s and late after 60, though what stands before it in the deck is done."""
    f = flight().does(CPT, "brief").does(FO, "brief")
    assert prompts(rings(f, 30_000)) == [("speed", 30_000)]
    assert slips(rings(f, 60_000)) == [(Slip.LATE, "speed", 60_000)]
    assert alarm(program(f.deck), f.session) == NEVER


def test_half_a_second_is_not_rounded_away() -> None:
    """A limit of 12.25 s is one of 12,250 ms."""
    f = flight(changed(APPROACH, SPEED, "late: {after_s: 12.25}"))
    assert slips(rings(f, 12_250)) == [(Slip.LATE, "speed", 12_250)]


def test_a_limit_from_another_item_runs_from_its_doing() -> None:
    """Forty seconds from the briefing, whenever that was; before it nothing runs at all."""
    f = flight(changed(APPROACH, SPEED, "late: {after_s: 40, from: brief}"))
    assert sample(f, 100_000) == []
    f.does(CPT, "brief").does(FO, "brief")
    done_at = f.session.times["brief"]
    assert done_at == 101_000
    assert slips(rings(f, done_at + 40_000)) == [(Slip.LATE, "speed", 141_000)]


def test_a_call_is_prompted_and_missed_to_the_millisecond() -> None:
    """Prompted four seconds after its altitude, missed after twenty; between the two it is late, which is not said."""
    f = descending(flight())
    opened = f.session.item("to-go").opened_at
    assert opened == f.now
    assert prompts(rings(f, opened + 4_000)) == [("to-go", opened + 4_000)]
    assert slips(rings(f, opened + 8_000)) == []
    assert f.session.item("to-go").overdue
    assert slips(rings(f, opened + 20_000)) == [(Slip.CALL_MISSED, "to-go", opened + 20_000)]


def test_an_answer_is_missed_to_the_millisecond() -> None:
    """Five seconds for 'agreed', from the call on."""
    f = descending(flight())
    f.send(inp.Act(at=f.now, seat=FO, item="to-go"))
    assert slips(rings(f, f.now + 5_000)) == [(Slip.CALL_MISSED, "to-go-answer", f.now)]


def test_the_aircraft_has_the_time_of_its_travel_and_a_little_more() -> None:
    """The gear takes 6 s and 4 more are given: said to be down and not down at 10 s."""
    f = prepared(flight()).reads(distance_nm=9.0)
    f.send(inp.Act(at=f.now, seat=FO, item="gear-down"))
    assert f.session.item("gear-down").verify_at == f.now + 10_000
    assert slips(rings(f, f.now + 10_000)) == [(Slip.UNVERIFIED, "gear-down", f.now)]


def test_a_deferral_comes_back_and_is_lost_to_the_millisecond() -> None:
    """Put off for 30 s, then a minute to do it."""
    f = prepared(flight()).reads(distance_nm=9.0)
    f.send(inp.Defer(at=f.now, seat=FO, item="gear-down", in_s=30))
    back = f.now + 30_000
    events = rings(f, back)
    assert [(type(e), e.at) for e in events] == [(ev.CueCame, back), (ev.Prompted, back)]
    assert slips(rings(f, back + 60_000)) == [(Slip.DEFERRED_LOST, "gear-down", back + 60_000)]
    assert prompts(f.events[-3:]) == [("gear-down", back + 60_000)]


def test_what_came_back_keeps_no_other_limit_from_its_moment() -> None:
    """The briefing was put off and is back; the speed after it in the deck is due and late at its own times."""
    f = flight()
    f.send(inp.Defer(at=0, seat=CPT, item="brief", in_s=5))
    assert [type(e) for e in rings(f, 5_000)] == [ev.CueCame, ev.Prompted]
    assert prompts(rings(f, 30_000)) == [("speed", 30_000)]
    assert slips(rings(f, 60_000)) == [(Slip.LATE, "speed", 60_000)]
    assert slips(rings(f, 65_000)) == [(Slip.DEFERRED_LOST, "brief", 65_000)]
    assert alarm(program(f.deck), f.session) == NEVER


def test_a_list_is_prompted_and_missed_to_the_millisecond() -> None:
    """A list with limits of time: to be suggested after 5 s, not called after 12, not complete after 90."""
    text = "due: {after_s: 5}\n    late: {after_s: 12}\n    complete_by: {after_s: 90}"
    f = prepared(flight(changed(APPROACH, LIST_LIMITS, text))).reads(distance_nm=7.5)
    opened = f.now
    assert f.session.list(LIST).opened_at == opened
    assert prompts(rings(f, opened + 5_000)) == [(LIST, opened + 5_000)]
    assert slips(rings(f, opened + 12_000)) == [(Slip.NOT_CALLED, LIST, opened + 12_000)]
    f.calls(CPT, LIST)
    sample(f, f.now)
    assert slips(rings(f, opened + 90_000)) == [(Slip.NO_COMPLETION, LIST, opened + 90_000)]
    assert alarm(program(f.deck), f.session) == NEVER


def test_the_completion_is_missed_twenty_seconds_after_the_last_answer() -> None:
    """Every line is answered and then nobody says anything."""
    f = configured(flight()).reads(distance_nm=7.5).calls(CPT, LIST)
    f.asks(FO, LIST).says(CPT, "ll-gear")
    f.asks(FO, LIST).says(CPT, "ll-altimeters").says(FO, "ll-altimeters").asks(FO, LIST)
    f.send(inp.Answer(at=f.now, seat=CPT, line="ll-flap"))
    closed = f.session.list(LIST).all_closed_at
    assert closed == f.now
    assert slips(rings(f, closed + 20_000)) == [(Slip.NO_COMPLETION, LIST, closed + 20_000)]
    assert alarm(program(f.deck), f.session) == NEVER


def test_a_failed_gate_gives_its_seconds_and_no_more() -> None:
    """Six seconds for the go-around, from the height of the gate."""
    f = configured(flight()).reads(height_aal_ft=990.0)
    failed = f.now
    assert slips(rings(f, failed + 6_000)) == [(Slip.CONTINUED_PAST_GATE, "stable", failed + 6_000)]


def test_a_challenge_waits_five_seconds() -> None:
    f = flight().does(CPT, "brief")
    f.send(inp.Challenge(at=f.now, seat=FO, about="brief"))
    asked = f.now
    assert [(type(e), e.at) for e in rings(f, asked + 5_000)] == [(ev.ReplyMissed, asked + 5_000)]


def test_what_is_over_rings_no_more() -> None:
    """The list complete, the calls answered, everything done: no moment is waited for, and quiet samples stay cheap."""
    f = listed(configured(flight())).completes(FO, LIST)
    assert alarm(program(f.deck), f.session) == NEVER
    assert sample(f, f.now + 600_000) == []


def test_the_time_from_entering_a_phase_counts_from_there() -> None:
    """The list on the ground may be called five seconds after the phase was entered, not after the flight began."""
    f = on_ground(flight())
    entered = f.session.phase_at
    assert entered == f.session.times["ground"]
    events = sample(f, entered + 5_000) + sample(f, entered + 5_001)
    assert [(e.checklist, e.at) for e in events if isinstance(e, ev.ListOpened)] == [("ground-list", entered + 5_001)]


@pytest.mark.parametrize("seconds", [1.4, 1.6])
def test_times_of_inputs_are_rounded_not_cut(seconds: float) -> None:
    """A deferral and an interruption of fractions of a second end at their own millisecond."""
    f = prepared(flight()).reads(distance_nm=9.0)
    f.send(inp.Defer(at=f.now, seat=FO, item="gear-down", in_s=seconds))
    assert f.session.item("gear-down").back_at == f.now + round(seconds * 1000)
    f.send(inp.Interrupt(at=f.now, words="Cabin calling", length_s=seconds))
    assert f.session.interruption is not None
    assert f.session.interruption.until == f.now + round(seconds * 1000)
