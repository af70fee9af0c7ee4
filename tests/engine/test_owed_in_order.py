"""What each seat owes, in order of urgency, with what it waits for: what the guided lanes show line by line."""

from flowdeck.engine.owed import Duty, Owed, owed, to_input
from flowdeck.model import inputs as inp
from flowdeck.model.seats import Seat
from tests.engine.test_edges import changed
from tests.engine.test_slips import configured, descending, flight, listed, on_ground, prepared
from tests.support.bench import CPT, FO, BenchFlight
from tests.support.small import APPROACH, small_deck

LIST = "landing-list"
GEAR_LINE = "by: pilot_flying, verifies: gear-down, seen: \"gear == 'down'\"}"


def lane(f: BenchFlight, seat: Seat | None = None) -> list[tuple[Duty, str]]:
    """Duty and name of all that is owed (by one seat), most urgent first."""
    return [(d.duty, d.ref) for d in owed(f.deck, f.session) if seat in (None, d.seat)]


def the(f: BenchFlight, duty: Duty, ref: str, seat: Seat | None = None) -> Owed:
    [found] = [d for d in owed(f.deck, f.session) if (d.duty, d.ref) == (duty, ref) and seat in (None, d.seat)]
    return found


def called() -> BenchFlight:
    return configured(flight()).reads(distance_nm=7.5).calls(CPT, LIST)


def test_at_first_each_seat_sees_its_own_in_the_order_of_the_deck() -> None:
    """Both owe the briefing; the speed is the pilot flying's; the aids are pointed at before they are done."""
    f = flight().wait(1)
    assert lane(f, CPT) == [(Duty.DO, "brief"), (Duty.DO, "speed")]
    assert lane(f, FO) == [(Duty.POINT, "aids"), (Duty.DO, "brief")]
    f.does(CPT, "brief")
    assert lane(f, CPT) == [(Duty.DO, "speed")]
    assert (Duty.DO, "brief") in lane(f, FO)
    f.points(FO, "aids")
    assert lane(f, FO) == [(Duty.DO, "brief"), (Duty.DO, "aids")]
    assert [d.since for d in owed(f.deck, f.session)] == [0, 0, 0]


def test_what_is_late_goes_before_what_stands_before_it() -> None:
    """The speed is late: it stands above the briefing, which is not, and is marked so."""
    f = flight().wait(61)
    assert lane(f, CPT) == [(Duty.DO, "speed"), (Duty.DO, "brief")]
    assert the(f, Duty.DO, "speed").overdue and not the(f, Duty.DO, "brief", CPT).overdue


def test_a_standing_item_goes_before_the_flows() -> None:
    """In icing the anti-ice comes first, before anything is late."""
    f = flight().reads(tat_c=8.0, in_cloud=True)
    assert lane(f, FO)[0] == (Duty.DO, "anti-ice-on")
    assert the(f, Duty.DO, "anti-ice-on").standing and not the(f, Duty.DO, "anti-ice-on").overdue
    assert not the(f, Duty.DO, "brief", FO).standing


def test_a_call_and_its_answer_go_before_all_that_hands_do() -> None:
    """One thousand to go: the words come first; then the other pilot's 'agreed'."""
    f = descending(flight()).reads(distance_nm=9.0)
    opened = f.session.item("to-go").opened_at
    assert lane(f, FO)[0] == (Duty.SAY, "to-go")
    assert the(f, Duty.SAY, "to-go").since == opened
    f.does(FO, "to-go")
    assert lane(f, CPT)[0] == (Duty.ANSWER_CALL, "to-go-answer")


def test_a_challenge_and_an_offer_go_before_everything() -> None:
    """The other pilot's question, then control that was offered; each with the moment at which it began."""
    f = descending(flight())
    f.send(inp.Challenge(at=f.now, seat=FO, about="speed"))
    f.send(inp.Transfer(at=f.now + 10, seat=CPT, part="offer"))
    assert lane(f, CPT)[0] == (Duty.REPLY, "speed")
    assert lane(f, FO)[:2] == [(Duty.TAKE_CONTROL, "control"), (Duty.SAY, "to-go")]
    assert (the(f, Duty.REPLY, "speed").since, the(f, Duty.TAKE_CONTROL, "control").since) == (f.now, f.now + 10)
    f.send(inp.Transfer(at=f.now + 20, seat=FO, part="take"))
    assert lane(f, CPT)[:2] == [(Duty.REPLY, "speed"), (Duty.CONFIRM_CONTROL, "control")]
    assert the(f, Duty.CONFIRM_CONTROL, "control").since == f.now + 20


def test_a_hard_predecessor_is_waited_for_until_it_is_there() -> None:
    """The flap waits for the gear: while it is not done, and while it is still on its way."""
    f = prepared(flight()).reads(distance_nm=9.0)
    assert the(f, Duty.DO, "flap-land").waits_for == ("gear-down",)
    assert the(f, Duty.DO, "gear-down").waits_for == () and the(f, Duty.DO, "gear-down").ready
    f.does(FO, "gear-down")
    assert f.session.item("gear-down").is_done
    assert the(f, Duty.DO, "flap-land").waits_for == ("gear-down",)
    f.reads(gear="down")
    assert the(f, Duty.DO, "flap-land").waits_for == () and the(f, Duty.DO, "flap-land").ready


def test_a_limit_is_waited_for_with_its_reason() -> None:
    """Too fast for the gear: the lane says why it waits."""
    f = prepared(flight(ias_kt=230.0)).reads(distance_nm=9.0)
    assert the(f, Duty.DO, "gear-down").waits_for == ("The doors do not stand more.",)
    f.reads(ias_kt=None)
    assert the(f, Duty.DO, "gear-down").waits_for == ()


def test_a_neighbour_of_the_panel_goes_first_but_is_not_waited_for() -> None:
    f = flight().wait(1)
    aids = the(f, Duty.POINT, "aids")
    assert (aids.waits_for, aids.panel_first, aids.ready) == ((), ("speed",), False)
    f.does(CPT, "speed", selected_speed_kt=150.0)
    assert the(f, Duty.POINT, "aids").panel_first == ()


def test_a_failed_gate_is_waited_for_by_what_it_stops() -> None:
    """No engine cut without a power source; the papers do not wait."""
    f = on_ground(flight()).reads(ground_power=False).does(CPT, "brake", parking_brake="set")
    assert the(f, Duty.DO, "cut").waits_for == ("power",)
    assert the(f, Duty.DO, "papers").waits_for == ()
    f.reads(ground_power=True)
    assert the(f, Duty.DO, "cut").waits_for == ()


def test_a_list_to_call_names_what_its_first_lines_verify_and_is_still_open() -> None:
    """Up to the hold that is not met, and not beyond it: the flap comes after the hold."""
    f = prepared(flight()).reads(distance_nm=7.5)
    opened = f.session.list(LIST).opened_at
    duty = the(f, Duty.CALL_LIST, LIST)
    assert (duty.seat, duty.checklist, duty.since, duty.overdue) == (CPT, LIST, opened, False)
    assert (duty.waits_for, duty.panel_first) == ((), ("gear-down",))
    f.does(FO, "gear-down", gear="down")
    assert the(f, Duty.CALL_LIST, LIST).panel_first == ()
    f.reads(distance_nm=3.9)
    assert the(f, Duty.CALL_LIST, LIST).overdue


def test_a_list_names_only_what_is_open() -> None:
    """The flap is at 31 already and so is found as done, beyond a hold that is met: only the gear is left."""
    f = prepared(flight(flap_deg=31.0)).reads(distance_nm=7.5)
    assert f.session.item("flap-land").is_done
    assert the(f, Duty.CALL_LIST, LIST).panel_first == ("gear-down",)


def test_a_list_not_to_be_called_now_says_why() -> None:
    f = configured(flight()).reads(distance_nm=7.5).tells("near_runway", seat=FO)
    assert the(f, Duty.CALL_LIST, LIST).waits_for == ("not while near a runway",)
    f.tells("near_runway", value=False, seat=FO)
    assert the(f, Duty.CALL_LIST, LIST).waits_for == ()


def test_reading_and_answering_take_turns() -> None:
    """The reader owes the challenge, then the pilot flying the answer; each counts from the other."""
    f = called()
    called_at = f.session.list(LIST).called_at
    read = the(f, Duty.READ, "ll-gear")
    assert (read.seat, read.checklist, read.since) == (FO, LIST, called_at)
    assert (read.overdue, read.standing, read.restart) == (False, False, False)
    f.asks(FO, LIST)
    answer = the(f, Duty.ANSWER, "ll-gear")
    assert (answer.seat, answer.checklist, answer.since) == (CPT, LIST, f.session.item("ll-gear").read_at)
    assert (answer.waits_for, answer.panel_first) == ((), ())
    f.says(CPT, "ll-gear")
    assert the(f, Duty.READ, "ll-altimeters").since == f.session.list(LIST).answered[-1]
    f.asks(FO, LIST)
    assert {d.seat for d in owed(f.deck, f.session) if d.duty is Duty.ANSWER} == {CPT, FO}
    f.says(CPT, "ll-altimeters")
    assert the(f, Duty.ANSWER, "ll-altimeters").seat is FO


def test_a_line_whose_item_is_open_is_read_after_it() -> None:
    """Read over a finished flow: the reader and the one who answers are both shown what comes first."""
    f = prepared(flight()).reads(distance_nm=7.5).calls(CPT, LIST)
    assert the(f, Duty.READ, "ll-gear").panel_first == ("gear-down",)
    f.asks(FO, LIST)
    assert the(f, Duty.ANSWER, "ll-gear").panel_first == ("gear-down",)
    f.does(FO, "gear-down")
    answer = the(f, Duty.ANSWER, "ll-gear")
    assert (answer.waits_for, answer.panel_first) == (("gear-down",), ())
    f.reads(gear="down")
    assert the(f, Duty.ANSWER, "ll-gear").ready


def test_a_line_of_two_items_names_the_one_that_is_left() -> None:
    """The gear is down and the flap is not: the flap is what comes first."""
    both = GEAR_LINE.replace("verifies: gear-down", "verifies: [gear-down, flap-land]")
    f = prepared(BenchFlight(small_deck(approach=changed(APPROACH, GEAR_LINE, both)))).reads(distance_nm=9.0)
    f.does(FO, "gear-down", gear="down").reads(distance_nm=7.5).calls(CPT, LIST)
    assert the(f, Duty.READ, "ll-gear").panel_first == ("flap-land",)


def test_what_cannot_be_done_yet_does_not_keep_a_line_waiting() -> None:
    """Too fast for the gear: its line may be read, since nobody can do better now."""
    f = prepared(flight(ias_kt=230.0)).reads(distance_nm=7.5).calls(CPT, LIST)
    assert the(f, Duty.READ, "ll-gear").panel_first == ()


def test_a_line_is_pointed_at_where_the_card_says_so() -> None:
    """First the hand, then the word."""
    line = "{line: ll-gear, challenge: Gear, respond: DOWN, "
    f = configured(BenchFlight(small_deck(approach=changed(APPROACH, line, line + "point: true, "))))
    f.reads(distance_nm=7.5).calls(CPT, LIST).asks(FO, LIST)
    assert lane(f, CPT)[0] == (Duty.POINT, "ll-gear")
    f.points(CPT, "ll-gear")
    assert lane(f, CPT)[0] == (Duty.ANSWER, "ll-gear")


def test_the_completion_is_owed_from_the_last_answer() -> None:
    """By the reader, since the moment at which all lines were closed."""
    f = listed(configured(flight()))
    duty = the(f, Duty.COMPLETE, LIST)
    assert (duty.seat, duty.checklist, duty.since) == (FO, LIST, f.session.list(LIST).all_closed_at)
    assert duty.since is not None and duty.since > (f.session.list(LIST).called_at or 0)


def test_at_an_unmet_hold_the_list_is_to_be_held() -> None:
    f = prepared(flight()).reads(distance_nm=9.0).does(FO, "gear-down", gear="down").reads(distance_nm=7.5)
    f.calls(CPT, LIST).asks(FO, LIST).says(CPT, "ll-gear").asks(FO, LIST)
    f.says(CPT, "ll-altimeters").says(FO, "ll-altimeters")
    duty = the(f, Duty.HOLD, LIST)
    assert (duty.seat, duty.checklist, duty.since) == (FO, LIST, f.session.at)
    f.send(inp.HoldList(at=f.now, seat=FO, checklist=LIST))
    held_at = f.now
    f.does(FO, "flap-land", flap_deg=31.0)
    resume = the(f, Duty.RESUME, LIST)
    assert (resume.seat, resume.checklist, resume.since, resume.restart) == (FO, LIST, held_at, False)


def test_an_interrupted_list_is_owed_nothing_until_the_interruption_is_over() -> None:
    """The cabin calls for 20 s: then the reader is to go on, but not near a runway."""
    f = called().asks(FO, LIST).says(CPT, "ll-gear")
    f.send(inp.Interrupt(at=f.now, words="Cabin calling", length_s=20))
    over = f.now + 20_000
    f.now = over - 1
    f.tells("wet", seat=FO)
    assert (Duty.RESUME, LIST) not in lane(f)
    f.now = over
    f.tells("again", seat=FO)
    assert the(f, Duty.RESUME, LIST).waits_for == ()
    f.tells("near_runway", seat=FO)
    assert the(f, Duty.RESUME, LIST).waits_for == ("not while near a runway",)


def test_a_list_held_since_another_phase_is_begun_anew() -> None:
    """Held before the landing phase and looked at in it: from the top, however short the hold."""
    f = called().asks(FO, LIST).says(CPT, "ll-gear")
    f.send(inp.HoldList(at=f.now, seat=FO, checklist=LIST))
    f.wait(1).tells("wet", seat=FO)
    assert not the(f, Duty.RESUME, LIST).restart
    f.reads(height_aal_ft=390.0).does(FO, "minimum").does(CPT, "minimum-answer")
    assert f.session.phase == "landing"
    assert the(f, Duty.RESUME, LIST).restart


def test_a_hold_of_two_minutes_to_the_millisecond() -> None:
    """At 120 s it may still go on where it was; a millisecond later it is begun anew."""
    f = called().asks(FO, LIST).says(CPT, "ll-gear")
    f.send(inp.HoldList(at=f.now, seat=FO, checklist=LIST))
    held_at = f.now
    for at, restart in ((held_at + 120_000, False), (held_at + 120_001, True)):
        f.now = at
        f.tells("wet" if not restart else "again", seat=FO)
        assert the(f, Duty.RESUME, LIST).restart is restart


def test_what_was_put_off_and_came_back_is_shown_in_any_phase() -> None:
    """An item of another phase is not shown there, unless its cue has brought it back."""
    f = flight().wait(1)
    f.send(inp.Defer(at=f.now, seat=FO, item="aids", in_s=5))
    assert (Duty.POINT, "aids") not in lane(f)
    f.send(inp.GoAround(at=f.now, seat=CPT))
    assert (Duty.DO, "thrust") in lane(f)
    assert f.session.item("aids").cue_late_at is None
    assert (Duty.POINT, "aids") not in lane(f)
    f.wait(6)
    assert (Duty.POINT, "aids") in lane(f)


def test_every_duty_is_done_by_its_own_input() -> None:
    """What the lane shows is what the key sends: seat, name, list and value."""
    kinds = {
        Duty.GO_AROUND: inp.GoAround(at=7, seat=FO),
        Duty.REPLY: inp.Reply(at=7, seat=FO),
        Duty.TAKE_CONTROL: inp.Transfer(at=7, seat=FO, part="take"),
        Duty.CONFIRM_CONTROL: inp.Transfer(at=7, seat=FO, part="confirm"),
        Duty.ANSWER_CALL: inp.Act(at=7, seat=FO, item="x", value=3.0),
        Duty.SAY: inp.Act(at=7, seat=FO, item="x", value=3.0),
        Duty.READ: inp.ReadLine(at=7, seat=FO, checklist="l"),
        Duty.ANSWER: inp.Answer(at=7, seat=FO, line="x", value=3.0),
        Duty.HOLD: inp.HoldList(at=7, seat=FO, checklist="x"),
        Duty.RESUME: inp.ResumeList(at=7, seat=FO, checklist="x", restart=True),
        Duty.COMPLETE: inp.CompleteList(at=7, seat=FO, checklist="x"),
        Duty.CALL_LIST: inp.CallList(at=7, seat=FO, checklist="x"),
        Duty.POINT: inp.Point(at=7, seat=FO, item="x"),
        Duty.DO: inp.Act(at=7, seat=FO, item="x", value=3.0),
    }
    assert list(kinds) == list(Duty)
    for duty, input_ in kinds.items():
        assert to_input(Owed(seat=FO, duty=duty, ref="x", checklist="l", restart=True), 7, 3.0) == input_


def test_nothing_is_owed_after_the_end() -> None:
    f = on_ground(flight()).does(CPT, "brake", parking_brake="set").does(FO, "cut", fuel_lever_1="cutoff")
    f.does(FO, "papers").wait(6).calls(CPT, "ground-list")
    f.asks(FO, "ground-list").says(CPT, "gl-brake").asks(FO, "ground-list").says(FO, "gl-lever")
    assert lane(f) == [(Duty.COMPLETE, "ground-list")]
    f.completes(FO, "ground-list")
    assert f.session.ended == "parked" and lane(f) == []
