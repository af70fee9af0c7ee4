"""A flight taken up again from its events: the session by folding, the aeroplane from the last checkpoint.

Since a checkpoint some seconds may have passed: what the crew moved and the scenario played in them
is done again, and the aeroplane flies on to the moment of the last event.
"""

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from msgspec.structs import replace

from flowdeck.aircraft.controls import command, take_back, travel_on
from flowdeck.aircraft.motion import move
from flowdeck.aircraft.readings import show
from flowdeck.aircraft.state import Aeroplane, begin, expired, unpack_plane, with_around, with_faults
from flowdeck.engine import fold
from flowdeck.model import events as ev
from flowdeck.model.condition import Scalar, Truth
from flowdeck.model.deck import Deck
from flowdeck.model.readings import Readings
from flowdeck.model.scenario import Scenario
from flowdeck.model.session import ListStatus, Session
from flowdeck.trial.flight import Flight, choices_of
from flowdeck.trial.revise import again, reported, weighed


def restore(deck: Deck, scenario: Scenario, events: Iterable[ev.Event]) -> Flight:
    """The flight as it stood after *events*. Raises `ValueError` when they begin no flight."""
    all_events = tuple(events)
    if not all_events or not isinstance(all_events[0], ev.FlightStarted):
        raise ValueError("the events do not begin with the start of a flight")
    session = fold(Session(), all_events)
    checks = [event for event in all_events if isinstance(event, ev.Checkpoint)]
    rows = len(scenario.conditions)
    truths: tuple[Truth, ...] = (None,) * rows
    truth_at: tuple[int, ...] = (0,) * rows
    plane = begin(scenario)
    if checks:
        plane, truths, truth_at = unpack_plane(checks[-1].plane), checks[-1].truths, checks[-1].truth_at
    since = all_events[all_events.index(checks[-1]) :] if checks else all_events
    plane = travel_on(move(_again(deck, scenario, plane, since), scenario, session, session.at), session.at)
    traced, traced_at = _traces(all_events)
    script = [event for event in all_events if isinstance(event, ev.ScriptMoved)]
    return Flight(
        deck=deck,
        scenario=scenario,
        session=session,
        readings=Readings().heard(traced, traced_at).heard(show(plane, scenario), session.at),
        plane=replace(plane, at=session.at),
        truths=truths,
        truth_at=truth_at,
        fired={event.happening: event.at for event in script if not event.played},
        happened=frozenset(event.happening for event in script if event.played),
        held={event.happening: event.until for event in all_events if isinstance(event, ev.ScriptHeld)},
        traced=traced,
        traced_at=traced_at,
        checked_at=session.at,
    )


def interrupted(flight: Flight) -> tuple[Flight, tuple[ev.Event, ...]]:
    """The flight waits, at x1, and lists that were being read stop at their line: resuming repeats the last one."""
    at = flight.session.at
    events: list[ev.Event] = [
        ev.ListHeld(at=at, checklist=ref, seat=None, why="the flight was taken up again", spoken=False)
        for ref, state in flight.session.lists.items()
        if state.status is ListStatus.CALLED
    ]
    if flight.session.pace != 1:
        events.append(ev.PaceSet(at=at, pace=1.0, because="taken up again"))
    if not flight.session.paused and not flight.session.ended:
        events.append(ev.Paused(at=at))
    return replace(flight, session=fold(flight.session, events)), tuple(events)


class PathPoint(NamedTuple):
    """What was shown at *at* (ms)."""

    at: int
    distance_nm: float
    altitude_ft: float


def path_points(events: Iterable[ev.Event]) -> Iterator[PathPoint]:
    """Distance and altitude at each trace that has both, oldest first: the vertical path as it was flown."""
    values: dict[str, Scalar | None] = {}
    for event in events:
        if isinstance(event, ev.Trace):
            values.update(event.values)
            distance, altitude = values.get("distance_nm"), values.get("altitude_ft")
            if isinstance(distance, float) and isinstance(altitude, float):
                yield PathPoint(event.at, distance, altitude)


def flown_path(events: Iterable[ev.Event]) -> list[tuple[float, float]]:
    """Distance (NM) and altitude (ft) of each of these points."""
    return [(point.distance_nm, point.altitude_ft) for point in path_points(events)]


def _traces(events: tuple[ev.Event, ...]) -> tuple[dict[str, Scalar | None], int]:
    values: dict[str, Scalar | None] = {}
    at = 0
    for event in events:
        if isinstance(event, ev.Trace):
            values.update(event.values)
            at = event.at
    return values, at


def _again(deck: Deck, scenario: Scenario, plane: Aeroplane, since: tuple[ev.Event, ...]) -> Aeroplane:
    """The aeroplane with all that was moved and played since the checkpoint."""
    values: dict[str, Scalar | None] = dict(show(plane, scenario))
    revised = ""
    for event in since:
        match event:
            case ev.Trace():
                values.update(event.values)
            case ev.ItemDone():
                plane = command(
                    plane, deck.items[event.item], values, event.value, event.at, choices_of(deck, event.item)
                )
            case ev.Undone(what="tick"):
                plane = take_back(plane, deck.items[event.ref], event.at)
            case ev.ScriptMoved(played=True):
                name = event.happening.split("#")[0]
                happening = next((h for h in scenario.happenings if h.id == name), None)
                if happening is not None:
                    revised = happening.id if happening.revised is not None else revised
                    plane = weighed(plane, scenario, happening)
                    until = None if happening.for_s is None else event.at + round(happening.for_s * 1000)
                    plane = with_faults(with_around(plane, happening.sets, until), happening.faults, until)
            case ev.PlanRevised():
                if event.report:
                    plane = reported(plane, scenario, event.report)
                plane = again(plane, event.changes, revised, event.report)
                revised = ""
            case _:
                pass
    return expired(plane, since[-1].at)
