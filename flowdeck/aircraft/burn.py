"""What the engines burn (kg/h): by the tables of the arrival's aircraft, or a round figure without one."""

from flowdeck.aircraft.state import Aeroplane
from flowdeck.aircraft.watch import arrival_in_force
from flowdeck.model.scenario import Scenario

_IDLE_KGH, _POWER_KGH = 480.0, 2160.0
"""Of one engine where no table says it, at idle and with power (our proposal)."""
_TURNS_PCT, _IDLES_PCT = 50.0, 65.0
_WORKING_MODES = ("path", "climb", "go_around")


def burnt_kg(plane: Aeroplane, scenario: Scenario, turning: tuple[float, float], seconds: float) -> float:
    """What engines that turn so fast (per cent) burn in that time; one that runs down burns nothing."""
    table = _table_kgh(plane, scenario)
    flow = 0.0
    for pct in turning:
        if pct > _TURNS_PCT:
            flow += table / 2 if table is not None else (_IDLE_KGH if pct < _IDLES_PCT else _POWER_KGH)
    return flow * seconds / 3600


def shown_kgh(plane: Aeroplane, scenario: Scenario, pct: float) -> float:
    """What the indicator of one engine shows that is fed and turns so fast (per cent)."""
    table = _table_kgh(plane, scenario)
    return table / 2 if table is not None else (_IDLE_KGH if pct < _IDLES_PCT else 1150.0)


def _table_kgh(plane: Aeroplane, scenario: Scenario) -> float | None:
    """Both engines, as the brief reckons: idle on the way down and on the ground, else cruise, else approach."""
    arrival = arrival_in_force(scenario, plane)
    if arrival is None:
        return None
    burn, mode = arrival.aircraft.burn, plane.control("vertical_mode")
    if plane.on_ground or mode == "descend":
        return burn.descent_kgh
    dirty = plane.number("flap_deg") > 0 or plane.control("gear") != "up"
    return burn.approach_kgh if dirty or mode in _WORKING_MODES else burn.cruise_kgh
