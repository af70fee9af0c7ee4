"""The flight as a whole: facts, control in three parts, challenges, go-around, second approach, ends."""

import pytest

from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.deviation import Slip
from flowdeck.model.seats import Seat
from flowdeck.model.session import Evidence, ListStatus, Status
from tests.engine.test_slips import configured, flight, listed, on_ground, prepared
from tests.support.bench import CPT, FO, BenchFlight


def transfer(f: BenchFlight, seat: Seat, part: str) -> None:
    f.send(inp.Transfer(at=f.now, seat=seat, part=part))  # type: ignore[arg-type]  # one of the three words


def go_around(f: BenchFlight, seat: Seat = FO) -> BenchFlight:
    f.send(inp.GoAround(at=f.now, seat=seat))
    return f


def test_control_passes_in_three_parts_and_is_never_nobodys() -> None:
    """Offer and take change nothing yet; only the confirmation swaps the roles."""
    f = flight().wait(1)
    for seat, part, flying in ((CPT, "offer", CPT), (FO, "take", CPT), (CPT, "confirm", FO)):
        transfer(f, seat, part)
        assert f.session.flying is flying
        assert f.session.monitoring is flying.other


def test_a_one_sided_transfer_stays_pending() -> None:
    f = flight().wait(1)
    transfer(f, CPT, "offer")
    transfer(f, CPT, "confirm")
    assert f.session.flying is CPT and f.session.offered is CPT


def test_offer_by_the_one_who_does_not_fly() -> None:
    f = flight().wait(1)
    transfer(f, FO, "offer")
    assert [d.item for d in f.raised(Slip.WRONG_SEAT)] == ["control"]


def test_what_belongs_to_a_role_moves_with_it() -> None:
    """After the transfer the speed is the first officer's to set, and nobody is in the wrong seat."""
    f = flight().wait(1).does(CPT, "brief").does(FO, "brief")
    for seat, part in ((CPT, "offer"), (FO, "take"), (CPT, "confirm")):
        transfer(f, seat, part)
    f.does(FO, "speed", selected_speed_kt=150.0)
    assert f.raised(Slip.WRONG_SEAT) == []


def test_two_challenges_unanswered_offer_to_take_over() -> None:
    """Silence twice: the challenger is told to take control; the roles swap when it does."""
    f = flight().wait(1)
    for _ in range(2):
        f.send(inp.Challenge(at=f.now, seat=FO, about="speed"))
        f.wait(6)
    assert f.session.takeover is FO
    f.send(inp.TakeOver(at=f.now, seat=FO))
    assert f.session.flying is FO and f.session.takeover is None


def test_an_answered_challenge_offers_nothing() -> None:
    f = flight().wait(1)
    for _ in range(2):
        f.send(inp.Challenge(at=f.now, seat=FO, about="speed"))
        f.wait(2)
        f.send(inp.Reply(at=f.now, seat=CPT))
    assert f.session.takeover is None


def test_doing_what_was_asked_is_an_answer() -> None:
    """The challenged pilot does it, without a word: nothing was left unanswered. By the challenger it is no answer."""
    for seat, open_ in ((CPT, False), (FO, True)):
        f = flight().wait(1)
        f.send(inp.Challenge(at=f.now, seat=FO, about="speed"))
        f.does(seat, "speed", selected_speed_kt=150.0)
        assert (f.session.challenge is not None) is open_
    f = flight().wait(1)
    f.send(inp.Challenge(at=f.now, seat=FO, about="landing-list"))
    f.send(inp.CallList(at=f.now, seat=CPT, checklist="landing-list"))
    assert f.session.challenge is None and f.wait(6).session.challenges == {}


def test_to_ask_back_is_no_answer() -> None:
    """Who is asked twice and only asks in turn has not answered; a second question of the same pilot takes nothing."""
    f = flight().wait(1)
    for about in ("path", "altitude"):
        f.send(inp.Challenge(at=f.now, seat=FO, about="speed"))
        f.wait(1).send(inp.Challenge(at=f.now, seat=CPT, about=about))
        f.send(inp.Reply(at=f.now, seat=FO))
    assert f.session.takeover is FO
    f = flight().wait(1)
    f.send(inp.Challenge(at=f.now, seat=FO, about="speed"))
    f.send(inp.Challenge(at=f.now, seat=FO, about="path"))
    assert f.session.challenges == {} and f.session.challenge is not None and f.session.challenge.about == "path"


@pytest.mark.parametrize("about", ["", "captain", "first_officer", "nothing of this deck", "brief/x"])
def test_nobody_speaks_up_about_what_there_is_not(about: str) -> None:
    f = flight().wait(1)
    f.send(inp.Challenge(at=f.now, seat=FO, about=about))
    assert f.session.challenge is None and f.session.challenged == {}
    assert any(isinstance(event, ev.Refused) for event in f.events)


@pytest.mark.parametrize("seat", [CPT, FO])
def test_either_seat_may_go_around_from_every_airborne_phase(seat: Seat) -> None:
    assert go_around(flight().wait(1), seat).session.phase == "go_around"
    landing = listed(configured(flight())).completes(FO, "landing-list")
    landing.reads(height_aal_ft=390.0).does(FO, "minimum").does(CPT, "minimum-answer")
    assert landing.session.phase == "landing"
    assert go_around(landing, seat).session.phase == "go_around"


def test_no_go_around_once_reverse_is_selected() -> None:
    f = listed(configured(flight())).completes(FO, "landing-list")
    f.reads(height_aal_ft=390.0).does(FO, "minimum").does(CPT, "minimum-answer").reads(on_ground=True)
    f.does(CPT, "reverse", reverse="full")
    assert go_around(f).session.phase == "landing"
    assert "committed" in f.of(ev.Refused)[-1].because


def test_a_second_approach_inherits_nothing_that_does_not_survive() -> None:
    """The aids keep their tick, since their item says so; everything else is owed anew."""
    f = listed(configured(flight())).completes(FO, "landing-list").reads(height_aal_ft=990.0)
    go_around(f).does(CPT, "thrust").reads(height_aal_ft=3000.0).tells("again", seat=CPT)
    assert (f.session.phase, f.session.approach) == ("approach", 2)
    assert f.session.item("aids").is_done
    for ref in ("brief", "speed", "flap-land", "ll-gear", "landing-list", "stable"):
        assert ref not in f.session.done or f.session.item(ref).evidence is Evidence.FOUND
    assert f.session.list("landing-list").status in (ListStatus.WAITING, ListStatus.OPEN)
    assert f.session.gates == {}


def test_a_discontinued_approach_says_so() -> None:
    f = flight().wait(1)
    f.send(inp.GoAround(at=f.now, seat=CPT, how="discontinued"))
    [entered] = [e for e in f.of(ev.PhaseEntered) if e.phase == "go_around"]
    assert entered.how == "discontinued"


def test_runway_change_reopens_what_rests_on_it() -> None:
    f = prepared(flight()).tells("runway_changed")
    assert f.session.item("aids").status is Status.OPEN
    assert f.session.item("brief").is_done


def test_found_is_not_done() -> None:
    """What is already so when its window opens is found: no seat, no time taken."""
    f = prepared(flight(gear="down")).reads(distance_nm=9.0)
    state = f.session.item("gear-down")
    assert (state.evidence, state.seat) == (Evidence.FOUND, None)


def test_a_signal_closes_an_item_without_a_seat() -> None:
    """Hands stay on the controls: the signal alone closes it, and wrong_seat is not judged."""
    f = prepared(flight()).reads(distance_nm=9.0).reads(gear="down")
    state = f.session.item("gear-down")
    assert (state.status, state.evidence, state.seat) == (Status.DONE, Evidence.SEEN, None)
    assert f.slips() == []


def test_flicker_around_a_limit_prompts_once() -> None:
    """TAT 9.9, 10.1, 9.9: the off half waits for 60 s out of cloud or more than 12 degrees, so one opening."""
    f = prepared(flight()).reads(in_cloud=True)
    for tat in (9.9, 10.1, 9.9, 10.1, 9.9):
        f.reads(tat_c=tat)
    f.does(FO, "anti-ice-on", engine_anti_ice="on")
    for tat in (10.1, 9.9, 10.1):
        f.reads(tat_c=tat)
    assert not [e for e in f.of(ev.ItemOpened) if e.item == "anti-ice-off"]
    assert f.session.item("anti-ice-on").is_done


def test_no_deferral_without_a_cue() -> None:
    f = prepared(flight())
    f.send(inp.Defer(at=f.now, seat=CPT, item="brief"))
    assert f.session.item("brief").is_done
    g = flight().wait(1)
    g.send(inp.Defer(at=g.now, seat=CPT, item="speed"))
    assert g.session.item("speed").status is Status.OPEN
    assert "comes back" in g.of(ev.Refused)[-1].because


def test_a_deferred_item_comes_back_at_its_cue() -> None:
    f = on_ground(flight())
    f.send(inp.Defer(at=f.now, seat=FO, item="papers", in_s=30))
    f.wait(29)
    assert f.session.item("papers").status is Status.DEFERRED
    f.wait(2)
    assert f.session.item("papers").status is Status.OPEN
    assert [e.ref for e in f.of(ev.Prompted)][-1] == "papers"


def test_the_flight_ends_and_takes_no_more() -> None:
    """Parked: whatever comes after that is refused, and a sample adds nothing."""
    f = on_ground(flight()).does(CPT, "brake", parking_brake="set").does(FO, "cut", fuel_lever_1="cutoff")
    f.does(FO, "papers").wait(6).calls(CPT, "ground-list")
    f.asks(FO, "ground-list").says(CPT, "gl-brake").asks(FO, "ground-list").says(FO, "gl-lever")
    f.completes(FO, "ground-list")
    assert f.session.ended == "parked"
    assert f.slips() == []
    count = len(f.events)
    f.wait(5)
    assert len(f.events) == count
    f.does(CPT, "brake")
    assert isinstance(f.events[-1], ev.Refused)


def test_pause_stops_time() -> None:
    """While paused no limit passes."""
    f = flight().wait(1)
    f.send(inp.Pause(at=f.now))
    f.wait(200)
    assert f.slips() == []
    f.send(inp.Unpause(at=f.now))
    assert not f.session.paused
