"""Each class of deviation: one flight that raises it, one that does not. A table holds the two together."""

import inspect

import pytest

from flowdeck.model import inputs as inp
from flowdeck.model.deviation import MEANING, Severity, Slip, Trapper
from tests.support.bench import CPT, FO, BenchFlight
from tests.support.small import small_deck

DECK = small_deck()


def flight(*, solo: bool = False, **signals: object) -> BenchFlight:
    return BenchFlight(DECK, solo=solo, **signals)  # type: ignore[arg-type]  # test signals are scalars


def only(f: BenchFlight, slip: Slip) -> list[str]:
    return [d.item for d in f.raised(slip)]


def prepared(f: BenchFlight) -> BenchFlight:
    """What is owed from the start, done rightly."""
    f.wait(1).does(CPT, "brief").does(FO, "brief").does(CPT, "speed", selected_speed_kt=150.0)
    return f.points(FO, "aids").does(FO, "aids")


def configured(f: BenchFlight) -> BenchFlight:
    prepared(f).reads(distance_nm=9.0)
    return f.does(FO, "gear-down", gear="down").does(FO, "flap-land", flap_deg=31.0)


def listed(f: BenchFlight) -> BenchFlight:
    """The landing list called and read down to its last line."""
    f.reads(distance_nm=7.5).calls(CPT, "landing-list")
    f.asks(FO, "landing-list").says(CPT, "ll-gear")
    f.asks(FO, "landing-list").says(CPT, "ll-altimeters").says(FO, "ll-altimeters")
    return f.asks(FO, "landing-list").says(CPT, "ll-flap")


def on_ground(f: BenchFlight) -> BenchFlight:
    """Landed, stopped, in the last phase of the small deck, nothing done there yet."""
    listed(configured(f)).completes(FO, "landing-list")
    f.reads(height_aal_ft=390.0, altitude_ft=820.0, distance_nm=1.2)
    f.does(FO, "missed", selected_altitude_ft=3000.0)
    f.does(FO, "minimum").does(CPT, "minimum-answer")
    f.reads(on_ground=True, height_aal_ft=0.0, altitude_ft=430.0)
    f.does(CPT, "reverse", reverse="full").does(FO, "cabin")
    return f.tells("vacated", seat=FO).reads(ground_power=True)


def test_omitted() -> None:
    """The phase ends and the reverse was never selected."""
    f = on_ground(flight())
    assert only(f, Slip.OMITTED) == []
    f = listed(configured(flight()))
    f.completes(FO, "landing-list").reads(height_aal_ft=390.0, altitude_ft=820.0)
    f.does(FO, "missed", selected_altitude_ft=3000.0).does(FO, "minimum").does(CPT, "minimum-answer")
    f.reads(on_ground=True).does(FO, "cabin").tells("vacated", seat=FO)
    assert only(f, Slip.OMITTED) == ["reverse"]


def test_late_and_its_correction() -> None:
    """The speed is due within a minute; done after that it was late, and the tool had shown it."""
    f = flight()
    f.wait(61)
    [late] = f.raised(Slip.LATE)
    assert (late.item, late.seat, late.severity) == ("speed", CPT, Severity.CAUTION)
    f.does(CPT, "brief").does(FO, "brief").does(CPT, "speed", selected_speed_kt=150.0)
    assert f.raised(Slip.LATE)[0].trapped_by is Trapper.TOOL
    assert only(prepared(flight()).wait(70), Slip.LATE) == []


def test_late_becomes_omitted() -> None:
    """A late item that is never done counts once, as omitted."""
    f = flight()
    f.wait(61).reads(height_aal_ft=390.0, altitude_ft=820.0, distance_nm=1.0)
    f.does(FO, "minimum").does(CPT, "minimum-answer")
    [late] = [d for d in f.raised(Slip.LATE) if d.item == "speed"]
    [omitted] = [d for d in f.raised(Slip.OMITTED) if d.item == "speed"]
    assert late.superseded_by == omitted.number


def test_early() -> None:
    """Gear called down at 20 NM; and the missed-approach altitude moved too early, seen by the signal alone."""
    f = prepared(flight())
    assert only(f, Slip.EARLY) == []
    f.does(FO, "gear-down", gear="down")
    assert only(f, Slip.EARLY) == ["gear-down"]
    g = prepared(flight()).reads(selected_altitude_ft=3000.0)
    [early] = g.raised(Slip.EARLY)
    assert (early.item, early.seat, early.reason) == ("missed", None, "The autopilot would level off.")


def test_out_of_order_by_an_edge() -> None:
    """Landing flap before gear breaks a hard edge whose reason is safety: a warning, with its reason."""
    f = prepared(flight()).reads(distance_nm=9.0).does(FO, "flap-land", flap_deg=31.0)
    [broken] = f.raised(Slip.OUT_OF_ORDER)
    assert (broken.item, broken.severity) == ("flap-land", Severity.WARNING)
    assert "warning for gear" in broken.reason
    assert only(configured(flight()), Slip.OUT_OF_ORDER) == []


def test_out_of_order_by_a_limit() -> None:
    """Gear above its speed limit; an unknown speed forbids nothing."""
    f = prepared(flight(ias_kt=230.0)).reads(distance_nm=9.0).does(FO, "gear-down", gear="down")
    assert only(f, Slip.OUT_OF_ORDER) == ["gear-down"]
    assert "220" in f.raised(Slip.OUT_OF_ORDER)[0].expected
    g = prepared(flight(ias_kt=None)).reads(distance_nm=9.0).does(FO, "gear-down", gear="down")
    assert only(g, Slip.OUT_OF_ORDER) == []


def test_flow_order() -> None:
    """Aids before the speed next to it on the panel: advice, and never a block."""
    f = flight().wait(1).does(CPT, "brief").does(FO, "brief")
    f.points(FO, "aids").does(FO, "aids")
    [advice] = f.raised(Slip.FLOW_ORDER)
    assert (advice.item, advice.severity) == ("aids", Severity.ADVICE)
    assert "aids" in f.session.done
    assert only(prepared(flight()), Slip.FLOW_ORDER) == []


def test_repeated() -> None:
    f = prepared(flight())
    assert only(f, Slip.REPEATED) == []
    assert only(f.does(CPT, "speed"), Slip.REPEATED) == ["speed"]


def test_wrong_seat() -> None:
    """The pilot monitoring sets the speed that the pilot flying owes."""
    f = flight().wait(1).does(CPT, "brief").does(FO, "brief").does(FO, "speed", selected_speed_kt=150.0)
    [wrong] = f.raised(Slip.WRONG_SEAT)
    assert (wrong.item, wrong.seat) == ("speed", FO)
    assert only(prepared(flight()), Slip.WRONG_SEAT) == []


def test_unverified_tick() -> None:
    """The lever was said to be moved and the gear is still up when it should be down; seen later, it is trapped."""
    f = prepared(flight()).reads(distance_nm=9.0).does(FO, "gear-down").wait(11)
    [said] = f.raised(Slip.UNVERIFIED)
    assert (said.item, said.seat) == ("gear-down", FO)
    assert f.reads(gear="down").raised(Slip.UNVERIFIED)[0].trapped_by is Trapper.TOOL
    assert only(configured(flight()).wait(20), Slip.UNVERIFIED) == []


def test_unverified_without_pointing() -> None:
    f = flight().wait(1).does(FO, "aids")
    assert only(f, Slip.UNVERIFIED) == ["aids"]


def test_unverified_wrong_value() -> None:
    """Another speed is keyed than the one asked for."""
    f = flight().wait(1).does(CPT, "brief").does(FO, "brief").does(CPT, "speed", 160.0, selected_speed_kt=160.0)
    [wrong] = f.raised(Slip.UNVERIFIED)
    assert "160" in wrong.actual


def test_unverified_line() -> None:
    """'Gear: down' is answered with the gear up and its item not done."""
    f = prepared(flight()).reads(distance_nm=7.5).calls(CPT, "landing-list")
    f.asks(FO, "landing-list").says(CPT, "ll-gear")
    assert only(f, Slip.UNVERIFIED) == ["ll-gear"]
    assert only(listed(configured(flight())), Slip.UNVERIFIED) == []


def test_unverified_is_not_said_of_a_stale_signal() -> None:
    """An unheard signal contradicts nobody."""
    f = prepared(flight()).reads(distance_nm=9.0)
    f.silent.add("gear")
    f.wait(6).does(FO, "gear-down").wait(12)
    assert only(f, Slip.UNVERIFIED) == []


def test_read_do() -> None:
    """The gear goes down only after its challenge."""
    f = prepared(flight()).reads(distance_nm=7.5).calls(CPT, "landing-list").asks(FO, "landing-list")
    f.does(FO, "gear-down", gear="down").says(CPT, "ll-gear")
    assert only(f, Slip.READ_DO) == ["gear-down"]
    assert only(listed(configured(flight())), Slip.READ_DO) == []


def test_rote() -> None:
    """0.3 s is no look. One person in both seats is not judged, nor is a pace above x1."""
    for solo, pace, expected in ((False, 1.0, ["ll-gear"]), (True, 1.0, []), (False, 2.0, [])):
        f = configured(flight(solo=solo)).reads(distance_nm=7.5)
        f.send(inp.SetPace(at=f.now, pace=pace))
        f.calls(CPT, "landing-list").asks(FO, "landing-list", after_s=0.3).says(CPT, "ll-gear")
        assert only(f, Slip.ROTE) == expected
    assert only(listed(configured(flight())), Slip.ROTE) == []


def test_from_memory() -> None:
    """Called complete with lines that were never read."""
    f = configured(flight()).reads(distance_nm=7.5).calls(CPT, "landing-list")
    f.asks(FO, "landing-list").says(CPT, "ll-gear").completes(FO, "landing-list")
    assert only(f, Slip.FROM_MEMORY) == ["landing-list"]
    assert "2 of 3" in f.raised(Slip.FROM_MEMORY)[0].actual
    assert only(listed(configured(flight())).completes(FO, "landing-list"), Slip.FROM_MEMORY) == []


def test_chunked() -> None:
    """Three lines closed within a second and a half, once; not judged for one person."""
    for solo, expected in ((False, ["landing-list"]), (True, [])):
        f = configured(flight(solo=solo)).reads(distance_nm=7.5).calls(CPT, "landing-list")
        f.asks(FO, "landing-list", 0.1).says(CPT, "ll-gear", after_s=0.1)
        f.asks(FO, "landing-list", 0.1).says(CPT, "ll-altimeters", after_s=0.1)
        f.says(FO, "ll-altimeters", after_s=0.1).asks(FO, "landing-list", 0.1).says(CPT, "ll-flap")
        assert only(f, Slip.CHUNKED) == expected
    assert only(listed(configured(flight())), Slip.CHUNKED) == []


def test_nonstandard_response() -> None:
    """'Checked' names no value: the line stays open until the value is said."""
    f = configured(flight()).reads(distance_nm=7.5).calls(CPT, "landing-list")
    f.asks(FO, "landing-list").says(CPT, "ll-gear", "checked")
    assert only(f, Slip.NONSTANDARD_RESPONSE) == ["ll-gear"]
    assert "ll-gear" not in f.session.done
    f.says(CPT, "ll-gear", "down")
    assert "ll-gear" in f.session.done
    assert f.raised(Slip.NONSTANDARD_RESPONSE)[0].trapped_by is Trapper.TOOL
    assert only(listed(configured(flight())), Slip.NONSTANDARD_RESPONSE) == []


def test_not_called() -> None:
    """At 4 NM the landing list has not been called; called after that, it is caught."""
    f = configured(flight()).reads(distance_nm=7.5).reads(distance_nm=3.9)
    [missing] = f.raised(Slip.NOT_CALLED)
    assert (missing.item, missing.seat) == ("landing-list", CPT)
    f.calls(CPT, "landing-list")
    assert f.raised(Slip.NOT_CALLED)[0].trapped_by is Trapper.TOOL
    assert only(listed(configured(flight())).reads(distance_nm=3.9), Slip.NOT_CALLED) == []


def test_wrong_time() -> None:
    """Called before its window; called near a runway; read on past a hold that is not met."""
    early = configured(flight()).calls(CPT, "landing-list")
    assert only(early, Slip.WRONG_TIME) == ["landing-list"]
    near = configured(flight()).reads(distance_nm=7.5).tells("near_runway", seat=FO).calls(CPT, "landing-list")
    assert only(near, Slip.WRONG_TIME) == ["landing-list"]
    past = prepared(flight()).reads(distance_nm=9.0).does(FO, "gear-down", gear="down").reads(distance_nm=7.5)
    past.calls(CPT, "landing-list").asks(FO, "landing-list").says(CPT, "ll-gear")
    past.asks(FO, "landing-list").says(CPT, "ll-altimeters").says(FO, "ll-altimeters")
    assert only(past, Slip.WRONG_TIME) == []
    past.asks(FO, "landing-list")
    assert only(past, Slip.WRONG_TIME) == ["landing-list"]
    assert only(listed(configured(flight())), Slip.WRONG_TIME) == []


def test_no_completion() -> None:
    """Every line is answered and nobody says that the list is complete; said later, it is caught."""
    f = listed(configured(flight())).wait(21)
    assert only(f, Slip.NO_COMPLETION) == ["landing-list"]
    assert f.completes(FO, "landing-list").raised(Slip.NO_COMPLETION)[0].trapped_by is Trapper.TOOL
    held = prepared(flight()).reads(distance_nm=7.5).calls(CPT, "landing-list")
    held.send(inp.HoldList(at=held.now, seat=FO, checklist="landing-list"))
    held.reads(height_aal_ft=890.0)
    assert held.raised(Slip.NO_COMPLETION)[0].actual == "left on hold"
    assert only(listed(configured(flight())).completes(FO, "landing-list").wait(30), Slip.NO_COMPLETION) == []


def descending(f: BenchFlight) -> BenchFlight:
    return prepared(f).reads(selected_altitude_ft=4000.0, altitude_ft=5000.0, vertical_speed_fpm=-900.0)


def test_call_missed() -> None:
    """'One thousand to go' is not said; and the answer to it is not given."""
    f = descending(flight()).wait(21)
    assert only(f, Slip.CALL_MISSED) == ["to-go"]
    g = descending(flight()).wait(1).does(FO, "to-go").wait(6)
    assert only(g, Slip.CALL_MISSED) == ["to-go-answer"]
    h = descending(flight()).wait(1).does(FO, "to-go").does(CPT, "to-go-answer").wait(30)
    assert only(h, Slip.CALL_MISSED) == []


def test_call_late() -> None:
    f = descending(flight()).wait(9).does(FO, "to-go").does(CPT, "to-go-answer")
    assert only(f, Slip.CALL_LATE) == ["to-go"]
    assert only(descending(flight()).wait(1).does(FO, "to-go"), Slip.CALL_LATE) == []


def test_call_prompted() -> None:
    """Said after the prompt, before it is late; with prompts withheld the same call is on time."""
    f = descending(flight()).wait(5).does(FO, "to-go")
    assert only(f, Slip.CALL_PROMPTED) == ["to-go"]
    g = flight()
    g.send(inp.SetAid(at=0, aid="drill", withhold=True))
    assert only(descending(g).wait(5).does(FO, "to-go"), Slip.CALL_PROMPTED) == []
    assert only(descending(flight()).wait(1).does(FO, "to-go"), Slip.CALL_PROMPTED) == []


def test_gate_failed() -> None:
    """At 1000 ft the list is not complete; a go-around within the time catches it."""
    f = configured(flight()).reads(height_aal_ft=990.0)
    [failed] = f.raised(Slip.GATE_FAILED)
    assert failed.item == "stable" and "landing checklist" in failed.actual
    f.send(inp.GoAround(at=f.now + 2000, seat=FO))
    assert f.session.phase == "go_around"
    assert f.raised(Slip.GATE_FAILED)[0].trapped_by is Trapper.TOOL
    clean = listed(configured(flight())).completes(FO, "landing-list").reads(height_aal_ft=990.0)
    assert only(clean, Slip.GATE_FAILED) == []


def test_continued_past_gate() -> None:
    """No go-around within six seconds of a failed gate: a warning. On the ground: the forbidden item is done."""
    f = configured(flight()).reads(height_aal_ft=990.0).wait(7)
    [on] = f.raised(Slip.CONTINUED_PAST_GATE)
    assert (on.item, on.severity) == ("stable", Severity.WARNING)
    assert only(configured(flight()).reads(height_aal_ft=990.0).wait(4), Slip.CONTINUED_PAST_GATE) == []
    g = on_ground(flight()).reads(ground_power=False).does(CPT, "brake", parking_brake="set")
    g.does(FO, "cut", fuel_lever_1="cutoff")
    assert only(g, Slip.CONTINUED_PAST_GATE) == ["power"]


def test_standing_missed() -> None:
    """In cloud at 8 degrees for longer than 20 s without anti-ice."""
    f = prepared(flight()).reads(tat_c=8.0, in_cloud=True).wait(21)
    assert only(f, Slip.STANDING_MISSED) == ["anti-ice-on"]
    g = prepared(flight()).reads(tat_c=8.0, in_cloud=True).does(FO, "anti-ice-on", engine_anti_ice="on").wait(30)
    assert only(g, Slip.STANDING_MISSED) == []


def test_standing_left_on() -> None:
    """Out of cloud for a minute and the off half is not done within its limit."""
    f = prepared(flight()).reads(tat_c=8.0, in_cloud=True).does(FO, "anti-ice-on", engine_anti_ice="on")
    f.reads(in_cloud=False).wait(62)
    assert only(f, Slip.STANDING_LEFT_ON) == []
    f.wait(101)
    assert only(f, Slip.STANDING_LEFT_ON) == ["anti-ice-off"]
    g = prepared(flight()).reads(tat_c=8.0, in_cloud=True).does(FO, "anti-ice-on", engine_anti_ice="on")
    g.reads(in_cloud=False).wait(62).does(FO, "anti-ice-off", engine_anti_ice="off").wait(110)
    assert only(g, Slip.STANDING_LEFT_ON) == []


def test_deferred_lost() -> None:
    """Put off to a cue that has come, and not done within its time; done in time it is not lost."""
    for done, expected in ((False, ["papers"]), (True, [])):
        f = on_ground(flight())
        f.send(inp.Defer(at=f.now, seat=FO, item="papers", cue="on-ground"))
        f.wait(2)
        if done:
            f.does(FO, "papers")
        f.wait(62)
        assert only(f, Slip.DEFERRED_LOST) == expected


CASES = {
    Slip.OMITTED: test_omitted,
    Slip.LATE: test_late_and_its_correction,
    Slip.EARLY: test_early,
    Slip.OUT_OF_ORDER: test_out_of_order_by_an_edge,
    Slip.FLOW_ORDER: test_flow_order,
    Slip.REPEATED: test_repeated,
    Slip.WRONG_SEAT: test_wrong_seat,
    Slip.UNVERIFIED: test_unverified_tick,
    Slip.READ_DO: test_read_do,
    Slip.ROTE: test_rote,
    Slip.FROM_MEMORY: test_from_memory,
    Slip.CHUNKED: test_chunked,
    Slip.NONSTANDARD_RESPONSE: test_nonstandard_response,
    Slip.NOT_CALLED: test_not_called,
    Slip.WRONG_TIME: test_wrong_time,
    Slip.NO_COMPLETION: test_no_completion,
    Slip.CALL_MISSED: test_call_missed,
    Slip.CALL_LATE: test_call_late,
    Slip.CALL_PROMPTED: test_call_prompted,
    Slip.GATE_FAILED: test_gate_failed,
    Slip.CONTINUED_PAST_GATE: test_continued_past_gate,
    Slip.STANDING_MISSED: test_standing_missed,
    Slip.STANDING_LEFT_ON: test_standing_left_on,
    Slip.DEFERRED_LOST: test_deferred_lost,
}


@pytest.mark.parametrize("slip", list(Slip))
def test_every_class_has_its_pair_and_its_meaning(slip: Slip) -> None:
    """The table is whole: each class is named in a test that shows it both raised and absent."""
    source = inspect.getsource(CASES[slip])
    assert f"Slip.{slip.name}" in source
    assert "== []" in source or "expected" in source
    assert MEANING[slip].endswith(".")
