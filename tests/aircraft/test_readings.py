"""What the instruments show, and that a dead aeroplane shows nothing but planned figures."""

from math import sqrt

import pytest
from msgspec.structs import replace

from flowdeck.aircraft.readings import bus_source, show
from flowdeck.aircraft.state import Aeroplane, begin, with_around, with_faults
from flowdeck.live.bundled import read_scenario
from flowdeck.model.condition import Scalar
from flowdeck.model.signals import SignalKind
from tests.aircraft.conftest import DECK, INBOUND, SCENARIO, aeroplane, flown
from tests.support.small import SCENARIO as TEXT
from tests.support.small import small_scenario

PLANNED = small_scenario(DECK, TEXT + "plan: {minimum_left_ft: 830, selected_altitude_ft: 3000}\n")
ELEVATION = 430.0


def dark(**controls: Scalar) -> Aeroplane:
    """Parked, engines standing, battery off."""
    off: dict[str, Scalar] = {
        "fuel_lever_1": "cutoff",
        "fuel_lever_2": "cutoff",
        "battery": "off",
        "parking_brake": "set",
    }
    return aeroplane({**off, **controls}, on_ground=True, altitude_ft=ELEVATION, turning_1=0.0, turning_2=0.0)


def test_a_dead_aeroplane_shows_only_planned_figures() -> None:
    assert show(dark(), PLANNED) == PLANNED.plan
    faulty = with_faults(dark(), {"gear": "up"}, None)
    assert show(faulty, PLANNED) == PLANNED.plan, "a fault lights no screen"


@pytest.mark.parametrize(
    ("controls", "around", "turning", "source"),
    [
        ({}, {}, 0.0, "none"),
        ({"battery": "on"}, {}, 0.0, "battery"),
        ({"battery": "on", "apu_state": "starting"}, {}, 0.0, "battery"),
        ({"apu_state": "running"}, {}, 0.0, "apu"),
        ({"apu_state": "running", "battery": "on"}, {"ground_power": True}, 0.0, "ground"),
        ({}, {"ground_power": True}, 0.0, "ground"),
        ({"battery": "on"}, {"ground_power": True}, 60.0, "engines"),
        ({"battery": "on"}, {}, 49.0, "battery"),
    ],
)
def test_what_feeds_the_buses(
    controls: dict[str, Scalar], around: dict[str, Scalar], turning: float, source: str
) -> None:
    plane = replace(with_around(dark(**controls), around), turning_1=turning)
    assert bus_source(plane) == source
    readings = show(plane, SCENARIO)
    assert readings.get("bus_source", "none") == source
    assert (len(readings) > 50) == (source != "none")


# TAT = SAT (1 + 0.2 M^2) in kelvin, recovery 1: computed by the formula shown, no published example is cited.
@pytest.mark.parametrize(("mach", "sat", "tat"), [(0.78, -54.34, -27.72), (0.80, -56.5, -28.77), (0.50, -10.0, 3.16)])
def test_total_air_temperature(mach: float, sat: float, tat: float) -> None:
    """A Mach number from indicated speed by the aeroplane's own rule of 1.8 % for 1000 ft."""
    tas = mach * 38.9678 * sqrt(sat + 273.15)  # speed of sound in kt, from memory
    ias = tas / (1 + 0.018 * ELEVATION / 1000)
    plane = with_around(aeroplane(altitude_ft=ELEVATION, ias_kt=ias), {"surface_temperature_c": sat})
    readings = show(plane, SCENARIO)
    assert readings["sat_c"] == pytest.approx(sat)
    assert readings["tat_c"] == pytest.approx(tat, abs=0.01)


def test_temperature_falls_with_height() -> None:
    """0.00198 degrees for each foot (the standard lapse; ICAO Doc 8168 equation, from memory)."""
    plane = with_around(aeroplane(altitude_ft=ELEVATION + 5000), {"surface_temperature_c": 15.0})
    assert show(plane, SCENARIO)["sat_c"] == pytest.approx(15.0 - 9.9, abs=0.01)


def test_true_airspeed_from_indicated() -> None:
    """ICAO Doc 8168 Vol II, Table I-4-3-App A-1, ISA + 15, read (cell order rebuilt): the rule is within 2 %."""
    for ias, height, tas in ((180, 5000, 199), (250, 5000, 276), (180, 10_000, 216), (250, 10_000, 299)):
        plane = aeroplane(
            {"vertical_mode": "hold", "selected_speed_kt": float(ias)}, altitude_ft=float(height), ias_kt=float(ias)
        )
        [after] = flown(with_around(plane, {"headwind_kt": 0.0}), 1)
        assert after.groundspeed_kt == pytest.approx(tas, rel=0.02)


def test_the_altimeter_and_what_hangs_on_it() -> None:
    """The pressure altimeter is wrong with its setting; the radio height is not (27.3 ft per hPa, from memory)."""
    plane = aeroplane({"pressure_left_hpa": 1013.0}, {"pressure_reported_hpa": 1003.0}, altitude_ft=1430.0)
    readings = show(plane, SCENARIO)
    assert readings["altitude_ft"] == pytest.approx(1430.0 + 273)
    assert readings["height_aal_ft"] == pytest.approx(1000.0 + 273)
    assert readings["radio_height_ft"] == pytest.approx(1000.0)
    assert readings["terrain_height_ft"] == ELEVATION


def test_the_radio_height_is_alive_low_down() -> None:
    """Up to 2500 ft (common practice, no source)."""
    assert show(aeroplane(altitude_ft=ELEVATION + 2500), SCENARIO)["radio_height_ft"] == 2500.0
    assert show(aeroplane(altitude_ft=ELEVATION + 2501), SCENARIO)["radio_height_ft"] is None


@pytest.mark.parametrize(("altitude", "inside"), [(1899.0, False), (1900.0, True), (4199.0, True), (4200.0, False)])
def test_in_cloud_between_base_and_top(altitude: float, inside: bool) -> None:
    cloud: dict[str, Scalar] = {
        "cloud_base_ft": 1900.0,
        "cloud_top_ft": 4200.0,
        "precipitation": "rain",
        "visibility_m": 3000.0,
    }
    readings = show(with_around(aeroplane(altitude_ft=altitude), cloud), SCENARIO)
    assert readings["in_cloud"] is inside
    assert readings["precipitation"] == ("rain" if altitude < 4200 else "none")
    assert readings["visibility_m"] == (3000.0 if altitude < 4200 else 9999.0)


def test_the_engines_show_whether_they_burn() -> None:
    running = show(aeroplane(turning_1=65.0, turning_2=90.0), SCENARIO)
    assert running["fuel_flow_1_kgh"] == running["fuel_flow_2_kgh"] == 1150.0
    cut = show(aeroplane({"fuel_lever_1": "cutoff"}, turning_1=30.0), SCENARIO)
    assert (cut["n2_1_pct"], cut["fuel_flow_1_kgh"]) == (30.0, 0.0)
    assert cut["fuel_flow_2_kgh"] != 0.0


def test_an_aid_is_identified_when_it_is_tuned() -> None:
    _, scenario, _ = read_scenario("clean")
    wrong = begin(scenario)
    right = replace(wrong, controls={**wrong.controls, "nav_left_mhz": scenario.plan["planned_aid_mhz"]})
    assert [show(wrong, scenario)[name] for name in ("nav_left_ident", "flag_left")] == [False, True]
    assert [show(right, scenario)[name] for name in ("nav_left_ident", "flag_left")] == [True, False]
    assert show(right, scenario)["nav_right_ident"] is False


def test_every_reading_is_one_that_its_signal_can_have() -> None:
    """A whole approach of the bundled scenario's aeroplane: each reading is declared, of its kind and in its range."""
    deck, scenario, _ = read_scenario("clean")
    signals = {signal.name: signal for signal in deck.signals}
    plane = begin(scenario)
    planes = [
        plane,
        *flown(
            replace(plane, controls={**plane.controls, "vertical_mode": "descend", "selected_altitude_ft": 3000.0}),
            120,
            INBOUND,
            scenario,
        ),
    ]
    for now in planes[::10]:
        for name, value in show(now, scenario).items():
            signal = signals[name]
            if value is None:
                continue
            if signal.kind is SignalKind.NUMBER:
                assert isinstance(value, (int, float)) and not isinstance(value, bool), name
                assert signal.low is None or value >= signal.low, (name, value)
                assert signal.high is None or value <= signal.high, (name, value)
            elif signal.kind is SignalKind.FLAG:
                assert isinstance(value, bool), name
            else:
                assert value in signal.choices, (name, value)


def test_every_signal_is_shown_by_the_running_aeroplane() -> None:
    """A signal of the catalogue that nothing ever shows could never prove anything; planned ones come from a plan."""
    deck, scenario, _ = read_scenario("clean")
    shown = show(begin(scenario), scenario)
    assert {signal.name for signal in deck.signals} - set(shown) == set()
