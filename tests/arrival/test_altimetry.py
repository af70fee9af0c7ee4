"""Pressure settings and cold days."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flowdeck.arrival.altimetry import (
    altitude_ft,
    cold_correction_ft,
    corrected_minimum_ft,
    density_altitude_ft,
    pressure_altitude_ft,
    qfe_hpa,
)
from flowdeck.arrival.atmosphere import density_kgm3, pressure_hpa, temperature_c
from flowdeck.arrival.bounds import OutOfRange, rounded_up

HEIGHTS = (200, 300, 400, 500, 600, 700, 800, 900, 1000, 1500, 2000, 3000, 4000, 5000)
COLD = {
    10: (10, 10, 10, 10, 20, 20, 20, 20, 20, 30, 40, 60, 80, 90),
    0: (20, 20, 30, 30, 40, 40, 50, 50, 60, 90, 120, 170, 230, 280),
    -20: (30, 50, 60, 70, 90, 100, 120, 130, 140, 210, 280, 420, 570, 710),
    -40: (50, 80, 100, 120, 150, 170, 190, 220, 240, 360, 480, 720, 970, 1210),
}
"""Feet to add, by reported temperature (C) and height (ft). Source: FAA AIM TBL 7-3-1, ICAO Cold Temperature Error
Table, reproduced."""


@pytest.mark.parametrize(
    ("air_c", "height", "cell"),
    [(air_c, height, cell) for air_c, row in COLD.items() for height, cell in zip(HEIGHTS, row, strict=True)],
)
def test_the_cold_temperature_table_cell_by_cell(air_c: float, height: float, cell: float) -> None:
    """Rounded up to the next 10 ft, every cell is met exactly."""
    assert rounded_up(cold_correction_ft(height, air_c), 10) == cell


def test_away_from_sea_level_the_temperature_is_reduced_first() -> None:
    """Aerodrome 1000 ft, 0 C, altitude 3000 ft. Source: computed, the equation of Doc 8168 as in the module."""
    assert cold_correction_ft(2000, 0, 1000) == pytest.approx(95.73, abs=0.1)
    assert cold_correction_ft(2000, 0, 1000) < cold_correction_ft(2000, 0, 0)


def test_the_quick_rule_is_not_smaller() -> None:
    """4 % of the height per 10 C below standard, down to -15 C. Source: ICAO Doc 8168 Vol I, reproduced."""
    assert cold_correction_ft(2000, 0, 1000) <= 0.04 * 2000 * 13.02 / 10


def test_a_warm_day_corrects_nothing() -> None:
    assert cold_correction_ft(1000, 15) == 0
    assert cold_correction_ft(1000, 35) == 0


@pytest.mark.parametrize(("height", "air_c"), [(5001, -10), (-1, -10), (1000, -61), (1000, float("nan"))])
def test_beyond_the_table_there_is_no_extrapolation(height: float, air_c: float) -> None:
    with pytest.raises(OutOfRange):
        cold_correction_ft(height, air_c)


@given(st.floats(0, 9000), st.floats(-60, 45), st.floats(0, 4999))
def test_a_minimum_never_comes_out_below_what_is_published(elevation: float, air_c: float, height: float) -> None:
    published = elevation + height
    corrected = corrected_minimum_ft(published, air_c, elevation)
    assert corrected >= published
    assert corrected - published <= cold_correction_ft(published - elevation, air_c, elevation) + 10 + 1e-6


@given(st.floats(0, 5000), st.floats(0, 5000), st.floats(-60, 10), st.floats(-60, 10))
def test_higher_and_colder_is_more(height: float, other: float, air_c: float, colder_c: float) -> None:
    low, high = sorted((height, other))
    cold, less_cold = sorted((air_c, colder_c))
    assert cold_correction_ft(low, air_c) <= cold_correction_ft(high, air_c)
    assert cold_correction_ft(height, less_cold) <= cold_correction_ft(height, cold)


@pytest.mark.parametrize("height", [0, 2000, 10_000, 35_000])
def test_with_the_standard_setting_altitude_is_pressure_altitude(height: float) -> None:
    assert pressure_altitude_ft(height, 1013.25) == pytest.approx(height, abs=1e-6)


def test_a_hectopascal_is_some_27_feet_near_sea_level() -> None:
    """The rule of 27 to 30 ft, and 27.3 at sea level, are from memory; the figure is worked out from the ISA."""
    assert pressure_altitude_ft(0, 1012.75) - pressure_altitude_ft(0, 1013.75) == pytest.approx(27.3, abs=0.05)


def test_qfe_is_the_pressure_at_the_aerodrome() -> None:
    """With the standard setting it is the standard pressure there; at sea level it is the QNH."""
    assert qfe_hpa(1013.25, 2000) == pytest.approx(pressure_hpa(2000), abs=1e-6)
    assert qfe_hpa(987.0, 0) == pytest.approx(987.0, abs=1e-6)


@given(st.floats(-1000, 45_000), st.floats(930, 1060))
def test_altitude_and_pressure_altitude_are_inverse(altitude: float, qnh: float) -> None:
    assert altitude_ft(pressure_altitude_ft(altitude, qnh), qnh) == pytest.approx(altitude, abs=1e-6)


def test_density_altitude_is_where_the_air_is_as_dense() -> None:
    """In standard air it is the pressure altitude; on a hot day it is above it."""
    assert density_altitude_ft(5000, temperature_c(5000)) == pytest.approx(5000, abs=0.01)
    hot = density_altitude_ft(5000, 30)
    assert density_kgm3(hot) == pytest.approx(density_kgm3(5000, 30 - temperature_c(5000)), rel=1e-9)
    assert 7500 < hot < 8500


@pytest.mark.parametrize("qnh", [849, 1086, 29.92])
def test_a_setting_in_other_units_is_refused(qnh: float) -> None:
    """29.92 is inches of mercury, taken for hectopascals."""
    with pytest.raises(OutOfRange, match="QNH: expected 850 to 1085 hPa"):
        pressure_altitude_ft(0, qnh)
