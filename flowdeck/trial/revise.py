"""The plan changed in flight: the brief of the arrival as it is now, and what it changes."""

from msgspec.structs import replace

from flowdeck.aircraft.state import Aeroplane, with_around, with_plan
from flowdeck.aircraft.watch import arrival_in_force
from flowdeck.arrival.brief import make_brief
from flowdeck.arrival.metar import decode
from flowdeck.arrival.plan import Arrival
from flowdeck.arrival.surround import surroundings_of
from flowdeck.engine.words import signals_of
from flowdeck.model import inputs as inp
from flowdeck.model.change import Change
from flowdeck.model.condition import Scalar
from flowdeck.model.deck import Deck
from flowdeck.model.scenario import Happening, Scenario


def revision(
    deck: Deck, scenario: Scenario, plane: Aeroplane, arrival: Arrival, because: str, by: str = "", report: str = ""
) -> tuple[Aeroplane, inp.Revise]:
    """The aeroplane with the new plan, and the input that tells of it.

    *by*: the happening that brings it; *report*: a weather report given by hand. Numbers that cannot be worked out
    any more keep their old value, which the brief names among what is not known.
    """
    brief = make_brief(arrival)
    planned = {signal.name for signal in deck.signals if signal.planned}
    before: dict[str, Scalar] = {**scenario.plan, **plane.plan}
    after: dict[str, Scalar] = {name: value for name, value in brief.planned.items() if name in planned}
    changes = tuple(
        Change(signal=name, before=before.get(name), after=value)
        for name, value in after.items()
        if before.get(name) != value
    )
    plane = with_plan(plane, {change.signal: after[change.signal] for change in changes}, by, report)
    return plane, inp.Revise(at=plane.at, because=because, changes=changes, report=report)


def again(plane: Aeroplane, changes: tuple[Change, ...], by: str, report: str) -> Aeroplane:
    """The same from the journal: what was changed then is changed again, and nothing is worked out."""
    values = {change.signal: change.after for change in changes if change.after is not None}
    return with_plan(plane, values, by, report)


def words_of(deck: Deck, changes: tuple[Change, ...]) -> list[tuple[str, Scalar | None, Scalar | None, str]]:
    """Title, value before, value after and unit of each change."""
    signals = signals_of(deck)
    known = [change for change in changes if change.signal in signals]
    return [(signals[c.signal].title, c.before, c.after, signals[c.signal].unit) for c in known]


def reported(plane: Aeroplane, scenario: Scenario, report: str) -> Aeroplane:
    """The aeroplane in the weather of a report that was given in flight."""
    arrival = arrival_in_force(scenario, plane)
    return plane if arrival is None else with_around(plane, surroundings_of(replace(arrival, weather=decode(report))))


def weighed(plane: Aeroplane, scenario: Scenario, happening: Happening) -> Aeroplane:
    """The aeroplane with the mass that a happening finds it to have."""
    if happening.revised is None or scenario.arrival is None:
        return plane
    return replace(plane, mass_kg=plane.mass_kg + happening.revised.start.mass_kg - scenario.arrival.start.mass_kg)
