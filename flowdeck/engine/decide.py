"""From one input to the events that follow from it.

The law: `decide` is pure, takes any input at any moment and never raises for one that makes no
sense (it is `Refused`, with the reason). Wrong acts are taken and judged, not blocked: the tool
holds the place and tells, the pilots act.
"""

from math import isfinite
from typing import assert_never

from msgspec.structs import astuple

from flowdeck.engine import acts, flight, lists
from flowdeck.engine.alarm import alarm
from flowdeck.engine.program import program
from flowdeck.engine.settle import settle
from flowdeck.engine.work import Work
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.deck import Deck
from flowdeck.model.readings import Readings
from flowdeck.model.seats import Seat
from flowdeck.model.session import Session


def start(
    deck: Deck,
    readings: Readings,
    *,
    flying: Seat,
    solo: bool,
    facts: dict[str, bool] | None = None,
    sealed: tuple[Seat, ...] = (),
    at: int = 0,
) -> tuple[Session, tuple[ev.Event, ...]]:
    """Begin a flight: the first session and its events. *facts* are those known beforehand."""
    p = program(deck)
    known: dict[str, bool | None] = {fact.id: fact.initial for fact in deck.facts.values()}
    known.update(facts or {})
    work = Work(p, Session(), readings, at)
    work.emit(
        ev.FlightStarted(
            at=at,
            phase=deck.start,
            flying=flying,
            solo=solo,
            truths=len(deck.conditions),
            facts=known,
            sealed=sealed,
        )
    )
    settle(work)
    return work.session, tuple(work.events)


def decide(deck: Deck, session: Session, readings: Readings, input_: inp.Input) -> tuple[ev.Event, ...]:
    """The events of *input_*; none for a sample or tick that changes nothing.

    *readings* already hold the sample. Inputs at a time before the session's last event count as
    of that event; after the end of a flight nothing more happens.
    """
    p = program(deck)
    now = max(input_.at, session.at)
    if isinstance(input_, (inp.Sample, inp.Tick)):
        if session.ended or session.paused:
            return ()
        if now < alarm(p, session) and p.look(session, readings, now) == session.truths:
            return ()
    work = Work(p, session, readings, now)
    if session.ended:
        work.refuse(type(input_).__name__, "the flight is over")
        return tuple(work.events)
    if _is_finite(input_):
        _take(work, input_)
    else:
        work.refuse(type(input_).__name__, "a number in it is not one")
    if not work.session.paused:
        settle(work)
    return tuple(work.events)


def _is_finite(input_: inp.Input) -> bool:
    """Whether every number in an input is one: neither journal nor clock has a place for nan or infinity."""
    return all(isfinite(value) for value in astuple(input_) if isinstance(value, float))


def _take(work: Work, i: inp.Input) -> None:
    match i:
        case inp.Sample() | inp.Tick():
            pass
        case inp.Act():
            acts.act(work, i)
        case inp.Point():
            acts.point(work, i)
        case inp.Defer():
            acts.defer(work, i)
        case inp.Undo():
            acts.undo(work, i)
        case inp.CallList():
            lists.call(work, i)
        case inp.ReadLine():
            lists.read(work, i)
        case inp.Answer():
            lists.answer(work, i)
        case inp.SkipLine():
            lists.skip(work, i)
        case inp.HoldList():
            lists.hold(work, i)
        case inp.ResumeList():
            lists.resume(work, i)
        case inp.CompleteList():
            lists.complete(work, i)
        case inp.Tell():
            flight.tell(work, i)
        case inp.Transfer():
            flight.transfer(work, i)
        case inp.TakeOver():
            flight.take_over(work, i)
        case inp.Challenge():
            flight.challenge(work, i)
        case inp.Reply():
            flight.reply(work, i)
        case inp.GoAround():
            flight.go_around(work, i)
        case inp.Interrupt():
            flight.interrupt(work, i)
        case inp.Revise():
            flight.revise(work, i)
        case inp.Pause():
            if not work.session.paused:
                work.emit(ev.Paused(at=work.now))
        case inp.Unpause():
            if work.session.paused:
                work.emit(ev.Unpaused(at=work.now))
        case inp.SetPace():
            work.emit(ev.PaceSet(at=work.now, pace=max(0.25, min(16.0, i.pace))))
        case inp.SetAid():
            work.emit(ev.AidSet(at=work.now, aid=i.aid, withhold=i.withhold))
        case _:
            assert_never(i)
