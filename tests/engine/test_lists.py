"""Checklists: one challenge one answer, holds, interruptions, resuming at the last line done, undo."""

from flowdeck.engine.owed import Duty, owed
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.deviation import Slip, Trapper
from flowdeck.model.session import ListStatus, Status
from tests.engine.test_slips import configured, flight, listed, prepared
from tests.support.bench import CPT, FO, BenchFlight


def duties(f: BenchFlight) -> list[tuple[str, Duty, str]]:
    return [(str(d.seat), d.duty, d.ref) for d in owed(f.deck, f.session) if not d.waits_for]


def halfway(f: BenchFlight) -> BenchFlight:
    """The landing list read up to its hold, with the flap still to come."""
    prepared(f).reads(distance_nm=9.0).does(FO, "gear-down", gear="down").reads(distance_nm=7.5)
    f.calls(CPT, "landing-list").asks(FO, "landing-list").says(CPT, "ll-gear")
    return f.asks(FO, "landing-list").says(CPT, "ll-altimeters").says(FO, "ll-altimeters")


def test_a_check_never_sets_a_state() -> None:
    """Answering the gear line leaves the gear item as it was: two records, two events."""
    f = prepared(flight()).reads(distance_nm=7.5).calls(CPT, "landing-list")
    f.asks(FO, "landing-list").says(CPT, "ll-gear")
    assert f.session.item("gear-down").status is Status.OPEN
    assert f.session.item("ll-gear").status is Status.DONE


def test_a_line_for_both_needs_two_seats() -> None:
    """One pilot twice does not close the altimeters."""
    f = configured(flight()).reads(distance_nm=7.5).calls(CPT, "landing-list")
    f.asks(FO, "landing-list").says(CPT, "ll-gear").asks(FO, "landing-list")
    f.says(CPT, "ll-altimeters").says(CPT, "ll-altimeters")
    assert f.session.item("ll-altimeters").status is Status.PARTLY
    assert [d.item for d in f.raised(Slip.REPEATED)] == ["ll-altimeters"]
    assert f.says(FO, "ll-altimeters").session.item("ll-altimeters").status is Status.DONE


def test_no_answer_before_its_challenge() -> None:
    f = configured(flight()).reads(distance_nm=7.5).calls(CPT, "landing-list").says(CPT, "ll-gear")
    assert f.session.item("ll-gear").status is Status.WAITING
    assert any("has not been read" in e.because for e in f.of(ev.Refused))


def test_one_current_line() -> None:
    """Reading on while a line waits for its answer is refused: never two current lines."""
    f = configured(flight()).reads(distance_nm=7.5).calls(CPT, "landing-list")
    f.asks(FO, "landing-list").asks(FO, "landing-list")
    assert len(f.of(ev.LineRead)) == 1


def test_hold_waits_and_its_release_is_owed_to_the_reader() -> None:
    """The list holds before flap; it is owed nothing until the flap is there, then its resuming."""
    f = halfway(flight())
    assert ("first_officer", Duty.HOLD, "landing-list") in duties(f)
    f.send(inp.HoldList(at=f.now, seat=FO, checklist="landing-list"))
    assert f.session.list("landing-list").status is ListStatus.HELD
    assert not [d for d in duties(f) if d[2] == "landing-list"]
    f.does(FO, "flap-land", flap_deg=31.0)
    assert ("first_officer", Duty.RESUME, "landing-list") in duties(f)


def test_resuming_repeats_the_last_line_done() -> None:
    """After the hold the altimeters are said again before the flap is read."""
    f = halfway(flight())
    f.send(inp.HoldList(at=f.now, seat=FO, checklist="landing-list"))
    f.does(FO, "flap-land", flap_deg=31.0)
    f.send(inp.ResumeList(at=f.now, seat=FO, checklist="landing-list"))
    assert f.session.list("landing-list").reread == "ll-altimeters"
    assert ("captain", Duty.ANSWER, "ll-altimeters") in duties(f)
    f.wait(1).says(CPT, "ll-altimeters").says(FO, "ll-altimeters")
    f.asks(FO, "landing-list").says(CPT, "ll-flap").completes(FO, "landing-list")
    assert f.session.list("landing-list").status is ListStatus.COMPLETE
    assert f.slips() == []


def test_long_hold_offers_the_top() -> None:
    """After 121 s of a hold of the crew's own, starting again is what is offered; before that it is not."""
    f = configured(flight()).reads(distance_nm=7.5).calls(CPT, "landing-list")
    f.asks(FO, "landing-list").says(CPT, "ll-gear")
    f.send(inp.HoldList(at=f.now, seat=FO, checklist="landing-list"))
    for seconds, restart in ((100, False), (21, True)):
        f.wait(seconds).tells("wet", seat=FO)  # an event, so that the session is of this moment
        f.send(inp.Point(at=f.now, seat=FO, item="speed"))
        [resume] = [d for d in owed(f.deck, f.session) if d.duty is Duty.RESUME]
        assert resume.restart is restart
    f.send(inp.ResumeList(at=f.now, seat=FO, checklist="landing-list", restart=True))
    assert f.session.item("ll-gear").status is Status.WAITING


def test_an_interruption_stops_the_list_at_its_line() -> None:
    """A call from the cabin in the middle: held though nobody said so, its length kept, resumed one line back."""
    f = configured(flight()).reads(distance_nm=7.5).calls(CPT, "landing-list")
    f.asks(FO, "landing-list").says(CPT, "ll-gear")
    f.send(inp.Interrupt(at=f.now, words="Cabin calling", length_s=20))
    [held] = f.of(ev.ListHeld)
    assert held.spoken is False and held.seat is None
    [told] = f.of(ev.Interrupted)
    assert told.until - told.at == 20_000
    f.wait(21)
    f.send(inp.ResumeList(at=f.now, seat=FO, checklist="landing-list"))
    assert f.session.list("landing-list").reread == "ll-gear"


def test_undo_takes_back_an_answer_and_says_so() -> None:
    """Both events stay; the line is open again; what was raised by it is caught by its maker."""
    f = prepared(flight()).reads(distance_nm=7.5).calls(CPT, "landing-list")
    f.asks(FO, "landing-list").says(CPT, "ll-gear")
    f.send(inp.Undo(at=f.now, seat=CPT))
    assert "ll-gear" not in f.session.done
    assert len(f.of(ev.LineAnswered)) == 1 and len(f.of(ev.Undone)) == 1
    assert f.raised(Slip.UNVERIFIED)[0].trapped_by is Trapper.MAKER


def test_undo_of_an_item_reopens_the_line_that_rests_on_it() -> None:
    f = configured(flight()).reads(distance_nm=7.5).calls(CPT, "landing-list")
    f.asks(FO, "landing-list").says(CPT, "ll-gear")
    f.silent.update({"gear", "flap_deg"})
    f.send(inp.Undo(at=f.now, seat=FO))  # the flap, its last tick
    f.send(inp.Undo(at=f.now, seat=FO))  # the gear
    assert f.session.item("ll-gear").status is Status.WAITING


def test_what_was_taken_back_is_not_proved_by_an_old_reading() -> None:
    """The gear is still down in the reading of that moment: the item is open all the same, until it comes down anew."""
    f = prepared(flight()).reads(distance_nm=9.0).does(FO, "gear-down", gear="down").wait(1)
    f.send(inp.Undo(at=f.now, seat=FO))
    assert f.session.item("gear-down").status is Status.OPEN
    f.wait(2)
    assert f.session.item("gear-down").status is Status.OPEN
    f.reads(gear="up").reads(gear="down")
    assert f.session.item("gear-down").is_done


def test_undo_is_per_seat_and_per_phase() -> None:
    """The first officer's undo never takes back what the captain did."""
    f = flight().wait(1).does(CPT, "brief")
    f.send(inp.Undo(at=f.now, seat=FO))
    assert f.session.item("brief").status is Status.PARTLY
    f.send(inp.Undo(at=f.now, seat=CPT))
    assert f.session.item("brief").status is Status.OPEN


def test_a_skipped_line_stays_visible_and_counts_as_omitted() -> None:
    f = configured(flight()).reads(distance_nm=7.5).calls(CPT, "landing-list")
    f.send(inp.SkipLine(at=f.now, seat=FO, checklist="landing-list"))
    f.asks(FO, "landing-list").says(CPT, "ll-altimeters").says(FO, "ll-altimeters")
    f.asks(FO, "landing-list").says(CPT, "ll-flap").completes(FO, "landing-list")
    assert [d.item for d in f.raised(Slip.OMITTED)] == ["ll-gear"]
    assert f.session.item("ll-gear").skipped


def test_completion_names_what_is_deferred() -> None:
    """An item that is put off is named in the completion call, and does not count as unverified."""
    f = prepared(flight()).reads(distance_nm=7.5)
    f.send(inp.Defer(at=f.now, seat=FO, item="gear-down", cue="on-ground"))
    f.calls(CPT, "landing-list").asks(FO, "landing-list").says(CPT, "ll-gear")
    f.completes(FO, "landing-list")
    [complete] = f.of(ev.ListCompleted)
    assert complete.exceptions == ("gear-down",)


def test_list_is_open_until_the_reader_says_complete() -> None:
    f = listed(configured(flight()))
    assert "landing-list" not in f.session.done
    f.completes(CPT, "landing-list")
    assert [d.item for d in f.raised(Slip.WRONG_SEAT)] == ["landing-list"]
    assert "landing-list" in f.session.done


def test_due_prompts_the_other_pilot() -> None:
    """At 6 NM the pilot monitoring is prompted to suggest the list that the pilot flying has not called."""
    f = configured(flight()).reads(distance_nm=7.5).reads(distance_nm=5.9)
    assert [(e.ref, e.seat) for e in f.of(ev.Prompted) if e.ref == "landing-list"] == [("landing-list", FO)]
