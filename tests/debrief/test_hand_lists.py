"""Readings of lists worked out by hand: calls, replies, holds and how they ended, what was taken back."""

from flowdeck.debrief.lists import Reading, Reply, readings_of
from flowdeck.model import events as ev
from flowdeck.model.seats import Seat
from tests.debrief.by_hand import LIST, holds, resumes, started, undoes, whole
from tests.engine.test_slips import DECK, configured, flight, listed
from tests.support.bench import CPT, FO, BenchFlight
from tests.support.slipped import (
    called,
    complete,
    skipped,
    unlisted,
)

LINES = ("ll-gear", "ll-altimeters", "ll-flap")
OPENED = ev.ListOpened(at=1000, checklist=LIST)
CALLED = ev.ListCalled(at=2000, checklist=LIST, seat=CPT, lines=LINES)


def readings(*events: ev.Event) -> list[Reading]:
    return [reading for reading in readings_of(DECK, (started(), *events)) if reading.checklist == LIST]


def of(f: BenchFlight) -> Reading:
    [reading] = [reading for reading in readings_of(f.deck, f.events) if reading.checklist == LIST]
    return reading


def read(at: int, line: str) -> ev.LineRead:
    return ev.LineRead(at=at, checklist=LIST, line=line, seat=FO)


def answered(at: int, line: str, seat: Seat = CPT) -> ev.LineAnswered:
    return ev.LineAnswered(at=at, checklist=LIST, line=line, seat=seat)


def held(at: int, *, spoken: bool = True) -> ev.ListHeld:
    return ev.ListHeld(at=at, checklist=LIST, seat=FO if spoken else None, spoken=spoken, why="traffic")


def test_both_lists_of_a_whole_flight() -> None:
    """As the bench flies them: see `listed` and `parked`; 1.5 s from challenge to answer, 1 s to the second answer."""
    landing, ground = whole().readings
    assert (landing.checklist, landing.phase, landing.opened_at, landing.called_at) == (LIST, "approach", 8000, 8000)
    assert landing.called_by is CPT and landing.read == LINES
    assert landing.replies == (
        Reply(line="ll-gear", at=10_500, seat=CPT, read_at=9000),
        Reply(line="ll-altimeters", at=13_000, seat=CPT, read_at=11_500),
        Reply(line="ll-altimeters", at=14_000, seat=FO, read_at=11_500),
        Reply(line="ll-flap", at=16_500, seat=CPT, read_at=15_000),
    )
    assert (landing.closed_at, landing.completed_at, landing.completed_by) == (16_500, 17_500, FO)
    assert landing.holds == () and landing.skipped == () and landing.was_owed and landing.begun_at == 8000
    assert (ground.checklist, ground.phase) == ("ground-list", "ground")
    assert (ground.opened_at, ground.called_at, ground.closed_at, ground.completed_at) == (
        29_000,
        30_000,
        35_000,
        36_000,
    )
    assert [(r.line, r.read_at, r.at, r.seat) for r in ground.replies] == [
        ("gl-brake", 31_000, 32_500, CPT),
        ("gl-lever", 33_500, 35_000, FO),
    ]


def test_from_the_top_keeps_all_replies() -> None:
    """The gear is read and answered, the list held and begun anew, and the gear is read and answered again."""
    f = resumes(holds(called().asks(FO, LIST).says(CPT, "ll-gear"), FO), FO, restart=True)
    reading = of(f.asks(FO, LIST).says(CPT, "ll-gear"))
    assert reading.read == ("ll-gear", "ll-gear")
    assert [(r.line, r.at - (r.read_at or 0)) for r in reading.replies] == [("ll-gear", 1500), ("ll-gear", 1500)]


def test_called_anew_keeps_all_replies() -> None:
    """Four answers of the first call, one of the second."""
    f = complete().calls(CPT, LIST).asks(FO, LIST).says(CPT, "ll-gear")
    replies = [reply.line for reading in readings_of(f.deck, f.events) for reply in reading.replies]
    assert sorted(replies) == sorted(["ll-gear", "ll-altimeters", "ll-altimeters", "ll-flap", "ll-gear"])


def test_an_undone_answer_does_not_count() -> None:
    """Taken back at once and given again a second later: one reply, 2.5 s after the challenge."""
    f = undoes(called().asks(FO, LIST).says(CPT, "ll-gear"), CPT)
    assert of(f).replies == ()
    [reply] = of(f.says(CPT, "ll-gear")).replies
    assert (reply.read_at, reply.at) == (9000, 11_500)


def test_an_undone_answer_is_the_seats_own() -> None:
    """Both have answered the altimeters; the first officer takes his answer back and the captain's stands."""
    f = called().asks(FO, LIST).says(CPT, "ll-gear").asks(FO, LIST).says(CPT, "ll-altimeters").says(FO, "ll-altimeters")
    assert [(r.line, r.seat) for r in of(undoes(f, FO)).replies] == [("ll-gear", CPT), ("ll-altimeters", CPT)]


def test_a_call_and_a_completion_taken_back_did_not_happen() -> None:
    reading = of(undoes(called(), CPT))
    assert (reading.opened_at, reading.called_at, reading.called_by) == (8000, None, None)
    reading = of(undoes(complete(), FO))
    assert (reading.closed_at, reading.completed_at, reading.completed_by) == (16_500, None, None)
    reading = of(undoes(complete(), FO).wait(2).completes(FO, LIST))
    assert (reading.completed_at, reading.completed_by) == (19_500, FO)


def test_a_line_passed_over_and_taken_back() -> None:
    assert of(skipped()).skipped == ("ll-gear",)
    undone = ev.Undone(at=3000, seat=FO, what="skip", ref=LIST)
    passed = ev.LineSkipped(at=3000, checklist=LIST, line="ll-gear", seat=FO)
    [reading] = readings(OPENED, CALLED, passed, undone)
    assert reading.skipped == ()


def test_owed_prompted_late_and_never_called() -> None:
    prompted = ev.Prompted(at=3000, ref=LIST, seat=CPT)
    overdue = ev.ListOverdue(at=4000, checklist=LIST, of="call")
    [reading] = readings(OPENED, prompted, overdue, ev.ListLapsed(at=5000, checklist=LIST))
    assert (reading.opened_at, reading.prompted, reading.overdue_at, reading.lapsed_at) == (1000, True, 4000, 5000)
    assert reading.called_at is None and reading.was_owed


def test_withdrawn_was_not_owed_and_its_next_window_is_another_time() -> None:
    gone = ev.ListWithdrawn(at=3000, checklist=LIST)
    [reading] = readings(OPENED, gone)
    assert (reading.was_owed, reading.withdrawn_at) == (False, 3000)
    first, second = readings(OPENED, gone, ev.ListOpened(at=6000, checklist=LIST))
    assert (first.was_owed, second.was_owed, second.opened_at) == (False, True, 6000)


def test_withdrawn_after_its_limit_ran_out_was_owed() -> None:
    """By 4.0 s it should have been called, and that was judged; that it is not wanted from 5.0 s on changes nothing."""
    overdue = ev.ListOverdue(at=4000, checklist=LIST, of="call")
    [reading] = readings(OPENED, overdue, ev.ListWithdrawn(at=5000, checklist=LIST))
    assert (reading.was_owed, reading.overdue_at, reading.withdrawn_at) == (True, 4000, 5000)


def test_the_second_approach_reads_its_list_anew() -> None:
    """Reset by the go-around in the middle of a hold: that hold never ends, and the next reading has none."""
    reset = ev.Reset(at=7000, items=(), lists=(LIST,), gates=(), because="going around")
    first, second = readings(
        OPENED, CALLED, read(3000, "ll-gear"), answered(4000, "ll-gear"), held(5000), reset,
        ev.ListOpened(at=20_000, checklist=LIST), ev.ListCalled(at=21_000, checklist=LIST, seat=CPT, lines=LINES),
    )  # fmt: skip
    assert [(h.until, h.way) for h in first.holds] == [(None, "never")]
    assert [r.line for r in first.replies] == ["ll-gear"]
    assert (second.opened_at, second.called_at, second.holds, second.replies) == (20_000, 21_000, (), ())


def test_exceptions_are_those_of_the_completion_call() -> None:
    [reading] = readings(OPENED, CALLED, ev.ListCompleted(at=9000, checklist=LIST, seat=FO, exceptions=("ll-flap",)))
    assert reading.exceptions == ("ll-flap",)


def test_the_pace_stands_beside_each_reply() -> None:
    """x1, then x3 from 5.0 s on."""
    [reading] = readings(
        OPENED, CALLED, read(3000, "ll-gear"), answered(4000, "ll-gear"), ev.PaceSet(at=5000, pace=3.0),
        read(6000, "ll-altimeters"), answered(7000, "ll-altimeters"),
    )  # fmt: skip
    assert [reply.pace for reply in reading.replies] == [1.0, 3.0]


def test_an_answer_without_a_challenge_has_no_time() -> None:
    f = unlisted().says(CPT, "ll-gear")
    assert [r.read_at for r in of(f).replies] == [6500]
    assert of(listed(configured(flight()))).completed_at is None
