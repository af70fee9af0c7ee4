"""A flight watched against its brief: worked by hand from the readings, and unknown where a reading is missing."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flowdeck.arrival.brief import make_brief
from flowdeck.arrival.monitor import DERIVED, Reading, Watch, altimeter_error_ft
from flowdeck.live.bundled import read_arrival

WATCH = Watch(make_brief(read_arrival("tarn-holm")))
COLD = Watch(make_brief(read_arrival("skarn-fell")))
FINAL: dict[str, Reading] = {
    "distance_nm": 5.0,
    "altitude_ft": 2100.0,
    "ias_kt": 170.0,
    "groundspeed_kt": 165.0,
    "vertical_speed_fpm": -870.0,
    "flap_deg": 11.0,
    "gear": "down",
    "on_ground": False,
    "radio_height_ft": 1670.0,
    "terrain_height_ft": 430.0,
}


def test_on_final_all_is_told() -> None:
    """Path at 5 NM: 430 + 50 + 5 x 318.43 = 2072."""
    found = WATCH.signals(FINAL)
    assert set(found) == set(DERIVED)
    assert found["planned_altitude_ft"] == pytest.approx(2072.1, abs=0.5)
    assert found["height_above_path_ft"] == pytest.approx(27.9, abs=0.5)
    assert found["flap_margin_kt"] == 170 - 164
    assert found["limit_margin_kt"] == 217 - 170
    assert found["altimeter_error_ft"] == 0


def test_the_gate_is_predicted() -> None:
    """Gate 1000 ft above 430, on the path at (1000 - 50) / 318.43 = 2.983 NM: 2.017 NM at 165 kt are 44 s.

    170 to 159 with flap 11 and gear at 0.85 kt/s takes 13 s, to 136 at 0.95 (to 159) and 1.15: 12.9 + 0 + 20 = 33 s.
    """
    found = WATCH.signals(FINAL)
    assert found["gate_in_s"] == pytest.approx(44.0, abs=0.2)
    assert found["gate_speed_kt"] == pytest.approx(136)
    assert found["gate_stable"] is True
    fast = WATCH.signals({**FINAL, "ias_kt": 195.0, "groundspeed_kt": 190.0})
    assert fast["gate_stable"] is False
    assert WATCH.signals({**FINAL, "altitude_ft": 2400.0})["gate_stable"] is False, "300 ft above the path"
    assert WATCH.signals({**FINAL, "distance_nm": 2.9})["gate_in_s"] is None


def test_the_next_fix_and_the_rate_to_it() -> None:
    """From 3500 ft at 14 NM to 2500 at 11: 3 NM at 180 kt are a minute, so 1000 ft/min; at 600 it is 400 ft high."""
    shown = {**FINAL, "distance_nm": 14.0, "altitude_ft": 3500.0, "groundspeed_kt": 180.0, "vertical_speed_fpm": -600.0}
    found = WATCH.signals(shown)
    assert found["next_fix_nm"] == pytest.approx(3.0)
    assert found["next_fix_ft"] == pytest.approx(2900)
    assert found["next_fix_miss_ft"] == pytest.approx(400)
    assert found["required_rate_fpm"] == pytest.approx(-1000)
    low = WATCH.signals({**shown, "vertical_speed_fpm": -1300.0})
    assert low["next_fix_miss_ft"] == pytest.approx(-300)


def test_on_a_cold_day_everything_is_corrected() -> None:
    """At 5 NM the path is 1105 + 50 + 5 x 339.7 = 2853.5; 1733.5 ft above the aerodrome at -25 C are 270 ft more."""
    found = COLD.path_ft(5.0)
    assert found == pytest.approx(2853.5 + 270, abs=1)
    shown = {**FINAL, "altitude_ft": found, "terrain_height_ft": 1105.0, "radio_height_ft": 2853.5 - 1105.0}
    assert COLD.signals(shown)["altimeter_error_ft"] == pytest.approx(0, abs=12)
    assert altimeter_error_ft(shown) == pytest.approx(270, abs=1)


def test_a_wrong_setting_shows_against_the_ground_alone() -> None:
    """Ten hPa too many: flown to the table, 273 ft too low."""
    shown = {**FINAL, "altitude_ft": 2072.0, "radio_height_ft": 2072.0 - 273.0 - 430.0}
    found = WATCH.signals(shown)
    assert abs(float(found["height_above_path_ft"] or 0)) < 1
    assert found["altimeter_error_ft"] == pytest.approx(273)


def test_on_the_ground_nothing_is_told() -> None:
    assert set(WATCH.signals({**FINAL, "on_ground": True}).values()) == {None}


@given(st.sets(st.sampled_from(sorted(FINAL))), st.floats(0, 150), st.floats(-500, 40_000), st.floats(0, 400))
def test_any_readings_give_a_value_or_none(gone: set[str], distance: float, altitude: float, speed: float) -> None:
    """And what is missing is never guessed."""
    shown = {**FINAL, "distance_nm": distance, "altitude_ft": altitude, "ias_kt": speed, "groundspeed_kt": speed}
    found = WATCH.signals({name: None if name in gone else value for name, value in shown.items()})
    assert set(found) == set(DERIVED)
    if {"distance_nm", "altitude_ft"} & gone:
        assert found["height_above_path_ft"] is None
    if "ias_kt" in gone:
        assert found["flap_margin_kt"] is None
    if {"radio_height_ft", "terrain_height_ft", "altitude_ft"} & gone:
        assert found["altimeter_error_ft"] is None
