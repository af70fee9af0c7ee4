"""What a flight is watched against: the arrival in force, with its brief made once."""

from functools import lru_cache

from msgspec.structs import replace

from flowdeck.aircraft.state import Aeroplane
from flowdeck.arrival.brief import Brief, make_brief
from flowdeck.arrival.metar import decode
from flowdeck.arrival.monitor import Watch
from flowdeck.arrival.plan import Arrival
from flowdeck.model.scenario import Scenario


@lru_cache(maxsize=16)
def _made(scenario: Scenario, revised: str, report: str) -> tuple[Brief, Watch] | None:
    arrival = _arrival(scenario, revised, report)
    if arrival is None:
        return None
    brief = make_brief(arrival)
    return brief, Watch(brief)


def _arrival(scenario: Scenario, revised: str, report: str) -> Arrival | None:
    later = next((h.revised for h in scenario.happenings if h.id == revised and h.revised is not None), None)
    arrival = later or scenario.arrival
    return arrival if arrival is None or not report else replace(arrival, weather=decode(report))


def arrival_in_force(scenario: Scenario, plane: Aeroplane) -> Arrival | None:
    """The arrival as it is now; None for a scenario without one."""
    return _arrival(scenario, plane.revised, plane.report)


def watch_of(scenario: Scenario, plane: Aeroplane) -> Watch | None:
    """The watch of the arrival in force; None for a scenario without one."""
    made = _made(scenario, plane.revised, plane.report)
    return None if made is None else made[1]


def brief_of(scenario: Scenario, plane: Aeroplane) -> Brief | None:
    """The brief of the arrival in force, from where the flight began; None for a scenario without one."""
    made = _made(scenario, plane.revised, plane.report)
    return None if made is None else made[0]
