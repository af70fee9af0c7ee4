"""Answers at the edge of what is judged: the look to the millisecond, the burst, the value, and the second answer."""

import pytest

from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.deviation import Slip, Trapper
from flowdeck.model.seats import Seat
from flowdeck.model.session import ListStatus, Status
from tests.engine.test_slips import configured, flight, listed, prepared
from tests.support.bench import CPT, FO, BenchFlight

LIST = "landing-list"


def called(**signals: object) -> BenchFlight:
    f = configured(flight(**signals)).reads(distance_nm=7.5).calls(CPT, LIST)
    f.send(inp.Sample(at=f.now))
    return f


def reads_line(f: BenchFlight, after_ms: int = 0) -> None:
    f.now += after_ms
    f.send(inp.ReadLine(at=f.now, seat=FO, checklist=LIST))


def answers(f: BenchFlight, seat: Seat, line: str, after_ms: int, value: object = None) -> None:
    f.now += after_ms
    f.send(inp.Answer(at=f.now, seat=seat, line=line, value=value))  # type: ignore[arg-type]  # a scalar


@pytest.mark.parametrize(("ms", "rote"), [(799, ["ll-gear"]), (800, []), (801, [])])
def test_a_look_takes_eight_tenths_of_a_second(ms: int, rote: list[str]) -> None:
    """A millisecond under the policy's value is rote, the value itself is a look."""
    f = called()
    reads_line(f)
    answers(f, CPT, "ll-gear", ms)
    assert [d.item for d in f.raised(Slip.ROTE)] == rote
    assert f.session.item("ll-gear").is_done


@pytest.mark.parametrize(("ms", "chunked"), [(1499, [LIST]), (1500, []), (1501, [])])
def test_a_burst_is_three_answers_in_under_a_second_and_a_half(ms: int, chunked: list[str]) -> None:
    """Counted from the answer before the last one; the two at first make no burst."""
    f = called()
    reads_line(f)
    answers(f, CPT, "ll-gear", 100)
    reads_line(f)
    answers(f, CPT, "ll-altimeters", 100)
    assert f.raised(Slip.CHUNKED) == []
    answers(f, FO, "ll-altimeters", ms - 100)
    assert [d.item for d in f.raised(Slip.CHUNKED)] == chunked


def test_one_burst_is_said_once_and_the_next_again() -> None:
    """Four answers in a breath are one burst; a list begun anew and rushed again is another."""
    f = called()
    for _ in range(2):
        reads_line(f)
        answers(f, CPT, "ll-gear", 100)
        reads_line(f)
        answers(f, CPT, "ll-altimeters", 100)
        answers(f, FO, "ll-altimeters", 100)
        reads_line(f)
        answers(f, CPT, "ll-flap", 100)
        f.wait(5)
        f.send(inp.HoldList(at=f.now, seat=FO, checklist=LIST))
        f.send(inp.ResumeList(at=f.now, seat=FO, checklist=LIST, restart=True))
    assert [d.item for d in f.raised(Slip.CHUNKED)] == [LIST, LIST]


@pytest.mark.parametrize(("ms", "from_memory"), [(2399, [LIST]), (2401, [])])
def test_a_list_takes_a_look_for_each_line(ms: int, from_memory: list[str]) -> None:
    """Three lines at 0.8 s: called complete sooner than that it cannot have been read."""
    f = configured(flight()).reads(distance_nm=7.5)
    f.send(inp.CallList(at=f.now, seat=CPT, checklist=LIST))
    began = f.now
    for seat, line in ((CPT, "ll-gear"), (CPT, "ll-altimeters"), (CPT, "ll-flap")):
        reads_line(f)
        answers(f, seat, line, 100)
        if line == "ll-altimeters":
            answers(f, FO, line, 100)
    f.send(inp.CompleteList(at=began + ms, seat=FO, checklist=LIST))
    assert [d.item for d in f.raised(Slip.FROM_MEMORY)] == from_memory
    assert [d.actual for d in f.raised(Slip.FROM_MEMORY)] == ["faster than it can be read"] * len(from_memory)
    assert LIST in f.session.done


@pytest.mark.parametrize(("solo", "pace"), [(True, 1.0), (False, 2.0), (True, 2.0)])
def test_alone_or_faster_than_time_nobody_rushes(solo: bool, pace: float) -> None:
    """One person answers at once, and at x2 a second is half of one: neither look, burst nor list is judged."""
    f = configured(flight(solo=solo)).reads(distance_nm=7.5)
    f.send(inp.SetPace(at=f.now, pace=pace))
    f.send(inp.CallList(at=f.now, seat=CPT, checklist=LIST))
    for seats, line in (((CPT,), "ll-gear"), ((CPT, FO), "ll-altimeters"), ((CPT,), "ll-flap")):
        reads_line(f)
        for seat in seats:
            answers(f, seat, line, 100)
    f.completes(FO, LIST)
    assert LIST in f.session.done and f.slips() == []


def test_the_line_said_again_after_a_hold_is_looked_at_again() -> None:
    """Its look begins anew on resuming: answered in 0.3 s it is rote, though it was challenged a minute ago."""
    f = called()
    reads_line(f)
    answers(f, CPT, "ll-gear", 1500)
    f.send(inp.HoldList(at=f.now, seat=FO, checklist=LIST))
    f.wait(60)
    f.send(inp.ResumeList(at=f.now, seat=FO, checklist=LIST))
    answers(f, CPT, "ll-gear", 300)
    assert [(d.item, d.actual) for d in f.raised(Slip.ROTE)] == [("ll-gear", "answered after 0.3 s")]
    assert f.session.list(LIST).reread == ""
    answers(f, CPT, "ll-gear", 300)
    assert f.of(ev.Refused)[-1].because == "it has been answered"


def test_resuming_clears_the_hold() -> None:
    """Held, resumed, and held again: the second hold counts from its own moment."""
    f = called()
    f.send(inp.HoldList(at=f.now, seat=FO, checklist=LIST, why="traffic"))
    assert [e.why for e in f.of(ev.ListHeld)] == ["traffic"]
    assert f.session.list(LIST).held_at == f.now
    f.wait(5).send(inp.ResumeList(at=f.now, seat=FO, checklist=LIST))
    assert (f.session.list(LIST).held_at, f.session.list(LIST).hold) == (None, "")
    assert f.session.list(LIST).status is ListStatus.CALLED
    assert [(e.line, e.lines, e.restart) for e in f.of(ev.ListResumed)] == [("", (), False)]


@pytest.mark.parametrize("value", [1009.0, 1009, "1009", " 1009 ", 1009.4])
def test_the_reading_closes_the_line_however_it_is_keyed(value: object) -> None:
    """A whole number, as said; the record keeps what was said."""
    f = called().asks(FO, LIST).says(CPT, "ll-gear").asks(FO, LIST)
    f.says(CPT, "ll-altimeters", value)  # type: ignore[arg-type]  # a scalar
    state = f.session.item("ll-altimeters")
    assert (state.status, state.partly, state.value) == (Status.PARTLY, (CPT,), value)
    f.says(FO, "ll-altimeters", value)  # type: ignore[arg-type]
    state = f.session.item("ll-altimeters")
    assert (state.status, state.partly, state.value, state.seat) == (Status.DONE, (), value, FO)
    assert [(e.seat, e.value, e.closed) for e in f.of(ev.LineAnswered)][1:] == [(CPT, value, False), (FO, value, True)]
    assert f.slips() == []


@pytest.mark.parametrize("value", [1010.0, 1008, "1013", "high", 1009.6])
def test_another_figure_leaves_the_line_open_until_the_right_one_is_said(value: object) -> None:
    """The altimeters read otherwise: the answer is not taken; the right one later closes line and slip."""
    f = called().asks(FO, LIST).says(CPT, "ll-gear").asks(FO, LIST)
    f.says(CPT, "ll-altimeters", value)  # type: ignore[arg-type]  # a scalar
    assert f.session.item("ll-altimeters").partly == ()
    [wrong] = f.raised(Slip.UNVERIFIED)
    assert (wrong.item, wrong.trapped_by) == ("ll-altimeters", None)
    f.says(CPT, "ll-altimeters", 1009.0).says(FO, "ll-altimeters", 1009.0)
    assert f.raised(Slip.UNVERIFIED)[0].trapped_by is Trapper.TOOL


def test_an_unknown_reading_contradicts_no_figure() -> None:
    """The altimeter setting is not heard: what the pilot says is taken."""
    f = called(pressure_left_hpa=None).asks(FO, LIST).says(CPT, "ll-gear").asks(FO, LIST)
    f.says(CPT, "ll-altimeters", 987.0)
    assert f.session.item("ll-altimeters").partly == (CPT,)
    assert f.raised(Slip.UNVERIFIED) == []


def test_words_that_are_not_the_lines_leave_it_open() -> None:
    """'Up' is no answer to the gear: the line waits, and the right words catch the slip."""
    f = called().asks(FO, LIST).says(CPT, "ll-gear", "up")
    assert "ll-gear" not in f.session.done
    [wrong] = f.raised(Slip.NONSTANDARD_RESPONSE)
    assert wrong.trapped_by is None
    f.says(CPT, "ll-gear", " Down ")
    assert "ll-gear" in f.session.done
    assert f.raised(Slip.NONSTANDARD_RESPONSE)[0].trapped_by is Trapper.TOOL


@pytest.mark.parametrize("word", ["checked", "Set", "OK", " as required ", "on off"])
def test_a_vague_word_closes_no_line_that_has_a_value(word: str) -> None:
    """Neither a line of words nor one of a figure."""
    f = called().asks(FO, LIST).says(CPT, "ll-gear", word)
    assert "ll-gear" not in f.session.done
    f.says(CPT, "ll-gear").asks(FO, LIST).says(CPT, "ll-altimeters", word)
    assert [d.item for d in f.raised(Slip.NONSTANDARD_RESPONSE)] == ["ll-gear", "ll-altimeters"]
    assert f.raised(Slip.UNVERIFIED) == []


def test_set_is_the_answer_where_the_card_says_set() -> None:
    """A word of the card is never vague."""
    from tests.engine.test_slips import on_ground

    f = on_ground(flight()).does(CPT, "brake", parking_brake="set").does(FO, "cut", fuel_lever_1="cutoff").wait(6)
    f.calls(CPT, "ground-list").asks(FO, "ground-list").says(CPT, "gl-brake", "set")
    assert "gl-brake" in f.session.done
    assert f.slips() == []


def test_an_answer_from_the_wrong_seat_counts_and_is_said() -> None:
    """The first officer answers for the captain: taken, and judged."""
    f = called().asks(FO, LIST).says(FO, "ll-gear")
    assert f.session.item("ll-gear").seat is FO
    assert [(d.item, d.seat) for d in f.raised(Slip.WRONG_SEAT)] == [("ll-gear", FO)]


def test_the_wrong_reader_is_said_for_each_of_his_acts() -> None:
    """The captain reads, resumes and completes what the first officer should."""
    f = called()
    f.send(inp.ReadLine(at=f.now, seat=CPT, checklist=LIST))
    f.send(inp.HoldList(at=f.now, seat=CPT, checklist=LIST))
    f.send(inp.ResumeList(at=f.now, seat=CPT, checklist=LIST))
    f.send(inp.CompleteList(at=f.now, seat=CPT, checklist=LIST))
    assert [(d.item, d.seat) for d in f.raised(Slip.WRONG_SEAT)] == [(LIST, CPT)] * 3
    g = configured(flight()).reads(distance_nm=7.5).calls(FO, LIST)
    assert [(d.item, d.seat) for d in g.raised(Slip.WRONG_SEAT)] == [(LIST, FO)]


def test_what_is_put_off_is_no_reason_against_the_line() -> None:
    """The gear was deferred: answering its line is not 'not done', but the aircraft still shows otherwise."""
    f = prepared(flight()).reads(distance_nm=7.5)
    f.send(inp.Defer(at=f.now, seat=FO, item="gear-down", cue="on-ground"))
    f.calls(CPT, LIST).asks(FO, LIST).says(CPT, "ll-gear")
    assert [d.actual for d in f.raised(Slip.UNVERIFIED)] == ["answered while the aircraft shows otherwise"]
    f.completes(FO, LIST)
    assert f.of(ev.ListCompleted)[-1].exceptions == ("gear-down",)
    assert listed(configured(flight())).completes(FO, LIST).of(ev.ListCompleted)[-1].exceptions == ()
