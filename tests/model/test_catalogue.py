"""The built-in signals are complete in themselves and agree with their names."""

import pytest

from flowdeck.model.catalogue import CATALOGUE, by_name
from flowdeck.model.signals import Signal, SignalKind

UNITS = ("kt_s", "ft", "kt", "fpm", "deg", "hpa", "nm", "mhz", "m", "c", "pct", "kg", "kgh", "s")
NEEDED = """
altitude_ft height_aal_ft radio_height_ft ias_kt groundspeed_kt vertical_speed_fpm heading_deg
selected_altitude_ft cleared_altitude_ft selected_heading_deg selected_speed_kt pressure_left_hpa pressure_right_hpa
pressure_standby_hpa pressure_reported_hpa distance_nm fix_distance_nm lateral_mode vertical_mode autopilot
autothrottle fd_left fd_right nav_left_mhz nav_right_mhz nav_left_ident nav_right_ident course_left_deg
course_right_deg flag_left flag_right flap_deg gear speedbrake spoilers autobrake reverse tat_c sat_c in_cloud
visibility_m engine_anti_ice wing_anti_ice parking_brake brake_pressure n1_1_pct n1_2_pct n2_1_pct n2_2_pct egt_1_c
egt_2_c fuel_lever_1 fuel_lever_2 apu_state apu_power ground_power bus_source fuel_pump_1 fuel_pump_2 fuel_pump_3
fuel_pump_4 hyd_pump_1 hyd_pump_2 pack_1 pack_2 seat_belts beacon strobes landing_lights taxi_light transponder acas
weather_radar emergency_lights nav_unit_1 nav_unit_2 battery fuel_kg mass_kg thrust_lever_pct on_ground precipitation
minimum_left_ft minimum_right_ft cleared_speed_kt pitch_deg fuel_flow_1_kgh fuel_flow_2_kgh probe_heat window_heat
trim_units terrain_height_ft past_threshold_m stand_distance_m deceleration_kt_s planned_altitude_ft
height_above_path_ft required_rate_fpm next_fix_nm next_fix_ft next_fix_miss_ft gate_in_s gate_speed_kt gate_stable
flap_margin_kt limit_margin_kt altimeter_error_ft
"""


def test_the_catalogue_holds_what_the_practice_needs_and_each_name_once() -> None:
    assert sorted(signal.name for signal in CATALOGUE) == sorted(NEEDED.split())


@pytest.mark.parametrize("signal", CATALOGUE, ids=lambda signal: signal.name)
def test_a_signal_is_complete(signal: Signal) -> None:
    suffix = next((unit for unit in UNITS if signal.name.endswith(f"_{unit}")), "")
    assert signal.title
    if signal.kind is SignalKind.NUMBER:
        assert signal.unit == suffix
        assert signal.low is not None
        assert signal.high is not None
        assert signal.low < signal.high
    else:
        assert (signal.unit, signal.low, signal.high) == ("", None, None)
    assert (len(set(signal.choices)) >= 2) is (signal.kind is SignalKind.CHOICE)
    assert signal.stale_s is None or signal.stale_s in (5, 30)


def test_a_deck_adds_signals_and_may_replace_one() -> None:
    own = Signal(name="tat_c", title="Own", unit="c", low=0, high=1)
    door = Signal(name="door_state", title="Door", kind=SignalKind.CHOICE, choices=("open", "shut"))
    known = by_name([own, door])
    assert known["tat_c"] is own
    assert known["door_state"] is door
    assert len(known) == len(CATALOGUE) + 1
    assert by_name()["tat_c"] is not own
