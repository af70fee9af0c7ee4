"""Fuel by the tables of the aircraft that an arrival names, so that what is flown and what is planned agree."""

import pytest
from msgspec.structs import replace

from flowdeck.aircraft.readings import show
from flowdeck.arrival.brief import make_brief
from flowdeck.live.bundled import read_arrival
from flowdeck.model import events as ev
from flowdeck.model.condition import Scalar
from tests.aircraft.conftest import INBOUND, SCENARIO, aeroplane, flown
from tests.scenarios.flown import flown as rehearsed
from tests.support.daily import some

ARRIVAL = read_arrival("tarn-holm")
WATCHED = replace(SCENARIO, arrival=ARRIVAL)
BURN = ARRIVAL.aircraft.burn
CLEAN: dict[str, Scalar] = {"flap_deg": 0.0, "gear": "up", "selected_altitude_ft": 0.0}


@pytest.mark.parametrize(
    ("controls", "kgh"),
    [
        ({"vertical_mode": "hold"}, BURN.cruise_kgh),
        ({"vertical_mode": "descend"}, BURN.descent_kgh),
        ({"vertical_mode": "hold", "flap_deg": 11.0}, BURN.approach_kgh),
        ({"vertical_mode": "hold", "gear": "down"}, BURN.approach_kgh),
        ({"vertical_mode": "go_around"}, BURN.approach_kgh),
    ],
)
def test_with_an_arrival_it_burns_what_the_table_says(controls: dict[str, Scalar], kgh: float) -> None:
    """A minute of it; the indicators of both engines together show the same."""
    plane = aeroplane({**CLEAN, **controls})
    after = list(flown(plane, 60, INBOUND, WATCHED))[-1]
    assert plane.fuel_kg - after.fuel_kg == pytest.approx(kgh / 60)
    assert plane.mass_kg - after.mass_kg == pytest.approx(kgh / 60)
    shown = show(plane, WATCHED)
    assert [shown["fuel_flow_1_kgh"], shown["fuel_flow_2_kgh"]] == [kgh / 2, kgh / 2]


def test_one_engine_burns_half_of_it() -> None:
    plane = aeroplane({**CLEAN, "fuel_lever_1": "cutoff", "vertical_mode": "hold"}, turning_1=0.0)
    after = list(flown(plane, 60, INBOUND, WATCHED))[-1]
    assert plane.fuel_kg - after.fuel_kg == pytest.approx(BURN.cruise_kgh / 120)


@pytest.mark.parametrize("name", some(["clean", "cold", "turboprop-clean"], ["cold", "turboprop-clean"]))
def test_what_is_burnt_to_the_landing_is_what_the_brief_reckons(name: str) -> None:
    """Within a quarter (our proposal): the brief knows neither the level-offs nor the speeds of the controller."""
    result = rehearsed(name)
    arrival = result.scenario.arrival
    assert arrival is not None
    figures = [figure for section in make_brief(arrival).sections for figure in section.figures]
    planned = next(float(figure.value) for figure in figures if figure.key == "burn_kg")
    shown: dict[str, Scalar | None] = {}
    for trace in result.of(ev.Trace):
        shown.update(trace.values)
        if shown["on_ground"] is True:
            break
    burnt = arrival.start.fuel_kg - float(shown["fuel_kg"] or 0)
    assert burnt == pytest.approx(planned, rel=0.25)
