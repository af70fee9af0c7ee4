"""A flight in which the tool plays a seat: after each step the played pilot looks, and sends what a person would."""

from collections.abc import Iterable
from typing import NamedTuple

from msgspec.structs import replace

from flowdeck.crew.lapses import Lapse
from flowdeck.crew.manner import BLANK, Memory
from flowdeck.crew.pilot import Pilot, look_around
from flowdeck.engine import fold
from flowdeck.model import events as ev
from flowdeck.model.scenario import Planted, Scenario
from flowdeck.trial.flight import Flight, send

INPUTS_A_LOOK = 4


class Accompanied(NamedTuple):
    """The flight after a look, what happened by it, and what the pilot remembers."""

    flight: Flight
    events: tuple[ev.Event, ...]
    memory: Memory


def accompany(flight: Flight, pilot: Pilot, memory: Memory = BLANK) -> Accompanied:
    """What the played pilot does at the present moment of the flight."""
    events: list[ev.Event] = []
    for _ in range(INPUTS_A_LOOK):
        played = look_around(
            flight.deck, flight.scenario, pilot, flight.session, flight.readings, flight.truths, memory, flight.now
        )
        memory = played.memory
        slipped = tuple(_made(pilot, lapse, flight.now) for lapse in played.let_slip)
        if slipped:
            flight = replace(flight, session=fold(flight.session, slipped))
            events += slipped
        if not played.inputs:
            break
        for input_ in played.inputs:
            flight, more = send(flight, input_)
            events += more
    return Accompanied(flight, tuple(events), memory)


def _made(pilot: Pilot, lapse: Lapse, now: int) -> ev.LapseMade:
    return ev.LapseMade(at=now, kind=lapse.kind, seat=pilot.seat, ref=lapse.ref)


_PLANTED_AS = {"go_around": "go_around", "discontinued": "discontinue"}
"""How a phase was come to, and what of a scenario leads there."""


def pilots_of(events: Iterable[ev.Event]) -> tuple[Pilot, ...]:
    """Those whom the tool played in a flight, to go on with it."""
    found = {event.seat: event for event in events if isinstance(event, ev.PilotPlayed)}
    return tuple(Pilot(seat=seat, seed=event.seed, lapses=event.lapses) for seat, event in found.items())


def join(flight: Flight, pilots: Iterable[Pilot]) -> tuple[Flight, tuple[ev.Event, ...]]:
    """The tool takes its seats as a flight begins; the events to be kept of that."""
    events = tuple(ev.PilotPlayed(at=flight.now, seat=p.seat, seed=p.seed, lapses=p.lapses) for p in pilots)
    return replace(flight, session=fold(flight.session, events)), events


def remembered(events: Iterable[ev.Event], pilot: Pilot, scenario: Scenario) -> Memory:
    """What a pilot who is taken up again remembers.

    The lapses that it had begun, what it has spoken about, the wrong words that it has said, and what the scenario has
    the pilot flying do once.
    """
    approach, slipped = 1, set()
    said_at: dict[str, int] = {}
    played: dict[Planted, int] = {}
    spoken: dict[str, tuple[int, int]] = {}
    noticed: dict[str, int] = {}
    for event in events:
        if isinstance(event, ev.PhaseEntered):
            approach += event.airborne_again
            kind = _PLANTED_AS.get(event.how)
            done = next((p for p in scenario.planted if p.kind == kind and p not in played), None)
            if done is not None:
                played[done] = event.at
        elif isinstance(event, ev.AnswerNotTaken) and event.seat is pilot.seat:
            said_at[event.line] = event.at
        elif isinstance(event, ev.LapseMade) and event.seat is pilot.seat:
            slipped.add(f"{event.kind}/{event.ref}/{approach}")
        elif isinstance(event, ev.Challenged) and event.seat is pilot.seat:
            spoken[event.about] = spoken.get(event.about, (0, 0))[0] + 1, event.at
            noticed.setdefault(event.about, event.at)
    return replace(
        BLANK,
        let_slip=frozenset(slipped),
        spoken=spoken,
        noticed=noticed,
        said=frozenset(said_at),
        said_at=said_at,
        played=played,
    )
