"""Where a guest sits, and what may be sent from there.

The law: a seat speaks for itself alone; an observer says nothing; what moves the flight itself (pause, pace, aid,
weather, notes) is the instructor's, and the crew's only while no instructor is there. Time and signals are never sent.
"""

from enum import StrEnum
from typing import assert_never

from flowdeck.model import inputs as inp
from flowdeck.model.seats import Seat


class Station(StrEnum):
    CAPTAIN = "captain"
    FIRST_OFFICER = "first_officer"
    OBSERVER = "observer"
    INSTRUCTOR = "instructor"

    @property
    def seat(self) -> Seat | None:
        """The seat of a pilot; None for those who only look on or instruct."""
        match self:
            case Station.CAPTAIN:
                return Seat.CAPTAIN
            case Station.FIRST_OFFICER:
                return Seat.FIRST_OFFICER
            case Station.OBSERVER | Station.INSTRUCTOR:
                return None
            case _:
                assert_never(self)

    @property
    def label(self) -> str:
        seat = self.seat
        return seat.label if seat is not None else self.capitalize()


CAPACITY: dict[Station, int] = {
    Station.CAPTAIN: 1,
    Station.FIRST_OFFICER: 1,
    Station.OBSERVER: 8,
    Station.INSTRUCTOR: 2,
}
"""Guests that may sit at one."""


def may_lead(station: Station, crew_has_instructor: bool) -> str:
    """Why *station* may not move the flight itself; empty when it may."""
    match station:
        case Station.INSTRUCTOR:
            return ""
        case Station.OBSERVER:
            return "an observer only looks on"
        case Station.CAPTAIN | Station.FIRST_OFFICER:
            return "while an instructor is there, this is the instructor's" if crew_has_instructor else ""
        case _:
            assert_never(station)


def may_send(station: Station, input_: inp.Input, crew_has_instructor: bool) -> str:
    """Why *input_* may not come from *station*; empty when it may."""
    match input_:
        case inp.Sample() | inp.Tick() | inp.Revise():
            return "time, signals and the plan are the host's"
        case inp.Pause() | inp.Unpause() | inp.SetPace() | inp.SetAid():
            return may_lead(station, crew_has_instructor)
        case inp.Interrupt():
            return "" if station is Station.INSTRUCTOR else "only an instructor interrupts"
        case inp.Tell(seat=None):
            return "" if station is Station.INSTRUCTOR else "what comes from outside is told by an instructor"
        case (
            inp.Act()
            | inp.Point()
            | inp.CallList()
            | inp.ReadLine()
            | inp.Answer()
            | inp.SkipLine()
            | inp.HoldList()
            | inp.ResumeList()
            | inp.CompleteList()
            | inp.Defer()
            | inp.Tell()
            | inp.Transfer()
            | inp.TakeOver()
            | inp.Challenge()
            | inp.Reply()
            | inp.GoAround()
            | inp.Undo()
        ):
            if station.seat is None:
                return f"{_a(station)} sits in no seat"
            return "" if input_.seat is station.seat else f"{_a(station)} speaks for no other seat"
        case _:
            assert_never(input_)


def _a(station: Station) -> str:
    words = station.replace("_", " ")
    return f"{'an' if words[0] in 'aio' else 'a'} {words}"
