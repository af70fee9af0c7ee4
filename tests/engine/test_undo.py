"""Taking back: only what still stands as it was left, and then all of it, with what had rested on it."""

from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from flowdeck.engine import fold
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.deviation import Slip, Trapper
from flowdeck.model.seats import Seat
from flowdeck.model.session import Evidence, ListStatus, Session, Status, same
from tests.engine.test_properties import DECK as PROPERTY_DECK
from tests.engine.test_properties import any_input, live
from tests.engine.test_slips import configured, descending, flight, listed, prepared
from tests.support.bench import CPT, FO, BenchFlight

LIST = "landing-list"


def undoes(f: BenchFlight, seat: Seat) -> BenchFlight:
    f.send(inp.Undo(at=f.now, seat=seat))
    return f


def refused(f: BenchFlight, seat: Seat) -> bool:
    """Whether this seat's undo is refused, with nothing taken back."""
    events = f.send(inp.Undo(at=f.now, seat=seat))
    because = [e.because for e in events if isinstance(e, ev.Refused)]
    return any("has gone on since" in words for words in because) and not any(isinstance(e, ev.Undone) for e in events)


def defers(f: BenchFlight, seat: Seat, item: str, in_s: float) -> BenchFlight:
    f.send(inp.Defer(at=f.now, seat=seat, item=item, in_s=in_s))
    return f


def lines_of(f: BenchFlight) -> dict[str, object]:
    return {line: f.session.item(line) for line in f.deck.checklists[LIST].lines}


def test_a_list_called_again_and_taken_back_is_complete_again() -> None:
    """A slip of the tongue after the list was complete costs nothing: every answer stands as it was given."""
    f = listed(configured(flight())).completes(FO, LIST)
    before, completed_at = lines_of(f), f.session.list(LIST).completed_at
    f.calls(CPT, LIST)
    assert LIST not in f.session.done and f.session.item("ll-gear").status is Status.WAITING
    undoes(f, CPT).wait(1)
    assert LIST in f.session.done
    assert f.session.list(LIST).status is ListStatus.COMPLETE
    assert f.session.list(LIST).completed_at == completed_at
    assert lines_of(f) == before and set(before) <= f.session.done
    [again] = f.raised(Slip.REPEATED)
    assert again.trapped_by is Trapper.MAKER


def test_the_gate_takes_a_list_that_was_called_again_and_taken_back() -> None:
    """At 1000 ft the list counts as done, since it is."""
    f = undoes(listed(configured(flight())).completes(FO, LIST).calls(CPT, LIST), CPT)
    f.reads(height_aal_ft=990.0)
    assert f.session.gates["stable"].status == "passed"


def test_a_call_is_not_taken_back_once_a_line_was_passed_over() -> None:
    """The list has begun: the captain's undo says so, and the line that was passed over stays passed over."""
    f = configured(flight()).reads(distance_nm=7.5).calls(CPT, LIST)
    f.send(inp.SkipLine(at=f.now, seat=FO, checklist=LIST))
    assert refused(f, CPT)
    assert f.session.list(LIST).status is ListStatus.CALLED
    assert f.session.item("ll-gear").skipped


def test_of_an_item_for_both_the_last_is_taken_back_first() -> None:
    """The captain cannot undo a briefing that the first officer has closed; taken back in order it is open again."""
    f = flight().wait(1).does(CPT, "brief").does(FO, "brief")
    assert refused(f, CPT) and f.session.item("brief").is_done
    undoes(f, FO)
    assert (f.session.item("brief").status, f.session.item("brief").partly) == (Status.PARTLY, (CPT,))
    undoes(f, CPT)
    assert (f.session.item("brief").status, f.session.item("brief").partly) == (Status.OPEN, ())
    f.does(FO, "brief")
    assert f.session.item("brief").partly == (FO,)
    assert f.slips() == []


def test_a_hold_is_not_taken_back_once_the_list_has_gone_on() -> None:
    """The captain held, the first officer resumed and completed: the old hold is no longer the captain's to undo."""
    f = configured(flight()).reads(distance_nm=7.5).calls(CPT, LIST)
    f.asks(FO, LIST)
    f.send(inp.HoldList(at=f.now, seat=CPT, checklist=LIST))
    assert f.session.list(LIST).status is ListStatus.HELD
    f.send(inp.ResumeList(at=f.now, seat=FO, checklist=LIST))
    assert refused(f, CPT)
    f.completes(FO, LIST)
    assert refused(f, CPT)
    assert f.session.list(LIST).status is ListStatus.COMPLETE and LIST in f.session.done


def test_a_hold_that_still_stands_can_be_taken_back() -> None:
    """Held by mistake and undone at once: the list goes on at its line."""
    f = configured(flight()).reads(distance_nm=7.5).calls(CPT, LIST).asks(FO, LIST)
    f.send(inp.HoldList(at=f.now, seat=CPT, checklist=LIST))
    undoes(f, CPT)
    assert f.session.list(LIST).status is ListStatus.CALLED
    assert f.says(CPT, "ll-gear").session.item("ll-gear").is_done


def test_pointing_is_not_taken_back_after_the_item_is_done() -> None:
    """The captain pointed, the first officer did it: undoing the pointing would undo the other pilot's work."""
    f = flight().wait(1).points(CPT, "aids").does(FO, "aids")
    assert refused(f, CPT)
    assert f.session.item("aids").is_done and f.session.item("aids").pointed
    g = undoes(flight().wait(1).points(CPT, "aids"), CPT)
    assert not g.session.item("aids").pointed


def test_a_deferral_is_not_taken_back_once_the_item_was_seen() -> None:
    """Put off, and then the gear came down all the same: it stays done."""
    f = defers(prepared(flight()).reads(distance_nm=9.0), FO, "gear-down", 600).reads(gear="down")
    assert f.session.item("gear-down").evidence is Evidence.SEEN
    assert refused(f, FO)
    f.wait(5)
    assert f.session.item("gear-down").is_done and "gear-down" in f.session.done
    g = undoes(defers(prepared(flight()).reads(distance_nm=9.0), FO, "gear-down", 600), FO)
    assert g.session.item("gear-down").status is Status.OPEN


def test_a_call_taken_back_asks_for_no_answer() -> None:
    """Said too soon and taken back: the other pilot owes nothing, and is not blamed for saying nothing."""
    f = descending(flight()).wait(1).does(FO, "to-go")
    assert f.session.item("to-go-answer").status is Status.OPEN
    undoes(f, FO)
    assert f.session.item("to-go").status is Status.OPEN
    assert f.session.item("to-go-answer").status is Status.WAITING
    f.wait(8)
    assert f.raised(Slip.CALL_MISSED) == []
    f.does(FO, "to-go")
    assert f.session.item("to-go-answer").status is Status.OPEN
    assert [d.item for d in f.wait(6).raised(Slip.CALL_MISSED)] == ["to-go-answer"]


def test_a_call_is_taken_back_though_it_was_answered() -> None:
    """An answer to a call that is no longer made stands by itself; the call is owed again."""
    f = undoes(descending(flight()).wait(1).does(FO, "to-go").does(CPT, "to-go-answer"), FO)
    assert f.session.item("to-go").status is Status.OPEN and "to-go" not in f.session.done
    assert f.wait(8).raised(Slip.CALL_MISSED) == []


def test_a_tick_on_a_deferred_item_taken_back_is_put_off_again() -> None:
    """The gear still reads down from that act: the item is put off as before, and comes back at its time."""
    f = defers(prepared(flight()).reads(distance_nm=9.0), FO, "gear-down", 60)
    undoes(f.does(FO, "gear-down", gear="down").wait(2), FO)
    assert f.session.item("gear-down").status is Status.DEFERRED
    f.wait(5)
    assert f.session.item("gear-down").status is Status.DEFERRED and "gear-down" not in f.session.done
    f.wait(60)
    assert f.session.item("gear-down").status is Status.OPEN


def test_time_since_what_was_taken_back_is_unknown_again() -> None:
    """Whatever waits for 'five seconds after' does not count on from an act that no longer stands."""
    f = flight().wait(1).does(CPT, "speed", selected_speed_kt=150.0)
    assert "speed" in f.session.times
    assert "speed" not in undoes(f, CPT).session.times
    g = prepared(flight())
    assert "aids" in g.session.times
    g.tells("runway_changed")
    assert [e.item for e in g.of(ev.ItemReopened)] == ["aids"]
    assert "aids" not in g.session.times


def test_time_since_a_completion_taken_back_is_unknown_again() -> None:
    """The list's own time goes with its completion."""
    f = listed(configured(flight())).completes(FO, LIST)
    assert LIST in f.session.times
    undoes(f, FO)
    assert LIST not in f.session.times and LIST not in f.session.done
    assert f.session.list(LIST).status is ListStatus.CALLED


def test_a_missing_completion_is_said_once() -> None:
    """The last answer is taken back and given again: that nobody says 'complete' is still the same one slip."""
    f = undoes(listed(configured(flight())).wait(25), CPT)
    assert "ll-flap" not in f.session.done
    f.wait(1).says(CPT, "ll-flap").wait(25)
    assert [d.item for d in f.raised(Slip.NO_COMPLETION)] == [LIST]


def test_what_only_proof_has_followed_can_be_taken_back() -> None:
    """The gear was said to be down and then shown to be: still one act of one pilot, and that pilot's to undo."""
    f = prepared(flight()).reads(distance_nm=9.0).does(FO, "gear-down", gear="down").wait(10)
    assert f.session.item("gear-down").evidence is Evidence.SEEN
    undoes(f, FO)
    assert f.session.item("gear-down").status is Status.OPEN and "gear-down" not in f.session.done
    assert f.of(ev.Refused) == []


@settings(max_examples=50, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.lists(any_input(), max_size=45))
def test_done_agrees_with_every_list_whatever_is_taken_back(script: list[tuple[str, Any]]) -> None:
    """A list counts as done exactly while it is complete, and the flight replayed is the flight flown."""
    session, events = live(script)
    for ref in PROPERTY_DECK.checklists:
        assert (ref in session.done) == (session.list(ref).status is ListStatus.COMPLETE), ref
    assert same(fold(Session(), events), session)


_SEATS = st.sampled_from(list(Seat))
_LIST_ACTS = st.one_of(
    st.tuples(
        st.sampled_from(["CallList", "ReadLine", "SkipLine", "HoldList", "ResumeList", "CompleteList"]),
        st.fixed_dictionaries({"seat": _SEATS, "checklist": st.just(LIST)}),
    ),
    st.tuples(
        st.just("Answer"),
        st.fixed_dictionaries(
            {"seat": _SEATS, "line": st.sampled_from(PROPERTY_DECK.checklists[LIST].lines), "value": st.none()}
        ),
    ),
    st.tuples(st.just("Undo"), st.fixed_dictionaries({"seat": _SEATS})),
)


@settings(max_examples=50, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.lists(_LIST_ACTS, max_size=40))
def test_done_agrees_with_the_landing_list_however_it_is_read(script: list[tuple[str, Any]]) -> None:
    """The same, with nothing but acts on one list and their taking back, so that many lists get complete."""
    session, events = live([("reads", {"distance_nm": 7.0}), *script])
    assert (LIST in session.done) == (session.list(LIST).status is ListStatus.COMPLETE)
    for line in PROPERTY_DECK.checklists[LIST].lines:
        assert (line in session.done) == session.item(line).is_done, line
    assert same(fold(Session(), events), session)


def test_a_tick_before_the_window_taken_back_is_put_off_again() -> None:
    """Put off before it was even owed, done, undone: the old reading does not tick it at once."""
    f = defers(prepared(flight()), FO, "gear-down", 60)
    undoes(f.does(FO, "gear-down", gear="down").wait(2), FO).wait(5)
    assert f.session.item("gear-down").status is Status.DEFERRED and "gear-down" not in f.session.done
    f.reads(gear="up").reads(gear="down")
    assert f.session.item("gear-down").evidence is Evidence.SEEN


def test_a_hold_taken_back_is_not_the_other_pilots() -> None:
    """The captain's hold was ended, and the first officer holds now: the captain's undo leaves that hold alone."""
    f = configured(flight()).reads(distance_nm=7.5).calls(CPT, LIST).asks(FO, LIST).says(CPT, "ll-gear")
    f.send(inp.HoldList(at=f.now, seat=CPT, checklist=LIST))
    f.wait(1).send(inp.ResumeList(at=f.now, seat=FO, checklist=LIST))
    f.wait(1).send(inp.HoldList(at=f.now, seat=FO, checklist=LIST))
    assert refused(f, CPT)
    assert f.session.list(LIST).status is ListStatus.HELD


def test_an_answer_taken_back_after_its_call_is_not_owed() -> None:
    """First the call is taken back, then its answer: nobody waits for an answer to nothing."""
    f = undoes(descending(flight()).wait(1).does(FO, "to-go").does(CPT, "to-go-answer"), FO)
    undoes(f, CPT)
    assert f.session.item("to-go-answer").status is Status.WAITING
    f.wait(8)
    assert f.raised(Slip.CALL_MISSED) == []
    g = undoes(descending(flight()).wait(1).does(FO, "to-go").does(CPT, "to-go-answer"), CPT)
    assert g.session.item("to-go-answer").status is Status.OPEN  # the call still stands, and asks for it
