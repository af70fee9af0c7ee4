"""What cannot be taken is refused with a reason, to the seat that tried it, and changes nothing else."""

from collections.abc import Callable
from math import inf, nan

import pytest

from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.deviation import Slip
from flowdeck.model.session import Session, Status
from tests.engine.test_edges import changed
from tests.engine.test_flight import go_around
from tests.engine.test_slips import configured, flight, listed, on_ground, prepared
from tests.support.bench import CPT, FO, BenchFlight
from tests.support.small import DECK, small_deck

LIST = "landing-list"


def still() -> BenchFlight:
    return flight().wait(1)


def called() -> BenchFlight:
    return configured(flight()).reads(distance_nm=7.5).calls(CPT, LIST)


def read() -> BenchFlight:
    return called().asks(FO, LIST)


def answered() -> BenchFlight:
    return read().says(CPT, "ll-gear")


def pointed() -> BenchFlight:
    return still().points(FO, "aids")


def landed() -> BenchFlight:
    """On the runway with reverse selected."""
    f = listed(configured(flight())).completes(FO, LIST)
    f.reads(height_aal_ft=390.0).does(FO, "minimum").does(CPT, "minimum-answer").reads(on_ground=True)
    return f.does(CPT, "reverse", reverse="full")


def committed_in_the_go_around() -> BenchFlight:
    return go_around(still()).wait(1)


def parked() -> BenchFlight:
    """The end of the flight."""
    f = on_ground(flight()).does(CPT, "brake", parking_brake="set").does(FO, "cut", fuel_lever_1="cutoff")
    f.does(FO, "papers").wait(6).calls(CPT, "ground-list")
    f.asks(FO, "ground-list").says(CPT, "gl-brake").asks(FO, "ground-list").says(FO, "gl-lever")
    return f.completes(FO, "ground-list")


def resumed_by_the_other() -> BenchFlight:
    """The captain held, the first officer resumed."""
    f = read()
    f.send(inp.HoldList(at=f.now, seat=CPT, checklist=LIST))
    f.send(inp.ResumeList(at=f.now, seat=FO, checklist=LIST))
    return f


def told() -> BenchFlight:
    return still().tells("vacated", seat=CPT)


def challenged() -> BenchFlight:
    f = still()
    f.send(inp.Challenge(at=f.now, seat=FO, about="speed"))
    return f


def offered() -> BenchFlight:
    f = still()
    f.send(inp.Transfer(at=f.now, seat=CPT, part="offer"))
    return f


Case = tuple[Callable[[], BenchFlight], Callable[[int], inp.Input], str, str]
NO_ITEM, NO_LIST = "this deck has no such item", "this deck has no such checklist"
CASES: list[Case] = [
    (still, lambda at: inp.Act(at=at, seat=FO, item="zzqq"), "zzqq", NO_ITEM),
    (still, lambda at: inp.Point(at=at, seat=FO, item="zzqq"), "zzqq", NO_ITEM),
    (pointed, lambda at: inp.Point(at=at, seat=FO, item="aids"), "aids", "already pointed at"),
    (
        still,
        lambda at: inp.Act(at=at, seat=FO, item="to-go-answer"),
        "to-go-answer",
        "nothing has been called that this would answer",
    ),
    (still, lambda at: inp.Defer(at=at, seat=FO, item="zzqq"), "zzqq", "only an item of a flow can be deferred"),
    (still, lambda at: inp.Defer(at=at, seat=FO, item="to-go"), "to-go", "only an item of a flow can be deferred"),
    (still, lambda at: inp.Defer(at=at, seat=FO, item="ll-gear"), "ll-gear", "only an item of a flow can be deferred"),
    (
        lambda: prepared(flight()),
        lambda at: inp.Defer(at=at, seat=FO, item="aids", in_s=9),
        "aids",
        "it is already done",
    ),
    (
        still,
        lambda at: inp.Defer(at=at, seat=FO, item="aids"),
        "aids",
        "a deferral needs the event, place or time at which it comes back",
    ),
    (still, lambda at: inp.Defer(at=at, seat=FO, item="aids", cue="zzqq"), "aids", "this deck has no cue 'zzqq'"),
    (still, lambda at: inp.Undo(at=at, seat=FO), "undo", "nothing of this seat can be taken back in this phase"),
    (
        resumed_by_the_other,
        lambda at: inp.Undo(at=at, seat=CPT),
        "undo",
        "Landing checklist has gone on since; it cannot be taken back",
    ),
    (still, lambda at: inp.CallList(at=at, seat=FO, checklist="zzqq"), "zzqq", NO_LIST),
    (still, lambda at: inp.ReadLine(at=at, seat=FO, checklist="zzqq"), "zzqq", NO_LIST),
    (still, lambda at: inp.SkipLine(at=at, seat=FO, checklist="zzqq"), "zzqq", NO_LIST),
    (still, lambda at: inp.HoldList(at=at, seat=FO, checklist="zzqq"), "zzqq", NO_LIST),
    (still, lambda at: inp.ResumeList(at=at, seat=FO, checklist="zzqq"), "zzqq", NO_LIST),
    (still, lambda at: inp.CompleteList(at=at, seat=FO, checklist="zzqq"), "zzqq", NO_LIST),
    (called, lambda at: inp.CallList(at=at, seat=CPT, checklist=LIST), LIST, "it is being read"),
    (still, lambda at: inp.ReadLine(at=at, seat=FO, checklist=LIST), LIST, "it has not been called"),
    (
        lambda: listed(configured(flight())),
        lambda at: inp.ReadLine(at=at, seat=FO, checklist=LIST),
        LIST,
        "no line is left; say that it is complete",
    ),
    (
        read,
        lambda at: inp.ReadLine(at=at, seat=FO, checklist=LIST),
        "ll-gear",
        "it has been read and waits for its answer",
    ),
    (still, lambda at: inp.Answer(at=at, seat=FO, line="zzqq"), "zzqq", "this deck has no such line"),
    (still, lambda at: inp.Answer(at=at, seat=FO, line="speed"), "speed", "this deck has no such line"),
    (called, lambda at: inp.Answer(at=at, seat=CPT, line="ll-gear"), "ll-gear", "its challenge has not been read"),
    (called, lambda at: inp.Act(at=at, seat=CPT, item="ll-gear"), "ll-gear", "its challenge has not been read"),
    (answered, lambda at: inp.Answer(at=at, seat=CPT, line="ll-gear"), "ll-gear", "it has been answered"),
    (still, lambda at: inp.SkipLine(at=at, seat=FO, checklist=LIST), LIST, "there is no line to pass over"),
    (
        lambda: listed(configured(flight())),
        lambda at: inp.SkipLine(at=at, seat=FO, checklist=LIST),
        LIST,
        "there is no line to pass over",
    ),
    (still, lambda at: inp.HoldList(at=at, seat=FO, checklist=LIST), LIST, "it is not being read"),
    (called, lambda at: inp.ResumeList(at=at, seat=FO, checklist=LIST), LIST, "it is not on hold"),
    (still, lambda at: inp.Tell(at=at, seat=FO, fact="zzqq"), "zzqq", "this deck has no such fact"),
    (
        still,
        lambda at: inp.Tell(at=at, seat=FO, fact="cleared"),
        "cleared",
        "this comes from outside the flight deck",
    ),
    (
        told,
        lambda at: inp.Tell(at=at, seat=FO, fact="vacated", value=False),
        "vacated",
        "once told, this fact stays",
    ),
    (
        still,
        lambda at: inp.Transfer(at=at, seat=FO, part="take"),
        "control",
        "the other pilot has not offered it",
    ),
    (
        offered,
        lambda at: inp.Transfer(at=at, seat=CPT, part="take"),
        "control",
        "the other pilot has not offered it",
    ),
    (offered, lambda at: inp.Transfer(at=at, seat=CPT, part="confirm"), "control", "it has not been taken yet"),
    (still, lambda at: inp.Transfer(at=at, seat=FO, part="confirm"), "control", "it has not been taken yet"),
    (still, lambda at: inp.TakeOver(at=at, seat=CPT), "control", "this pilot is flying already"),
    (still, lambda at: inp.Reply(at=at, seat=CPT), "reply", "nothing has been challenged"),
    (challenged, lambda at: inp.Reply(at=at, seat=FO), "reply", "the other pilot is to answer"),
    (
        landed,
        lambda at: inp.GoAround(at=at, seat=FO),
        "go-around",
        "the aeroplane is committed to the landing",
    ),
    (
        lambda: on_ground(flight()),
        lambda at: inp.GoAround(at=at, seat=FO),
        "go-around",
        "no go-around leads out of this phase",
    ),
    (
        committed_in_the_go_around,
        lambda at: inp.GoAround(at=at, seat=CPT),
        "go-around",
        "no go-around leads out of this phase",
    ),
    (
        still,
        lambda at: inp.Act(at=at, seat=CPT, item="speed", value=nan),
        "Act",
        "a number in it is not one",
    ),
    (still, lambda at: inp.Defer(at=at, seat=FO, item="aids", in_s=inf), "Defer", "a number in it is not one"),
    (still, lambda at: inp.SetPace(at=at, pace=nan), "SetPace", "a number in it is not one"),
    (
        still,
        lambda at: inp.Interrupt(at=at, words="call", length_s=-inf),
        "Interrupt",
        "a number in it is not one",
    ),
    (parked, lambda at: inp.Act(at=at, seat=CPT, item="brake"), "Act", "the flight is over"),
    (parked, lambda at: inp.Unpause(at=at), "Unpause", "the flight is over"),
]
_WITHOUT_SEAT = {"a number in it is not one", "the flight is over"}


@pytest.mark.parametrize(("before", "input_", "what", "because"), CASES)
def test_the_reason_is_said_to_the_seat_that_tried(
    before: Callable[[], BenchFlight], input_: Callable[[int], inp.Input], what: str, because: str
) -> None:
    """One event with the name of the thing, the reason word for word, and whose it was; nothing else follows."""
    f = before()
    tried = input_(f.now)
    seat = None if because in _WITHOUT_SEAT else getattr(tried, "seat", None)
    assert f.send(tried) == (ev.Refused(at=f.now, what=what, because=because, seat=seat),)


def core(s: Session) -> tuple[object, ...]:
    return (s.items, s.lists, s.gates, s.facts, s.done, s.times, s.deviations, s.undo, s.flying, s.phase, s.pace)


def test_a_refusal_changes_nothing() -> None:
    """The same lanes, lists and record as before, whatever was refused."""
    for before, input_, what, _ in CASES:
        f = before()
        was = core(f.session)
        f.send(input_(f.now))
        assert core(f.session) == was, what


def test_alone_in_the_cockpit_one_tells_what_comes_from_outside() -> None:
    """Nobody plays the controller: the one pilot tells the clearance for it."""
    f = flight(solo=True).wait(1).tells("cleared", seat=CPT)
    assert f.session.facts["cleared"] is True
    assert f.of(ev.Refused) == []


def test_what_toggles_can_be_taken_back_by_telling() -> None:
    """Near a runway, and no longer near it."""
    f = still().tells("near_runway", seat=CPT).tells("near_runway", value=False, seat=FO)
    assert f.session.facts["near_runway"] is False
    assert [(e.fact, e.value, e.seat) for e in f.of(ev.FactTold)] == [
        ("near_runway", True, CPT),
        ("near_runway", False, FO),
    ]


def test_a_fact_told_twice_is_told_once() -> None:
    f = told().tells("vacated", seat=FO)
    assert len(f.of(ev.FactTold)) == 1 and f.of(ev.Refused) == []


def test_a_fact_of_other_phases_is_refused_word_for_word() -> None:
    """Told in the air what can only be told after landing."""
    text = changed(DECK, "vacated: {title: Runway vacated}", "vacated: {title: Runway vacated, phases: [landing]}")
    f = BenchFlight(small_deck(deck=text)).wait(1).tells("vacated", seat=CPT)
    assert f.of(ev.Refused) == [
        ev.Refused(at=f.now, what="vacated", because="this is not told in this phase", seat=CPT)
    ]


def test_an_offer_made_again_has_to_be_taken_again() -> None:
    """Offered, taken, offered once more: the first 'I have it' does not answer the second offer."""
    f = offered()
    for seat, part in ((FO, "take"), (CPT, "offer"), (CPT, "confirm")):
        f.send(inp.Transfer(at=f.now, seat=seat, part=part))  # type: ignore[arg-type]  # one of the three words
    assert f.session.flying is CPT and f.of(ev.ControlConfirmed) == []
    assert [e.because for e in f.of(ev.Refused)] == ["it has not been taken yet"]


def test_the_end_is_the_end_also_when_signals_move() -> None:
    """Parked, and the brake reads off again: no event, no refusal in the record, nothing owed."""
    f = parked()
    assert f.session.ended == "parked"
    assert f.send(inp.Tick(at=f.now + 1000)) == ()
    f.values.update(parking_brake="off", in_cloud=True, tat_c=2.0)
    f.now += 1000
    assert f.send(inp.Sample(at=f.now)) == ()
    assert f.send(inp.Tick(at=f.now)) == ()
    assert f.session.item("papers").status is Status.DONE


def test_while_paused_moving_signals_bring_nothing() -> None:
    """The gear moves on the ramp of a paused flight: it is looked at when the flight goes on."""
    f = prepared(flight()).reads(distance_nm=9.0).wait(1)
    f.send(inp.Pause(at=f.now))
    f.values.update(gear="down")
    assert f.send(inp.Sample(at=f.now)) == () and f.send(inp.Tick(at=f.now)) == ()
    assert f.send(inp.Pause(at=f.now)) == ()
    assert not f.session.item("gear-down").is_done
    assert isinstance(f.send(inp.Unpause(at=f.now))[0], ev.Unpaused)
    assert f.session.item("gear-down").is_done
    assert f.send(inp.Unpause(at=f.now)) == ()
    assert f.raised(Slip.EARLY) == []


@pytest.mark.parametrize(("asked", "given"), [(0.1, 0.25), (0.25, 0.25), (4, 4), (16, 16), (99, 16)])
def test_the_pace_stays_between_a_quarter_and_sixteen(asked: float, given: float) -> None:
    f = still()
    f.send(inp.SetPace(at=f.now, pace=asked))
    assert f.session.pace == given
