"""The vertical path, planned and flown, drawn in characters, with the numbers that were worked out beforehand."""

from rich.text import Text

from flowdeck.aircraft.motion import path_ft
from flowdeck.live.host import Host
from flowdeck.tui.look import DIM, PLAIN, STRONG
from flowdeck.view.words import signals_of, value_text

_WIDTH, _HEIGHT = 64, 14
_RANGE_NM = 20.0


def numbers_text(host: Host) -> Text:
    """Path and numbers as one page."""
    text = Text("Vertical path, last 20 NM\n\n", style=STRONG)
    text.append_text(_path(host))
    text.append("  \u00b7 planned   \u25aa flown   \u25b2 now\n\n", style=DIM)
    text.append("Planned\n", style=STRONG)
    readings, now = host.flight.readings, host.now
    for signal in signals_of(host.flight.deck).values():
        if signal.planned and signal.name in readings.values:
            value = value_text(readings.value(signal, now), signal.unit)
            text.append(f"  {signal.title:38}", style=DIM)
            text.append(f"{value:>8} {signal.unit}\n", style=PLAIN)
    return text


def _path(host: Host) -> Text:
    scenario = host.flight.scenario
    top = max(path_ft(scenario, _RANGE_NM), *(alt for d, alt in host.flown if d <= _RANGE_NM), 1000.0)
    floor = scenario.place.elevation_ft
    grid = [[" "] * _WIDTH for _ in range(_HEIGHT)]

    def put(distance: float, altitude: float, mark: str) -> None:
        column = round((1 - distance / _RANGE_NM) * (_WIDTH - 1))
        row = round((1 - (altitude - floor) / max(1.0, top - floor)) * (_HEIGHT - 1))
        if 0 <= column < _WIDTH and 0 <= row < _HEIGHT:
            grid[row][column] = mark

    for column in range(_WIDTH):
        distance = (1 - column / (_WIDTH - 1)) * _RANGE_NM
        put(distance, path_ft(scenario, distance), "\u00b7")
    for distance, altitude in host.flown:
        put(distance, altitude, "\u25aa")
    plane = host.flight.plane
    put(plane.distance_nm, plane.altitude_ft, "\u25b2")
    text = Text()
    for i, row in enumerate(grid):
        altitude = top - (top - floor) * i / (_HEIGHT - 1)
        label = f"{altitude:6.0f} " if i % 3 == 0 else "       "
        text.append(label, style=DIM)
        text.append("".join(row) + "\n", style=PLAIN)
    marks = "".join(f"{nm:<{_WIDTH // 4}}" for nm in (20, 15, 10, 5))
    text.append(f"       {marks}0 NM\n", style=DIM)
    return text
