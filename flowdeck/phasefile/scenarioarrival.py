"""What a scenario takes from an arrival: place, plan, start and surroundings, unless it says otherwise."""

from collections.abc import Callable, Mapping

from msgspec.structs import replace

from flowdeck.arrival.brief import Brief
from flowdeck.arrival.metar import NotAReport, decode
from flowdeck.arrival.plan import Arrival
from flowdeck.model.condition import Scalar
from flowdeck.model.deck import Deck
from flowdeck.model.scenario import Aerodrome, Leg
from flowdeck.phasefile.builder import Spot
from flowdeck.phasefile.scenarioshapes import AerodromeShape, PlaceShape, RevisesShape, ScenarioShape, StartShape

Find = Callable[[Spot, str, str], None]


def arrivals_named(shape: ScenarioShape) -> tuple[str, ...]:
    """The arrival files that a scenario names, its own first."""
    own = [shape.arrival] if shape.arrival else []
    later = [h.revises.arrival for h in shape.happenings if h.revises is not None and h.revises.arrival]
    return tuple(dict.fromkeys([*own, *later]))


def place_of(shape: AerodromeShape | None, ground: PlaceShape | None, arrival: Arrival | None) -> Aerodrome | None:
    """Where the flight ends; None when the scenario says it neither way."""
    if arrival is None:
        return None if shape is None else Aerodrome(**shape.model_dump())
    extra = {} if ground is None else ground.model_dump()
    return Aerodrome(
        name=arrival.aerodrome.name,
        elevation_ft=arrival.runway.elevation_ft,
        runway_deg=arrival.runway.course_deg,
        angle_deg=arrival.approach.angle_deg,
        fix_nm=arrival.approach.final.distance_nm,
        go_around_ft=arrival.approach.missed_ft,
        **extra,
    )


def start_of(shape: StartShape | None, arrival: Arrival | None) -> Leg | None:
    if shape is not None:
        return Leg(**shape.model_dump())
    if arrival is None:
        return None
    start = arrival.start
    return Leg(distance_nm=start.distance_nm, altitude_ft=start.altitude_ft, ias_kt=start.speed_kt)


def plan_of(deck: Deck, brief: Brief) -> dict[str, Scalar]:
    """The numbers of a brief that the deck plans with."""
    planned = {signal.name for signal in deck.signals if signal.planned}
    return {name: value for name, value in brief.planned.items() if name in planned}


def revised(
    shape: RevisesShape, spot: Spot, arrival: Arrival, arrivals: Mapping[str, Arrival], find: Find
) -> Arrival | None:
    """The arrival with what a happening changes of it; findings where that cannot be."""
    if shape.arrival is None and shape.weather is None and shape.mass_kg is None:
        find(spot, "missing", "'revises' changes nothing; give arrival, weather or mass_kg")
        return None
    if shape.arrival is not None:
        arrival = replace(arrivals[shape.arrival], start=arrival.start)
    if shape.weather is not None:
        try:
            arrival = replace(arrival, weather=decode(shape.weather))
        except NotAReport as error:
            find(spot / "weather", "weather", str(error))
    if shape.mass_kg is not None:
        arrival = replace(arrival, start=replace(arrival.start, mass_kg=shape.mass_kg))
    return arrival
