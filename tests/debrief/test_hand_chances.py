"""Opportunities of each class over whole small flights, counted on fingers."""

import pytest

from flowdeck.debrief.study import ClassCount, Debrief
from flowdeck.model import inputs as inp
from flowdeck.model.deviation import Slip
from tests.debrief.by_hand import LIST, parked, studied, whole
from tests.engine.test_slips import configured, descending, flight, prepared
from tests.support.bench import CPT, FO
from tests.support.slipped import begun, called, icing, in_the_clear, left_landing, lost, without_power

BY_HAND = {
    # eleven actions (brief, speed, aids, gear, flap, missed, reverse, cabin, brake, cut, papers), five lines read
    Slip.OMITTED: 11 + 5,
    # speed within 60 s, gear above 1500 ft
    Slip.LATE: 2,
    # eleven actions and minimum, but for brief, speed and aids: owed from the first moment
    Slip.EARLY: 9,
    # gear's speed limit, gear before flap, brake before cut
    Slip.OUT_OF_ORDER: 3,
    # brief-speed, speed-aids, reverse-cabin, cut-papers; brake-cut is hard, configuring has no order
    Slip.FLOW_ORDER: 4,
    # gear, flap, brake, lever
    Slip.READ_DO: 4,
    # two lists called, five lines read
    Slip.WRONG_TIME: 2 + 5,
    Slip.FROM_MEMORY: 2,
    Slip.CHUNKED: 2,
    Slip.NO_COMPLETION: 2,
    Slip.NOT_CALLED: 2,
    # "minimum" and "landing"
    Slip.CALL_MISSED: 2,
    Slip.CALL_LATE: 2,
    Slip.CALL_PROMPTED: 2,
    # stable, power; none failed
    Slip.GATE_FAILED: 2,
    Slip.CONTINUED_PAST_GATE: 0,
    Slip.STANDING_MISSED: 0,
    Slip.STANDING_LEFT_ON: 0,
    Slip.DEFERRED_LOST: 0,
    # shown by a signal: speed, gear, flap, missed, reverse, brake, cut; pointed at: aids. Answers: all six, since
    # each verifies an item or says a value
    Slip.UNVERIFIED: 8 + 6,
}


def of(debrief: Debrief, slip: Slip) -> ClassCount:
    [counted] = [counted for counted in debrief.classes if counted.slip is slip]
    return counted


def test_every_class_is_counted_once() -> None:
    assert sorted(counted.slip for counted in whole().classes) == sorted(Slip)


@pytest.mark.parametrize(("slip", "chances"), BY_HAND.items(), ids=str)
def test_opportunities_of_a_whole_flight(slip: Slip, chances: int) -> None:
    """A flight without a slip: no count, and as many opportunities as there are fingers for."""
    counted = of(whole(), slip)
    assert (counted.count, counted.chances) == (0, chances)


def test_the_wrong_seat_is_possible_where_one_pilot_owes_it() -> None:
    """Acts of one pilot: ten actions (not the briefing), minimum, its answer; two lists called, two complete; five
    lines read, four answers of one pilot (both answer the altimeters)."""
    assert of(whole(), Slip.WRONG_SEAT).chances == 12 + 2 + 2 + 5 + 4


@pytest.mark.parametrize("slip", [Slip.NONSTANDARD_RESPONSE, Slip.ROTE])
def test_every_answer_of_a_line_is_one(slip: Slip) -> None:
    """Five lines; the altimeters are answered by both, and each answer is judged by itself."""
    assert of(whole(), slip).chances == 6


def test_repeated_is_possible_after_every_act() -> None:
    """Eleven actions, a call and its answer; a repeat that was made is one more attempt."""
    assert of(whole(), Slip.REPEATED).chances == 13
    again = studied(prepared(flight()).does(CPT, "speed"))
    once = studied(prepared(flight()).wait(1))
    assert of(again, Slip.REPEATED).count == 1
    assert of(again, Slip.REPEATED).chances == (of(once, Slip.REPEATED).chances or 0) + 1


def test_an_answer_that_was_not_asked_for_is_an_attempt_too() -> None:
    """'Checked', then 'down': one slip in two answers."""
    f = called().asks(FO, LIST).says(CPT, "ll-gear", "checked").says(CPT, "ll-gear", "down")
    counted = of(studied(f), Slip.NONSTANDARD_RESPONSE)
    assert (counted.count, counted.chances) == (1, 2)


def test_standing_items_owed() -> None:
    """On once; owed off a minute after the cloud."""
    assert of(studied(icing().wait(21)), Slip.STANDING_MISSED).chances == 1
    clear = studied(in_the_clear())
    assert (of(clear, Slip.STANDING_MISSED).chances, of(clear, Slip.STANDING_LEFT_ON).chances) == (1, 1)
    assert (of(clear, Slip.STANDING_MISSED).count, of(clear, Slip.STANDING_LEFT_ON).count) == (0, 1)


@pytest.mark.parametrize(("seconds", "counted"), [(10, (0, 0)), (20, (1, 1))])
def test_ice_that_ends_before_its_limit_owes_nothing(seconds: int, counted: tuple[int, int]) -> None:
    """Engine anti-ice within 20 s; warm air after 10 s withdraws it, after 20 s it was missed and could be."""
    missed = of(studied(icing().wait(seconds).reads(tat_c=14.0, in_cloud=False)), Slip.STANDING_MISSED)
    assert (missed.count, missed.chances) == counted


def test_gates_met_and_failed() -> None:
    """Stable passed, power failed and run past: two gates, one of them failed."""
    past = studied(without_power())
    assert (of(past, Slip.GATE_FAILED).count, of(past, Slip.GATE_FAILED).chances) == (1, 2)
    assert (of(past, Slip.CONTINUED_PAST_GATE).count, of(past, Slip.CONTINUED_PAST_GATE).chances) == (1, 1)


def test_what_was_put_off_may_be_lost() -> None:
    counted = of(studied(lost(cue="on-ground")), Slip.DEFERRED_LOST)
    assert (counted.count, counted.chances) == (1, 1)
    f = begun()
    f.send(inp.Defer(at=f.now, seat=FO, item="aids", in_s=20.0))
    assert of(studied(f), Slip.DEFERRED_LOST).chances == 1
    f.send(inp.Undo(at=f.now, seat=FO))
    assert of(studied(f), Slip.DEFERRED_LOST).chances == 0


def test_an_item_that_was_omitted_had_its_chance() -> None:
    """Reverse and cabin left: eight of the approach and landing are over, three lines were read; two omitted."""
    left = studied(left_landing())
    counted = of(left, Slip.OMITTED)
    assert (counted.count, counted.chances) == (2, 8 + 3)
    assert (counted.by_maker, counted.by_other, counted.by_tool, counted.untrapped) == (0, 0, 0, 2)


@pytest.mark.parametrize("slip", [Slip.CALL_MISSED, Slip.CALL_LATE])
def test_a_call_that_is_still_open_is_no_chance_yet(slip: Slip) -> None:
    """Two seconds after its window opened a call is neither late nor missed, nor is it among the calls owed."""
    told = studied(descending(flight()).wait(2))
    assert told.calls.owed == 0
    assert of(told, slip).chances == 0


def test_a_call_that_was_missed_had_its_chance() -> None:
    missed = of(studied(descending(flight()).wait(21)), Slip.CALL_MISSED)
    assert (missed.count, missed.chances) == (1, 1)


def test_a_list_that_was_never_called_had_its_chance() -> None:
    """Owed from 8 NM, late at 4 NM."""
    f = configured(flight()).reads(distance_nm=7.5).reads(distance_nm=3.9)
    counted = of(studied(f), Slip.NOT_CALLED)
    assert (counted.count, counted.chances) == (1, 1)


def test_a_line_passed_over_was_one_to_read() -> None:
    """The gear line passed over (omitted), two read: three lines, and the six actions: gear and flap among them."""
    f = called()
    f.send(inp.SkipLine(at=f.now, seat=FO, checklist=LIST))
    f.asks(FO, LIST).says(CPT, "ll-altimeters").says(FO, "ll-altimeters").asks(FO, LIST).says(CPT, "ll-flap")
    counted = of(studied(f.completes(FO, LIST)), Slip.OMITTED)
    assert (counted.count, counted.chances) == (1, 3 + 5)


def test_faster_than_a_look_is_not_judged_above_the_pace_of_time() -> None:
    """At x2 no answer could be rote."""
    f = configured(flight()).reads(distance_nm=7.5)
    f.send(inp.SetPace(at=f.now, pace=2.0))
    f.calls(CPT, LIST).asks(FO, LIST, after_s=0.3).says(CPT, "ll-gear")
    counted = of(studied(f), Slip.ROTE)
    assert (counted.count, counted.chances) == (0, 0)


def test_one_person_in_both_seats() -> None:
    """Not judged is not none: rote, chunked and traps by the other seat are None, and reply times are left out."""
    solo = studied(parked(solo=True))
    assert solo.solo and solo.replies is None
    assert {c.slip for c in solo.classes if c.chances is None} == {Slip.ROTE, Slip.CHUNKED}
    assert [of(solo, slip).count for slip in (Slip.ROTE, Slip.CHUNKED)] == [0, 0]
    assert all(counted.by_other is None for counted in solo.classes)
    assert all(counted.by_other is not None for counted in whole().classes)
    same = {c.slip: c.chances for c in solo.classes if c.chances is not None}
    assert same == {c.slip: c.chances for c in whole().classes if c.slip in same}


def test_a_trap_has_its_trapper_and_its_time() -> None:
    """Late at 60 s (the tool had shown it at 30 s), put right at 63 s."""
    f = begun().wait(60).does(CPT, "brief").does(FO, "brief").does(CPT, "speed", selected_speed_kt=150.0)
    debrief = studied(f)
    counted = of(debrief, Slip.LATE)
    assert (counted.count, counted.by_maker, counted.by_other, counted.by_tool, counted.untrapped) == (1, 0, 0, 1, 0)
    [late] = [s for s in debrief.slips if s.deviation.slip is Slip.LATE]
    assert (late.deviation.at, late.latency_ms, late.flying, late.span) == (60_000, 3000, CPT, 0)
    assert late.why == "The speed for the approach."


def test_what_became_omitted_is_not_late_as_well() -> None:
    """The graver one stands alone."""
    f = begun().wait(61).reads(height_aal_ft=390.0, altitude_ft=820.0, distance_nm=1.0)
    debrief = studied(f.does(FO, "minimum").does(CPT, "minimum-answer"))
    standing = [s.deviation.slip for s in debrief.slips if s.deviation.item == "speed"]
    assert standing == [Slip.OMITTED]
    assert of(debrief, Slip.LATE).count == sum(s.deviation.slip is Slip.LATE for s in debrief.slips)
