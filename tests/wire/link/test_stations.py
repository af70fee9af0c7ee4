"""Who may send what: every kind of input from every station, with and without an instructor."""

from typing import get_args

import pytest

from flowdeck.model import inputs as inp
from flowdeck.model.seats import Seat
from flowdeck.wire.link.stations import Station, may_lead, may_send

CPT, FO = Seat.CAPTAIN, Seat.FIRST_OFFICER
CREW, ALONE, INSTRUCTOR, NOBODY = "crew", "crew, no instructor there", "instructor", "nobody"

RULES: dict[str, str] = {
    "Act": CREW,
    "Point": CREW,
    "CallList": CREW,
    "ReadLine": CREW,
    "Answer": CREW,
    "SkipLine": CREW,
    "HoldList": CREW,
    "ResumeList": CREW,
    "CompleteList": CREW,
    "Defer": CREW,
    "Tell": CREW,
    "Transfer": CREW,
    "TakeOver": CREW,
    "Challenge": CREW,
    "Reply": CREW,
    "GoAround": CREW,
    "Undo": CREW,
    "Interrupt": INSTRUCTOR,
    "Pause": ALONE,
    "Unpause": ALONE,
    "SetPace": ALONE,
    "SetAid": ALONE,
    "Revise": NOBODY,
    "Sample": NOBODY,
    "Tick": NOBODY,
}


def made(kind: str, seat: Seat) -> inp.Input:
    match kind:
        case "Act" | "Point" | "Defer":
            return getattr(inp, kind)(at=0, seat=seat, item="x")
        case "CallList" | "ReadLine" | "SkipLine" | "HoldList" | "ResumeList" | "CompleteList":
            return getattr(inp, kind)(at=0, seat=seat, checklist="x")
        case "Answer":
            return inp.Answer(at=0, seat=seat, line="x")
        case "Tell":
            return inp.Tell(at=0, seat=seat, fact="x")
        case "Transfer":
            return inp.Transfer(at=0, seat=seat, part="offer")
        case "Challenge":
            return inp.Challenge(at=0, seat=seat, about="x")
        case "TakeOver" | "Reply" | "GoAround" | "Undo":
            return getattr(inp, kind)(at=0, seat=seat)
        case "Interrupt":
            return inp.Interrupt(at=0, words="x", length_s=1)
        case "SetPace":
            return inp.SetPace(at=0, pace=2)
        case "SetAid":
            return inp.SetAid(at=0, aid="drill")
        case "Revise":
            return inp.Revise(at=0, because="x", changes=())
        case _:
            return getattr(inp, kind)(at=0)


def allowed(rule: str, station: Station, seat: Seat, instructor: bool) -> bool:
    match rule:
        case "crew":
            return station == str(seat)
        case "instructor":
            return station is Station.INSTRUCTOR
        case "nobody":
            return False
        case _:
            return station is Station.INSTRUCTOR or (station is not Station.OBSERVER and not instructor)


def test_the_table_names_every_kind_of_input() -> None:
    assert set(RULES) == {kind.__name__ for kind in get_args(inp.Input)}


@pytest.mark.parametrize("kind", RULES)
@pytest.mark.parametrize("station", Station)
def test_what_a_station_may_send(kind: str, station: Station) -> None:
    for seat in Seat:
        for instructor in (False, True):
            why = may_send(station, made(kind, seat), instructor)
            assert (why == "") == allowed(RULES[kind], station, seat, instructor), (seat, instructor, why)


@pytest.mark.parametrize("station", Station)
def test_what_comes_from_outside_is_told_by_an_instructor(station: Station) -> None:
    why = may_send(station, inp.Tell(at=0, fact="cleared"), crew_has_instructor=False)
    assert (why == "") == (station is Station.INSTRUCTOR)


def test_refusals_are_sentences_that_say_who() -> None:
    tick = inp.Tick(at=0)
    act = inp.Act(at=0, seat=FO, item="x")
    assert may_send(Station.CAPTAIN, act, False) == "a captain speaks for no other seat"
    undo = inp.Undo(at=0, seat=CPT)
    assert may_send(Station.FIRST_OFFICER, undo, False) == "a first officer speaks for no other seat"
    assert may_send(Station.OBSERVER, act, False) == "an observer sits in no seat"
    assert may_send(Station.INSTRUCTOR, act, False) == "an instructor sits in no seat"
    assert may_send(Station.INSTRUCTOR, tick, True) == "time, signals and the plan are the host's"
    assert may_lead(Station.OBSERVER, False) == "an observer only looks on"
    assert may_lead(Station.CAPTAIN, True) == "while an instructor is there, this is the instructor's"
    assert may_lead(Station.CAPTAIN, False) == may_lead(Station.INSTRUCTOR, True) == ""
