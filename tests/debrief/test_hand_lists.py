"""Readings of lists worked out by hand: calls, replies, holds and how they ended, what was taken back."""

import pytest

from flowdeck.debrief.lists import Hold, Reading, Reply, readings_of
from flowdeck.model import events as ev
from flowdeck.model.seats import Seat
from tests.debrief.by_hand import LIST, holds, resumes, started, undoes, whole
from tests.engine.test_slips import DECK, configured, flight, listed
from tests.support.bench import CPT, FO, BenchFlight
from tests.support.slipped import (
    called,
    complete,
    completed_on_hold,
    past_the_hold,
    resumed_too_soon,
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


@pytest.mark.parametrize(
    ("then", "until", "way"),
    [
        (ev.ListResumed(at=9500, checklist=LIST, seat=FO, line="ll-gear"), 9500, "read again"),
        (ev.ListResumed(at=9500, checklist=LIST, seat=FO, restart=True, lines=LINES), 9500, "from the top"),
        (read(9500, "ll-altimeters"), 9500, "went on"),
        (ev.ListCompleted(at=9500, checklist=LIST, seat=FO), 9500, "completed"),
        (ev.Heard(at=9500, words="Continue."), None, "never"),
    ],
)
def test_how_a_hold_ends(then: ev.Event, until: int | None, way: str) -> None:
    """Held at 5.0 s; ended at 9.5 s, 4.5 s later, or not at all."""
    [reading] = readings(OPENED, CALLED, read(3000, "ll-gear"), answered(4000, "ll-gear"), held(5000), then)
    assert reading.holds == (Hold(at=5000, point="", why="traffic", spoken=True, seat=FO, until=until, way=way),)


def test_a_hold_that_was_only_seen_names_nobody() -> None:
    [reading] = readings(OPENED, CALLED, held(5000, spoken=False))
    assert [(h.spoken, h.seat, h.until, h.way) for h in reading.holds] == [(False, None, None, "never")]


def test_two_holds_of_one_reading() -> None:
    """3.0 s and 1.5 s; what is read after a hold has ended does not end it again."""
    again = ev.ListResumed(at=8000, checklist=LIST, seat=FO, line="ll-gear")
    [reading] = readings(
        OPENED, CALLED, read(3000, "ll-gear"), answered(4000, "ll-gear"), held(5000), again,
        read(9000, "ll-altimeters"), held(10_000), read(11_500, "ll-flap"),
    )  # fmt: skip
    assert [(h.at, h.until, h.way) for h in reading.holds] == [(5000, 8000, "read again"), (10_000, 11_500, "went on")]


def test_a_hold_taken_back_was_no_hold() -> None:
    assert of(undoes(holds(called(), FO), FO)).holds == ()


def test_a_hold_at_its_point_ended_too_soon() -> None:
    """Resumed in the moment it was held: a hold of no length, at the point before the flap."""
    [hold] = of(resumed_too_soon()).holds
    assert (hold.point, hold.spoken, hold.seat, hold.until, hold.way) == (
        "before-flap",
        True,
        FO,
        hold.at,
        "read again",
    )


def test_read_past_a_point_without_a_hold_is_no_hold() -> None:
    reading = of(past_the_hold())
    assert reading.holds == () and reading.read == LINES


def test_completed_on_hold() -> None:
    reading = of(completed_on_hold())
    assert [hold.way for hold in reading.holds] == ["completed"]
    assert reading.completed_by is FO and reading.closed_at is None


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
