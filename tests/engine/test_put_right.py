"""What can be put right: a wrong value, a control that went back, a line passed over, a gate that was not met."""

import pytest

from flowdeck.engine.owed import Duty, owed
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.deviation import Slip
from flowdeck.model.session import ListStatus, Status
from tests.engine.test_edges import changed
from tests.engine.test_slips import configured, flight, listed, only, prepared
from tests.support.bench import CPT, FO, BenchFlight
from tests.support.small import APPROACH, small_deck


def lane(f: BenchFlight) -> list[tuple[Duty, str, str]]:
    return [(d.duty, d.ref, str(d.seat)) for d in owed(f.deck, f.session)]


# ---- a wrong value


def test_a_wrong_value_is_put_right_after_other_acts() -> None:
    """250 keyed for 150, others act, 150 keyed: it is taken, no repetition, and the slip is trapped when it shows."""
    f = flight().wait(1)
    f.does(CPT, "speed", 250.0, selected_speed_kt=250.0)
    assert only(f, Slip.UNVERIFIED) == ["speed"]
    f.does(CPT, "brief").does(FO, "brief").wait(8)
    f.does(CPT, "speed", 150.0, selected_speed_kt=150.0)
    assert only(f, Slip.REPEATED) == []
    [wrong] = f.raised(Slip.UNVERIFIED)
    assert wrong.trapped_by is not None
    assert [event.value for event in f.of(ev.ItemDone) if event.item == "speed"] == [250.0, 150.0]
    assert f.session.item("speed").is_done


FIGURES = """      - item: mass
        do: Landing mass
        to: "{pressure_left_hpa}"
        value: pressure_left_hpa
        point: true
        why: A figure that moves nothing.
      - item: missed
"""


def figured() -> BenchFlight:
    f = prepared(BenchFlight(small_deck(approach=changed(APPROACH, "      - item: missed\n", FIGURES))))
    return f.reads(distance_nm=9.0)


def test_a_wrong_figure_that_moves_nothing_is_put_right_by_the_right_one() -> None:
    """No signal will prove it: the value that is keyed does. What was not pointed at stays so."""
    f = figured().does(FO, "mass", 999.0).wait(5)
    assert [d.actual for d in f.raised(Slip.UNVERIFIED)] == ["done without pointing", "999 was keyed"]
    f.does(FO, "mass", 1008.0)
    f.does(FO, "mass", 1009.0)
    assert only(f, Slip.REPEATED) == []
    trapped = {d.actual: d.trapped_by is not None for d in f.raised(Slip.UNVERIFIED)}
    assert trapped == {"done without pointing": False, "999 was keyed": True, "1008 was keyed": True}
    f.does(FO, "mass", 1009.0)
    assert only(f, Slip.REPEATED) == ["mass"]


def test_what_the_aircraft_shows_undone_can_be_done_again_though_it_moves_nothing() -> None:
    """The item has no control of its own; done, undone since, and done again: no repetition."""
    text = changed(APPROACH, "        moves: {gear: down, in_s: 6}\n", "")
    f = prepared(BenchFlight(small_deck(approach=text))).reads(distance_nm=9.0).does(FO, "gear-down", gear="down")
    f.does(FO, "gear-down")
    assert only(f, Slip.REPEATED) == ["gear-down"]
    f.reads(gear="up").does(FO, "gear-down")
    assert only(f, Slip.REPEATED) == ["gear-down"]


def test_a_call_said_twice_is_a_repetition() -> None:
    f = configured(flight()).reads(height_aal_ft=390.0, altitude_ft=820.0)
    f.does(FO, "minimum").does(FO, "minimum")
    assert only(f, Slip.REPEATED) == ["minimum"]


def test_the_right_value_twice_is_a_repetition() -> None:
    f = prepared(flight()).wait(5)
    f.does(CPT, "speed", 150.0)
    assert only(f, Slip.REPEATED) == ["speed"]


def test_the_same_again_while_the_control_travels_is_a_repetition() -> None:
    f = flight().wait(1)
    f.send(inp.Act(at=f.now, seat=CPT, item="speed", value=150.0))
    f.send(inp.Act(at=f.now, seat=CPT, item="speed", value=150.0))
    assert only(f, Slip.REPEATED) == ["speed"]


def test_a_control_that_went_back_can_be_set_again() -> None:
    """Gear down and seen, then up: lowered again, that is no repetition."""
    f = configured(flight()).wait(8)
    f.reads(gear="up").wait(1)
    f.does(FO, "gear-down", gear="down")
    assert only(f, Slip.REPEATED) == []


def test_what_is_as_it_should_be_is_a_repetition() -> None:
    f = configured(flight()).wait(8)
    f.does(FO, "gear-down")
    assert only(f, Slip.REPEATED) == ["gear-down"]


@pytest.mark.parametrize("value", ["f", "", "true", 9999.0, -5.0])
def test_a_value_that_the_signal_cannot_have_is_refused(value: str | float) -> None:
    """With what was expected; nothing is done by it, and nothing moves."""
    f = flight().wait(1)
    f.send(inp.Act(at=f.now, seat=CPT, item="speed", value=value))
    [refused] = f.of(ev.Refused)
    assert "expected a number from 0 to 450 kt" in refused.because
    assert not f.session.item("speed").is_done


def test_a_number_written_as_a_word_is_one() -> None:
    f = flight().wait(1)
    f.does(CPT, "speed", "150", selected_speed_kt=150.0)
    assert f.of(ev.Refused) == []
    assert only(f, Slip.UNVERIFIED) == []


# ---- done before its time


def test_done_too_early_and_undone_it_is_owed_again_when_its_time_comes() -> None:
    """The missed-approach altitude set at 5000 ft, the selector turned since: open again at 2500 ft."""
    f = prepared(flight()).does(FO, "missed", selected_altitude_ft=3000.0).wait(8)
    assert only(f, Slip.EARLY) == ["missed"]
    f.reads(selected_altitude_ft=2000.0, distance_nm=9.0).wait(2)
    f.reads(altitude_ft=2400.0)
    assert f.session.item("missed").status is Status.OPEN
    assert any(event.because == "it is no longer so" for event in f.of(ev.ItemReopened))


def test_done_too_early_and_still_so_it_stays_done() -> None:
    f = prepared(flight()).does(FO, "missed", selected_altitude_ft=3000.0).wait(8)
    f.reads(distance_nm=9.0).reads(altitude_ft=2400.0)
    assert f.session.item("missed").is_done


FLAPS = """      - item: flap-11
        do: Flap
        to: "11"
        seen: "flap_deg >= 11"
        moves: {flap_deg: 11, in_s: 2}
        why: The first step.
      - item: flap-19
        do: Flap
        to: "19"
        seen: "flap_deg >= 19"
        moves: {flap_deg: 19, in_s: 2}
        why: The second step.
"""


def stepped() -> BenchFlight:
    text = changed(APPROACH, "      - item: missed\n", FLAPS + "      - item: missed\n")
    f = prepared(BenchFlight(small_deck(approach=text), flap_deg=0.0))
    return f.reads(distance_nm=9.0)


def test_steps_in_the_wrong_order_leave_the_later_one_owed_again() -> None:
    """Flap 19, then 11: the lever is at 11, so 19 is owed again."""
    f = stepped().does(FO, "flap-19", flap_deg=19.0).wait(5)
    f.does(FO, "flap-11", flap_deg=11.0).wait(5)
    assert f.session.item("flap-19").is_owed
    assert f.session.item("flap-11").is_done
    f.does(FO, "flap-19", flap_deg=19.0).wait(5)
    assert f.session.item("flap-19").is_done
    assert f.session.item("flap-11").is_done


def test_steps_in_order_stay_done() -> None:
    f = stepped().does(FO, "flap-11", flap_deg=11.0).wait(5).does(FO, "flap-19", flap_deg=19.0).wait(5)
    f.does(FO, "gear-down", gear="down").does(FO, "flap-land", flap_deg=31.0).wait(8)
    assert f.of(ev.ItemReopened) == []


# ---- a gate that was not met


def failed() -> BenchFlight:
    f = configured(flight()).reads(distance_nm=5.0, altitude_ft=1500.0, height_aal_ft=1000.0)
    assert f.of(ev.GateFailed)
    return f


def test_a_failed_gate_puts_the_go_around_on_both_lines() -> None:
    """First on the lane of either seat while its seconds run: one key, and it is flown."""
    f = failed()
    gate = f.of(ev.GateFailed)[0].gate
    assert lane(f)[:2] == [(Duty.GO_AROUND, gate, "captain"), (Duty.GO_AROUND, gate, "first_officer")]
    f.send(inp.GoAround(at=f.now, seat=FO))
    assert f.session.phase == "go_around"
    assert not any(duty is Duty.GO_AROUND for duty, _, _ in lane(f))


def go_arounds(f: BenchFlight) -> list[tuple[str, bool]]:
    """The seats that are shown a go-around, and whether it is their key's."""
    return [(str(d.seat), d.ready) for d in owed(f.deck, f.session) if d.duty is Duty.GO_AROUND]


def test_gone_past_it_the_line_is_free_again() -> None:
    """It is still shown on both lanes in the air, but no key is led to it; after touchdown it is gone."""
    f = failed()
    assert go_arounds(f) == [("captain", True), ("first_officer", True)]
    f.wait(20)
    assert only(f, Slip.CONTINUED_PAST_GATE)
    assert go_arounds(f) == [("captain", False), ("first_officer", False)]
    f.reads(on_ground=True)
    assert go_arounds(f) == []


def test_of_two_gates_the_later_one_counts() -> None:
    """Not stable at 1000, gone past, and stable at 500: no go-around is asked any more."""
    later = """  - gate: later
    title: Stabilised lower
    at: "height_aal_ft <= 500"
    must:
      - {that: "gear == 'down'", words: gear}
    fail: {go: go_around, within_s: 6}
    why: A second look.
"""
    f = configured(BenchFlight(small_deck(approach=APPROACH + later)))
    f.reads(distance_nm=5.0, altitude_ft=1500.0, height_aal_ft=1000.0).wait(10)
    assert go_arounds(f) == [("captain", False), ("first_officer", False)]
    f.reads(height_aal_ft=500.0)
    assert go_arounds(f) == []
    g = configured(BenchFlight(small_deck(approach=APPROACH + later)))
    g.reads(distance_nm=5.0, altitude_ft=1500.0, height_aal_ft=1000.0).wait(10).reads(gear="up", height_aal_ft=500.0)
    assert [(d.ref, d.ready) for d in owed(g.deck, g.session) if d.duty is Duty.GO_AROUND] == [("later", True)] * 2


def test_committed_to_the_landing_no_go_around_is_shown() -> None:
    f = failed().reads(reverse="idle")
    assert go_arounds(f) == []


# ---- a line passed over


def passed() -> BenchFlight:
    """The first line passed over, the others answered."""
    f = configured(flight()).reads(distance_nm=7.5).calls(CPT, "landing-list")
    f.send(inp.SkipLine(at=f.now, seat=FO, checklist="landing-list"))
    f.asks(FO, "landing-list").says(CPT, "ll-altimeters").says(FO, "ll-altimeters")
    return f.asks(FO, "landing-list").says(CPT, "ll-flap")


def test_the_reader_is_led_back_to_a_line_passed_over() -> None:
    f = passed()
    mine = [(duty, ref) for duty, ref, seat in lane(f) if seat == "first_officer"]
    assert mine[:2] == [(Duty.READ, "ll-gear"), (Duty.COMPLETE, "landing-list")]
    f.asks(FO, "landing-list").says(CPT, "ll-gear").completes(FO, "landing-list")
    assert only(f, Slip.OMITTED) == []
    assert f.session.list("landing-list").status is ListStatus.COMPLETE


def test_called_complete_without_it_it_was_omitted() -> None:
    f = passed().completes(FO, "landing-list")
    assert only(f, Slip.OMITTED) == ["ll-gear"]


def test_with_nothing_passed_over_there_is_nothing_to_go_back_to() -> None:
    f = listed(configured(flight()))
    assert [(duty, ref) for duty, ref, seat in lane(f) if seat == "first_officer"] == [(Duty.COMPLETE, "landing-list")]
