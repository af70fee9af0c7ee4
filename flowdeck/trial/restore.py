"""A flight taken up again from its events: the session by folding, the readings and the aeroplane from the traces.

What the traces do not hold (where a control was going, what surrounds the flight beyond the
instruments) is got back by playing again what the scenario had played and what was done last.
"""

from collections.abc import Iterable

from msgspec.structs import replace

from flowdeck.aircraft.controls import command, take_back
from flowdeck.aircraft.motion import taxi_m
from flowdeck.aircraft.readings import show
from flowdeck.aircraft.state import FEET_PER_HPA, Aeroplane, begin, with_around, with_faults
from flowdeck.engine import fold
from flowdeck.model import events as ev
from flowdeck.model.condition import Scalar
from flowdeck.model.deck import Deck
from flowdeck.model.readings import Readings
from flowdeck.model.scenario import Scenario
from flowdeck.model.session import ListStatus, Session
from flowdeck.trial.flight import Flight


def restore(deck: Deck, scenario: Scenario, events: Iterable[ev.Event]) -> Flight:
    """The flight as it stood after *events*. Raises `ValueError` when they begin no flight."""
    all_events = tuple(events)
    if not all_events or not isinstance(all_events[0], ev.FlightStarted):
        raise ValueError("the events do not begin with the start of a flight")
    session = fold(Session(), all_events)
    traced, traced_at = _traces(all_events)
    plane = _plane(scenario, traced, traced_at, all_events)
    plane = _controls(deck, plane, traced_at, all_events)
    readings = Readings().heard(show(plane, scenario), session.at)
    fired = {e.happening: e.at for e in all_events if isinstance(e, ev.ScriptMoved) and not e.played}
    rows = len(scenario.conditions)
    return Flight(
        deck=deck,
        scenario=scenario,
        session=session,
        readings=readings,
        plane=replace(plane, at=session.at),
        truths=(None,) * rows,
        truth_at=(session.at,) * rows,
        fired=fired,
        happened=frozenset(e.happening for e in all_events if isinstance(e, ev.ScriptMoved) and e.played),
        traced=traced,
        traced_at=traced_at,
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


def _traces(events: tuple[ev.Event, ...]) -> tuple[dict[str, Scalar | None], int]:
    values: dict[str, Scalar | None] = {}
    at = 0
    for event in events:
        if isinstance(event, ev.Trace):
            values.update(event.values)
            at = event.at
    return values, at


def _plane(
    scenario: Scenario, traced: dict[str, Scalar | None], traced_at: int, events: tuple[ev.Event, ...]
) -> Aeroplane:
    plane = begin(scenario)
    if not traced:
        return plane
    for event in events:
        if isinstance(event, ev.ScriptMoved) and event.played:
            happening = next((h for h in scenario.happenings if h.id == event.happening.split("#")[0]), None)
            if happening is not None:
                until = None if happening.for_s is None else event.at + round(happening.for_s * 1000)
                plane = with_faults(with_around(plane, happening.sets), happening.faults, until)

    def number(name: str, default: float) -> float:
        value = traced.get(name)
        return float(value) if isinstance(value, (int, float)) else default

    controls = {
        name: traced[name] if traced.get(name) is not None and name not in plane.faults else value
        for name, value in plane.controls.items()
    }
    wrong = number("pressure_left_hpa", 1013.0) - plane.about("pressure_reported_hpa")
    return replace(
        plane,
        at=traced_at,
        distance_nm=number("distance_nm", plane.distance_nm),
        altitude_ft=number("altitude_ft", plane.altitude_ft) - FEET_PER_HPA * wrong,
        ias_kt=number("ias_kt", plane.ias_kt),
        vertical_fpm=number("vertical_speed_fpm", 0.0),
        heading_deg=number("heading_deg", plane.heading_deg),
        fuel_kg=number("fuel_kg", plane.fuel_kg),
        mass_kg=number("mass_kg", plane.mass_kg),
        on_ground=traced.get("on_ground") is True,
        groundspeed_kt=number("groundspeed_kt", 0.0),
        rolled_m=number("past_threshold_m", 0.0),
        taxied_m=max(0.0, taxi_m(scenario) - number("stand_distance_m", taxi_m(scenario))),
        turning_1=number("n2_1_pct", 0.0),
        turning_2=number("n2_2_pct", 0.0),
        controls=controls,
    )


def _controls(deck: Deck, plane: Aeroplane, traced_at: int, events: tuple[ev.Event, ...]) -> Aeroplane:
    """Start again what was still travelling when the last trace was made, or was started since."""
    values: dict[str, Scalar | None] = dict(plane.controls)
    for event in events:
        if isinstance(event, ev.Trace):
            values.update(event.values)
        if isinstance(event, ev.ItemDone):
            item = deck.items[event.item]
            slowest = max((move.in_s for move in item.moves), default=0.0)
            if event.at + slowest * 1000 > traced_at:
                plane = command(plane, item, values, event.value, event.at)
        elif isinstance(event, ev.Undone) and event.what == "tick" and event.at >= traced_at:
            plane = take_back(plane, deck.items[event.ref], event.at)
    return plane
