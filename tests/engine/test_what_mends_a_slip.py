"""When a slip counts as put right, by whom, and when it is too late for that."""

from collections.abc import Callable

import pytest

from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.deviation import Deviation, Slip, Trapper
from flowdeck.model.session import Evidence, Status
from tests.engine.test_edges import changed
from tests.engine.test_slips import configured, descending, flight, listed, on_ground, prepared
from tests.support.bench import CPT, FO, BenchFlight
from tests.support.small import APPROACH, small_deck

LIST = "landing-list"


def one(f: BenchFlight, slip: Slip) -> Deviation:
    [found] = f.raised(slip)
    return found


def withheld() -> BenchFlight:
    """A drill with prompts withheld: what is put right is the maker's, or the other pilot's."""
    f = flight()
    f.send(inp.SetAid(at=0, aid="drill", withhold=True))
    return f


def test_the_gate_closes_what_is_still_open() -> None:
    """The speed was late; done before the gate it is caught, done after it no more."""
    f = flight().wait(61).does(CPT, "brief").does(FO, "brief").does(CPT, "speed", selected_speed_kt=150.0)
    assert one(f, Slip.LATE).trapped_by is Trapper.TOOL
    assert not one(f.reads(height_aal_ft=990.0), Slip.LATE).closed  # it was settled before
    g = flight().wait(61).reads(height_aal_ft=990.0)
    assert one(g, Slip.LATE).closed and not one(g, Slip.GATE_FAILED).closed
    g.does(CPT, "brief").does(FO, "brief").does(CPT, "speed", selected_speed_kt=150.0)
    assert (one(g, Slip.LATE).trapped_by, one(g, Slip.LATE).trapped_at) == (None, None)


def test_one_slip_put_right_does_not_hide_the_next() -> None:
    """The speed was late and is caught; the gear is said before it is down, and is caught too when it shows."""
    f = flight().wait(61).does(CPT, "brief").does(FO, "brief").does(CPT, "speed", selected_speed_kt=150.0)
    f.points(FO, "aids").does(FO, "aids").reads(distance_nm=9.0).does(FO, "gear-down").wait(11)
    assert (one(f, Slip.LATE).trapped_by, one(f, Slip.UNVERIFIED).trapped_by) == (Trapper.TOOL, None)
    f.reads(gear="down")
    assert one(f, Slip.UNVERIFIED).trapped_by is Trapper.TOOL


def test_what_both_owe_is_late_for_neither_alone() -> None:
    """The briefing is owed by both: the record names no seat."""
    text = changed(APPROACH, "to: GIVEN, by: both,", "to: GIVEN, by: both, late: {after_s: 5},")
    f = BenchFlight(small_deck(approach=text)).wait(6)
    assert (one(f, Slip.LATE).item, one(f, Slip.LATE).seat) == ("brief", None)


def test_a_gate_that_is_passed_closes_too() -> None:
    """A seat that was wrong before the gate stays so; what came after it is still open."""
    f = listed(configured(flight())).completes(FO, LIST).does(CPT, "brief")
    assert not one(f, Slip.REPEATED).closed
    f.reads(height_aal_ft=990.0)
    assert f.session.gates["stable"].status == "passed" and "stable" in f.session.done
    assert one(f, Slip.REPEATED).closed
    f.does(CPT, "speed")
    assert [d.closed for d in f.raised(Slip.REPEATED)] == [True, False]


def test_a_go_around_makes_good_the_gate_and_nothing_else() -> None:
    """The gate failed, and then the wrong pilot ticked the speed: going around catches the gate alone."""
    f = configured(flight()).reads(height_aal_ft=990.0).does(CPT, "speed")
    f.send(inp.GoAround(at=f.now, seat=CPT))
    assert one(f, Slip.GATE_FAILED).trapped_by is Trapper.TOOL
    assert one(f, Slip.REPEATED).trapped_by is None
    assert [e.gate for e in f.of(ev.GateMended)] == ["stable"]
    assert f.raised(Slip.CONTINUED_PAST_GATE) == []


def test_a_go_around_after_continuing_is_still_one() -> None:
    """Eight seconds too late: the gate is made good, the going on past it too, both in the record."""
    f = configured(flight()).reads(height_aal_ft=990.0).wait(8)
    assert f.session.gates["stable"].status == "overrun"
    f.send(inp.GoAround(at=f.now, seat=FO))
    assert one(f, Slip.CONTINUED_PAST_GATE).trapped_by is Trapper.TOOL
    assert one(f, Slip.GATE_FAILED).trapped_by is Trapper.TOOL


def test_the_gate_is_judged_once_however_often_its_height_is_passed() -> None:
    """Back up to 1100 ft and down again: one judgement of one approach."""
    f = listed(configured(flight())).completes(FO, LIST).reads(height_aal_ft=990.0)
    f.reads(height_aal_ft=1100.0, gear="up").reads(height_aal_ft=990.0)
    assert len(f.of(ev.GatePassed)) == 1 and f.of(ev.GateFailed) == []
    g = configured(flight()).reads(height_aal_ft=990.0).reads(height_aal_ft=1100.0).reads(height_aal_ft=990.0)
    assert len(g.of(ev.GateFailed)) == 1


def test_a_stop_is_over_when_its_conditions_hold() -> None:
    """The brake is set without power; power comes: the gate is mended and its slip caught, no other."""
    f = on_ground(flight()).reads(ground_power=False).does(CPT, "brake", parking_brake="set").does(CPT, "brake")
    assert f.session.gates["power"].status == "failed"
    assert f.session.gates["power"].failing == ("a power source",)
    f.reads(ground_power=True)
    assert (f.session.gates["power"].status, f.session.gates["power"].decide_at) == ("mended", None)
    assert one(f, Slip.GATE_FAILED).trapped_by is Trapper.TOOL
    assert one(f, Slip.REPEATED).trapped_by is None
    f.does(FO, "cut", fuel_lever_1="cutoff")
    assert f.raised(Slip.CONTINUED_PAST_GATE) == []


def test_a_critical_item_that_is_put_off_fails_the_gate() -> None:
    """Deferred is not done: the gate names it beside what else is missing."""
    f = prepared(flight()).reads(distance_nm=9.0)
    f.send(inp.Defer(at=f.now, seat=FO, item="gear-down", cue="on-ground"))
    f.reads(height_aal_ft=990.0)
    assert f.session.gates["stable"].failing == ("gear", "landing checklist", "deferred: Gear DOWN")
    g = prepared(flight()).reads(distance_nm=9.0).does(FO, "gear-down", gear="down")
    g.send(inp.Defer(at=g.now, seat=FO, item="flap-land", cue="on-ground"))
    g.reads(height_aal_ft=990.0)
    assert g.session.gates["stable"].failing == ("landing checklist",)


def test_the_call_at_the_next_level_does_not_make_good_the_one_before() -> None:
    """'One thousand to go' was missed at the first level-off and said at the second: the first stays missed."""
    f = descending(flight()).wait(21)
    assert one(f, Slip.CALL_MISSED).item == "to-go"
    f.reads(altitude_ft=9000.0).reads(altitude_ft=5000.0).does(FO, "to-go")
    assert "to-go" in f.session.done
    assert one(f, Slip.CALL_MISSED).trapped_by is None
    g = descending(flight()).wait(21).does(FO, "to-go")
    assert one(g, Slip.CALL_MISSED).trapped_by is Trapper.TOOL


def test_what_was_omitted_and_is_seen_later_is_made_good() -> None:
    """The missed-approach altitude was forgotten on the approach and is set in the landing phase."""
    f = listed(configured(flight())).completes(FO, LIST).reads(height_aal_ft=390.0, altitude_ft=820.0)
    f.does(FO, "minimum").does(CPT, "minimum-answer")
    assert f.session.phase == "landing"
    assert (one(f, Slip.OMITTED).item, one(f, Slip.OMITTED).trapped_by) == ("missed", None)
    f.wait(1).reads(selected_altitude_ft=3000.0)
    state = f.session.item("missed")
    assert (state.status, state.evidence, state.seat) == (Status.DONE, Evidence.SEEN, None)
    assert one(f, Slip.OMITTED).trapped_by is Trapper.TOOL


def late(f: BenchFlight) -> BenchFlight:
    return f.wait(61).does(CPT, "brief").does(FO, "brief")


def not_called(f: BenchFlight) -> BenchFlight:
    return configured(f).reads(distance_nm=7.5).reads(distance_nm=3.9)


def not_completed(f: BenchFlight) -> BenchFlight:
    return listed(configured(f)).wait(21)


Case = tuple[Callable[[BenchFlight], BenchFlight], Slip, Callable[[BenchFlight], object], Trapper]
BY: list[Case] = [
    (late, Slip.LATE, lambda f: f.does(CPT, "speed"), Trapper.MAKER),
    (late, Slip.LATE, lambda f: f.does(FO, "speed"), Trapper.OTHER_SEAT),
    (late, Slip.LATE, lambda f: f.reads(selected_speed_kt=150.0), Trapper.MAKER),
    (not_called, Slip.NOT_CALLED, lambda f: f.calls(CPT, LIST), Trapper.MAKER),
    (not_called, Slip.NOT_CALLED, lambda f: f.calls(FO, LIST), Trapper.OTHER_SEAT),
    (not_completed, Slip.NO_COMPLETION, lambda f: f.completes(FO, LIST), Trapper.MAKER),
    (not_completed, Slip.NO_COMPLETION, lambda f: f.completes(CPT, LIST), Trapper.OTHER_SEAT),
]


@pytest.mark.parametrize(("flown", "slip", "mends", "by"), BY)
def test_with_prompts_withheld_it_is_the_pilot_who_put_it_right(
    flown: Callable[[BenchFlight], BenchFlight], slip: Slip, mends: Callable[[BenchFlight], object], by: Trapper
) -> None:
    """The maker's own correction, or the other pilot's; with prompts shown the same one is the tool's."""
    f = flown(withheld())
    assert one(f, slip).trapped_by is None
    mends(f)
    assert (one(f, slip).trapped_by, one(f, slip).trapped_at is None) == (by, False)
    shown = flown(flight())
    mends(shown)
    assert one(shown, slip).trapped_by is Trapper.TOOL


def test_alone_nobody_else_put_it_right() -> None:
    """One person in both seats: the correction is the maker's, whichever seat it came from."""
    f = flight(solo=True)
    f.send(inp.SetAid(at=0, aid="drill", withhold=True))
    not_called(f).calls(FO, LIST)
    assert one(f, Slip.NOT_CALLED).trapped_by is Trapper.MAKER


def test_a_call_out_of_time_is_its_own_correction() -> None:
    """Late or prompted, it was said after all, by the pilot who owes it."""
    f = descending(withheld()).wait(9).does(FO, "to-go")
    assert one(f, Slip.CALL_LATE).trapped_by is Trapper.MAKER
    g = descending(withheld()).wait(9).does(CPT, "to-go")
    assert (one(g, Slip.CALL_LATE).seat, one(g, Slip.CALL_LATE).trapped_by) == (CPT, Trapper.MAKER)


def test_a_late_call_is_late_at_its_limit_even_before_anyone_noted_it() -> None:
    """Said in the very input at which its time runs out."""
    f = descending(flight())
    opened = f.session.item("to-go").opened_at
    assert opened is not None
    for at, late_ in ((opened + 7_999, []), (opened + 8_000, ["to-go"])):
        g = descending(flight())
        g.now = at
        g.send(inp.Act(at=at, seat=FO, item="to-go"))
        assert [d.item for d in g.raised(Slip.CALL_LATE)] == late_


def test_two_neighbours_passed_over_are_two_things_to_put_right() -> None:
    """Speed and briefing come first on the panel: the advice is settled only when both are done."""
    after = "        point: true\n        after: [{item: brief, order: flow}]\n"
    f = BenchFlight(small_deck(approach=changed(APPROACH, "        point: true\n", after))).wait(1)
    f.points(FO, "aids").does(FO, "aids")
    assert set(one(f, Slip.FLOW_ORDER).cures) == {"brief", "speed"}
    f.does(CPT, "speed", selected_speed_kt=150.0)
    assert f.raised(Slip.FLOW_ORDER)[0].trapped_by is None
    f.does(CPT, "brief").does(FO, "brief")
    assert f.raised(Slip.FLOW_ORDER)[0].trapped_by is Trapper.TOOL
