"""Every event says when it happened, and whose act it was: the record is read by people and folded by nothing else."""

from collections.abc import Callable

import pytest

from flowdeck.engine import decide, fold
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.deviation import Slip
from flowdeck.model.seats import Seat
from flowdeck.model.session import Evidence, ListStatus, Session, Status
from tests.engine.test_edges import changed
from tests.engine.test_slip_words_exact import WORDS
from tests.engine.test_slips import configured, flight, listed, on_ground, prepared
from tests.support.bench import CPT, FO, BenchFlight
from tests.support.small import APPROACH, small_deck

LIST = "landing-list"
LEAVING = "when: \"done('minimum-answer')\""


@pytest.mark.parametrize("flown", [row[0] for row in WORDS])
def test_the_times_of_a_flight_never_go_back(flown: Callable[[], BenchFlight]) -> None:
    """Whole milliseconds, each event at or after the one before it, and the session at the time of the last."""
    f = flown()
    times = [event.at for event in f.events]
    assert all(type(at) is int for at in times)
    assert times == sorted(times)
    assert f.session.at == times[-1] and f.session.seq == len(times)


@pytest.mark.parametrize("flown", [row[0] for row in WORDS])
def test_what_follows_from_one_input_happens_at_its_time(flown: Callable[[], BenchFlight]) -> None:
    """An input from the past counts as of the last event; all that follows from it bears that time."""
    f = flown()
    for at, expected in ((f.session.at - 500, f.session.at), (f.session.at + 700, f.session.at + 700)):
        events = decide(f.deck, f.session, f.readings, inp.Tell(at=at, fact="again", seat=CPT))
        assert {event.at for event in events} <= {expected}
        assert events or f.session.ended or f.session.facts["again"]


def test_acts_on_a_list_bear_their_seat() -> None:
    """Who called, read, answered, passed over, held, resumed and completed."""
    f = configured(flight()).reads(distance_nm=7.5).calls(CPT, LIST).asks(FO, LIST).says(CPT, "ll-gear")
    f.send(inp.HoldList(at=f.now, seat=CPT, checklist=LIST, why="traffic"))
    f.send(inp.ResumeList(at=f.now, seat=FO, checklist=LIST, restart=True))
    f.send(inp.SkipLine(at=f.now, seat=FO, checklist=LIST))
    f.completes(FO, LIST)
    kinds = (ev.ListCalled, ev.LineRead, ev.LineAnswered, ev.ListHeld, ev.ListResumed, ev.LineSkipped, ev.ListCompleted)
    acts = [(type(e), e.seat) for e in f.events if isinstance(e, kinds)]
    assert acts == list(zip(kinds, (CPT, FO, CPT, CPT, FO, FO, FO), strict=True))
    assert [(e.hold, e.why, e.spoken) for e in f.of(ev.ListHeld)] == [("", "traffic", True)]
    assert [(e.line, e.restart, e.lines) for e in f.of(ev.ListResumed)] == [("", True, f.deck.checklists[LIST].lines)]


def test_what_passes_between_the_pilots_bears_its_seat() -> None:
    """Offer, take and confirm; challenge and answer; and nothing pending after it."""
    f = flight().wait(1)
    for seat, part in ((CPT, "offer"), (FO, "take"), (CPT, "confirm")):
        f.send(inp.Transfer(at=f.now, seat=seat, part=part))  # type: ignore[arg-type]  # one of the three words
    assert f.events[-3:] == [
        ev.ControlOffered(at=f.now, seat=CPT),
        ev.ControlTaken(at=f.now, seat=FO),
        ev.ControlConfirmed(at=f.now, flying=FO),
    ]
    assert (f.session.offered, f.session.taken, f.session.flying) == (None, False, FO)
    f.send(inp.Challenge(at=f.now, seat=CPT, about="speed"))
    f.send(inp.Reply(at=f.now, seat=FO))
    assert f.events[-2:] == [
        ev.Challenged(at=f.now, seat=CPT, about="speed", reply_by=f.now + 5000),
        ev.Replied(at=f.now, seat=FO),
    ]
    f.send(inp.TakeOver(at=f.now, seat=CPT))
    assert f.events[-1] == ev.ControlConfirmed(at=f.now, flying=CPT, seized=True)


def test_what_a_signal_closed_was_closed_when_it_was_seen() -> None:
    """No seat, but a time: for an item that was open, and the pilot's own time for one that was only proved."""
    f = prepared(flight()).reads(distance_nm=9.0).wait(3).reads(gear="down")
    state = f.session.item("gear-down")
    assert (state.evidence, state.done_at, state.seat, f.session.times["gear-down"]) == (
        Evidence.SEEN,
        f.now,
        None,
        f.now,
    )
    g = prepared(flight()).reads(distance_nm=9.0)
    said_at = g.now
    g.does(FO, "gear-down").wait(3).reads(gear="down")
    state = g.session.item("gear-down")
    assert (state.evidence, state.done_at, state.seat) == (Evidence.SEEN, said_at, FO)


def test_an_interruption_holds_every_list_that_is_read_and_says_why() -> None:
    f = configured(flight()).reads(distance_nm=7.5).calls(CPT, LIST)
    f.send(inp.Interrupt(at=f.now, words="Smoke in the cabin", length_s=20, safety=True))
    assert f.events[-2:] == [
        ev.Interrupted(at=f.now, words="Smoke in the cabin", until=f.now + 20_000, safety=True),
        ev.ListHeld(at=f.now, checklist=LIST, seat=None, why="Smoke in the cabin", spoken=False),
    ]
    f.send(inp.Interrupt(at=f.now, words="Again", length_s=5))
    assert len(f.of(ev.ListHeld)) == 1


def test_undo_settles_its_own_slip_and_no_other() -> None:
    """The captain's speed, set by the first officer, is taken back; the aids done without pointing stay a slip."""
    f = flight().wait(1).does(FO, "aids")
    assert [(d.item, d.seat) for d in f.raised(Slip.UNVERIFIED)] == [("aids", FO)]
    f.does(FO, "speed", selected_speed_kt=150.0)
    f.send(inp.Undo(at=f.now, seat=FO))
    assert [
        (d.slip, d.item, d.trapped_by is None) for d in f.raised() if d.seat is FO and d.slip is not Slip.FLOW_ORDER
    ] == [
        (Slip.UNVERIFIED, "aids", True),
        (Slip.WRONG_SEAT, "speed", False),
    ]


def test_undo_leaves_what_the_other_pilot_did_since() -> None:
    """After the captain's tick the first officer forgot to point: that stays open when the captain takes back."""
    f = flight().wait(1).does(CPT, "speed", 160.0)
    f.does(FO, "aids")
    f.send(inp.Undo(at=f.now, seat=CPT))
    by = {(d.slip, d.item): d.trapped_by for d in f.raised()}
    assert by[(Slip.UNVERIFIED, "speed")] is not None
    assert by[(Slip.UNVERIFIED, "aids")] is None


def test_what_was_only_found_is_not_opened_by_an_undo() -> None:
    """The flap was at 31 when its window opened, nobody's act: taking back the gear does not touch it."""
    f = prepared(flight(flap_deg=31.0)).reads(distance_nm=9.0).does(FO, "gear-down", gear="down")
    assert f.session.item("flap-land").evidence is Evidence.FOUND
    f.send(inp.Undo(at=f.now, seat=FO))
    assert f.of(ev.ItemReopened) == [] and "flap-land" in f.session.done


def with_list(extra: str) -> BenchFlight:
    """A landing list that is not owed when the runway is contaminated; the phase ends then as well, with *extra*."""
    text = changed(APPROACH, '    opens: "distance_nm <= 8"\n', '    opens: "distance_nm <= 8"\n    unless: "wet"\n')
    return configured(BenchFlight(small_deck(approach=changed(text, LEAVING, extra)))).reads(distance_nm=7.5)


def test_a_list_that_ends_with_its_phase_and_is_not_owed_is_withdrawn() -> None:
    """Told in one breath: the phase is over and the list is not owed. Nothing was missed."""
    f = with_list('when: "wet"')
    assert f.session.list(LIST).status is ListStatus.OPEN
    f.tells("wet", seat=FO)
    assert f.session.phase == "landing"
    assert f.session.list(LIST).status is ListStatus.WAITING
    assert [(e.checklist, e.at) for e in f.of(ev.ListWithdrawn)] == [(LIST, f.now)]
    assert f.raised(Slip.NOT_CALLED) == [] and f.of(ev.ListLapsed) == []


def test_a_list_that_is_no_longer_owed_is_withdrawn_in_its_phase() -> None:
    f = with_list(LEAVING).tells("wet", seat=FO)
    assert (f.session.phase, f.session.list(LIST).status) == ("approach", ListStatus.WAITING)
    assert f.reads(distance_nm=3.9).raised(Slip.NOT_CALLED) == []


def test_a_list_left_uncalled_is_over_and_its_time_is_kept() -> None:
    """The phase ended without it."""
    f = configured(flight()).reads(distance_nm=7.5, height_aal_ft=390.0).does(FO, "minimum").does(CPT, "minimum-answer")
    assert [(e.checklist, e.at) for e in f.of(ev.ListLapsed)] == [(LIST, f.session.phase_at)]


def test_a_call_that_was_missed_is_over_until_it_is_made() -> None:
    """It lapses at its limit; said after that it counts as done."""
    f = flight().wait(1).reads(height_aal_ft=390.0).wait(11)
    assert (f.session.item("minimum").status, f.session.item("minimum").missed) == (Status.LAPSED, True)
    f.does(FO, "minimum")
    assert f.session.item("minimum").status is Status.DONE


def test_the_record_alone_gives_the_flight() -> None:
    """Folded anew from nothing, every flight of the table of slips is the same in all that a pilot sees."""
    for flown, *_ in WORDS:
        f = flown()
        again = fold(Session(), f.events)
        assert (again.items, again.lists, again.gates, again.deviations) == (
            f.session.items,
            f.session.lists,
            f.session.gates,
            f.session.deviations,
        )


@pytest.mark.parametrize("seat", [CPT, FO])
def test_a_deferral_keeps_whose_it_was(seat: Seat) -> None:
    """By cue or by time; the wrong pilot may put off too, and that is said."""
    f = on_ground(flight())
    f.send(inp.Defer(at=f.now, seat=seat, item="papers"))
    [put_off] = f.of(ev.ItemDeferred)
    assert (put_off.seat, put_off.cue, put_off.back_at) == (seat, "on-ground", None)
    assert [d.seat for d in f.raised(Slip.WRONG_SEAT)] == ([CPT] if seat is CPT else [])
    g = on_ground(flight())
    g.send(inp.Defer(at=g.now, seat=seat, item="papers", in_s=30))
    [put_off] = g.of(ev.ItemDeferred)
    assert (put_off.cue, put_off.back_at) == (None, g.now + 30_000)


def test_a_complete_list_is_done_at_its_moment() -> None:
    f = listed(configured(flight())).completes(FO, LIST)
    assert (f.session.list(LIST).completed_at, f.session.times[LIST]) == (f.now, f.now)
