"""The vertical path as it was flown and as it was planned, and where the gates were met.

The law: one line for each approach and each climb away from one, ending where the wheels touch; nothing is drawn that
no instrument showed.
"""

from collections.abc import Iterable
from typing import NamedTuple

from msgspec import Struct

from flowdeck.arrival.altimetry import HIGHEST_FT
from flowdeck.arrival.brief import make_brief
from flowdeck.arrival.minima import exact_cold_ft
from flowdeck.arrival.plan import Arrival
from flowdeck.debrief.crew import Answer
from flowdeck.model import events as ev
from flowdeck.model.condition import Scalar
from flowdeck.model.scenario import Scenario

STEP_NM = 0.05
STEP_FT = 40.0
"""Points nearer than both of these to the last one are left out."""


class Point(NamedTuple):
    """*at*: ms; altitude as the altimeter showed it."""

    at: int
    distance_nm: float
    altitude_ft: float


class GateAt(NamedTuple):
    gate: str
    answer: Answer
    point: Point


class Planned(Struct, frozen=True, kw_only=True):
    """The path of a brief, (NM, ft) outward from the threshold, as the altimeter shows it. *title*: of its arrival.

    *lines*: one; on a cold day two, since cold is corrected up to a height only and the rest stands as it is.
    """

    title: str
    lines: tuple[tuple[tuple[float, float], ...], ...]
    minimum_ft: float | None
    elevation_ft: float


class Flown(Struct, frozen=True, kw_only=True):
    """*lines*: one for each approach and climb, oldest first. *planned*: as at the start, then as it was changed."""

    lines: tuple[tuple[Point, ...], ...]
    planned: tuple[Planned, ...]
    gates: tuple[GateAt, ...]


def flown_of(scenario: Scenario, events: Iterable[ev.Event], answers: dict[tuple[str, int], Answer]) -> Flown:
    """*answers*: what became of each gate, by its name and time (ms)."""
    track = _Track()
    planned = [] if scenario.arrival is None else [_planned(scenario.arrival)]
    revised = {h.id: h.revised for h in scenario.happenings if h.revised is not None}
    for event in events:
        match event:
            case ev.Trace():
                track.show(event.at, event.values)
            case ev.PhaseEntered() if event.how or event.airborne_again:
                track.again()
            case ev.ScriptMoved(played=True):
                arrival = revised.get(event.happening.split("#")[0])
                if arrival is not None:
                    planned.append(_planned(arrival))
            case ev.GatePassed() | ev.GateFailed():
                track.gate(event.gate, event.at, answers.get((event.gate, event.at), "passed"))
            case _:
                pass
    return Flown(lines=track.done(), planned=tuple(planned), gates=tuple(track.gates))


class _Track:
    def __init__(self) -> None:
        self._values: dict[str, Scalar | None] = {}
        self._lines: list[list[Point]] = [[]]
        self.gates: list[GateAt] = []

    def done(self) -> tuple[tuple[Point, ...], ...]:
        return tuple(tuple(line) for line in self._lines if line)

    def again(self) -> None:
        self._lines.append([])

    def show(self, at: int, values: dict[str, Scalar | None]) -> None:
        self._values.update(values)
        point = self._here(at)
        if point is None:
            return
        line = self._lines[-1]
        if line and abs(line[-1].distance_nm - point.distance_nm) < STEP_NM:
            if abs(line[-1].altitude_ft - point.altitude_ft) < STEP_FT:
                return
        line.append(point)

    def gate(self, gate: str, at: int, answer: Answer) -> None:
        point = self._here(at)
        if point is not None:
            self.gates.append(GateAt(gate, answer, point))

    def _here(self, at: int) -> Point | None:
        """Where it is, while it flies and both readings are shown."""
        distance, altitude = self._values.get("distance_nm"), self._values.get("altitude_ft")
        if self._values.get("on_ground") is True or not _is_number(distance) or not _is_number(altitude):
            return None
        assert isinstance(distance, (int, float)) and isinstance(altitude, (int, float))
        return Point(at, float(distance), float(altitude))


def _is_number(value: Scalar | None) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool)


def _cold_ft(arrival: Arrival, altitude_ft: float) -> float:
    """What cold adds to what the altimeter shows, for altitudes that are corrected for it."""
    air_c = arrival.weather.temperature_c
    if air_c is None or altitude_ft - arrival.aerodrome.elevation_ft > HIGHEST_FT:
        return 0.0
    return exact_cold_ft(altitude_ft, arrival.aerodrome, air_c, arrival.policy)


def _planned(arrival: Arrival) -> Planned:
    brief = make_brief(arrival)
    way = () if brief.profile is None else brief.profile.points
    shown = [(p.distance_nm, p.altitude_ft + _cold_ft(arrival, p.altitude_ft)) for p in way]
    near = sum(p.altitude_ft - arrival.aerodrome.elevation_ft <= HIGHEST_FT for p in way)
    is_cold = any(ft != p.altitude_ft for (_, ft), p in zip(shown, way, strict=True))
    lines = (tuple(shown[:near]), tuple(shown[near:])) if is_cold else (tuple(shown),)
    return Planned(
        title=arrival.title,
        lines=tuple(line for line in lines if line),
        minimum_ft=brief.planned.get("planned_minimum_ft"),
        elevation_ft=arrival.runway.elevation_ft,
    )
