"""A whole flight without a screen: the scenario's scripted crew flies it, faster than time."""

from collections.abc import Iterator

from msgspec import Struct
from msgspec.structs import replace

from flowdeck.crew.manner import BLANK, Memory
from flowdeck.crew.script import play
from flowdeck.model import events as ev
from flowdeck.model.deck import Deck
from flowdeck.model.scenario import Cause, Scenario
from flowdeck.trial.flight import Flight, advance, send, take_off

STEP_MS = 500
_INPUTS_A_STEP = 4


class Step(Struct, frozen=True):
    """The flight after a step, what happened in it, and what the scripted crew remembers."""

    flight: Flight
    events: tuple[ev.Event, ...]
    memory: Memory


def rehearse(deck: Deck, scenario: Scenario, *, recorded: bool = True) -> Iterator[Step]:
    """Fly *scenario* to its end or its limit of time; a step for each thing that happens."""
    flight, events = take_off(deck, scenario)
    flight = replace(flight, recorded=recorded)
    yield Step(flight, events, BLANK)
    yield from fly_on(flight)


def fly_on(flight: Flight, memory: Memory = BLANK) -> Iterator[Step]:
    """The rest of a flight by its scripted crew, who remember *memory* of what was before."""
    deck, scenario = flight.deck, flight.scenario
    limit = round(scenario.limit_s * 1000)
    now = flight.session.at
    while not flight.session.ended and now < limit:
        now += STEP_MS
        flight, events = advance(flight, now)
        if events:
            yield Step(flight, events, memory)
        for _ in range(_INPUTS_A_STEP):
            turn = play(deck, scenario, flight.session, flight.truths, memory, now)
            memory = turn.memory
            if not turn.inputs:
                break
            for input_ in turn.inputs:
                flight, events = send(flight, input_)
                yield Step(flight, events, memory)


class Compared(Struct, frozen=True, kw_only=True):
    """Deviations that were planted and not found, and found and not planted."""

    missing: tuple[Cause, ...]
    extra: tuple[Cause, ...]

    @property
    def exact(self) -> bool:
        return not self.missing and not self.extra


def compare(scenario: Scenario, flight: Flight) -> Compared:
    """Hold the deviations of a finished flight against what its planted slips must cause."""
    found = [Cause(slip=d.slip, item=d.item, seat=d.seat) for d in flight.session.deviations if d.superseded_by is None]
    missing = []
    for cause in (cause for planted in scenario.planted for cause in planted.causes):
        match = next((f for f in found if _fits(cause, f)), None)
        if match is None:
            missing.append(cause)
        else:
            found.remove(match)
    return Compared(missing=tuple(missing), extra=tuple(found))


def _fits(cause: Cause, found: Cause) -> bool:
    same = cause.slip is found.slip and cause.item == found.item
    return same and (cause.seat is None or cause.seat is found.seat)
