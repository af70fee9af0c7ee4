"""The standard atmosphere, held against libraries' figures and against its own inverses."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flowdeck.arrival.atmosphere import density_kgm3, height_ft, pressure_hpa, sound_kt, temperature_c
from flowdeck.arrival.bounds import OutOfRange

ISA = [
    (-1000, 16.98, 1050.41, 1.2612, 663.75),
    (0, 15.00, 1013.25, 1.2250, 661.48),
    (1000, 13.02, 977.17, 1.1896, 659.20),
    (2000, 11.04, 942.13, 1.1549, 656.91),
    (5000, 5.09, 843.07, 1.0555, 650.01),
    (10000, -4.81, 696.82, 0.9046, 638.33),
    (15000, -14.72, 571.82, 0.7708, 626.44),
    (20000, -24.62, 465.63, 0.6527, 614.32),
    (30000, -44.44, 300.90, 0.4583, 589.32),
    (35000, -54.34, 238.42, 0.3796, 576.42),
    (36089, -56.50, 226.32, 0.3639, 573.57),
    (41000, -56.50, 178.74, 0.2874, 573.57),
    (45000, -56.50, 147.48, 0.2371, 573.57),
]
"""Geopotential ft, C, hPa, kg/m3, kt. Source: computed, ambiance 1.3.1 and fluids 1.3.1 agreeing (US Standard
Atmosphere 1976; ICAO Doc 7488 equal to 32 km)."""


@pytest.mark.parametrize(("height", "air_c", "hpa", "kgm3", "sound"), ISA)
def test_the_standard_atmosphere(height: float, air_c: float, hpa: float, kgm3: float, sound: float) -> None:
    assert temperature_c(height) == pytest.approx(air_c, abs=0.01)
    assert pressure_hpa(height) == pytest.approx(hpa, abs=0.01)
    assert density_kgm3(height) == pytest.approx(kgm3, abs=0.0001)
    assert sound_kt(temperature_c(height)) == pytest.approx(sound, abs=0.01)


def test_both_sides_of_the_tropopause_meet() -> None:
    """Just below and just above 36 089 ft."""
    assert pressure_hpa(36_088) == pytest.approx(pressure_hpa(36_091), rel=2e-4)
    assert temperature_c(36_088) == pytest.approx(temperature_c(36_091), abs=0.01)
    assert pressure_hpa(36_088) > pressure_hpa(36_089.3) > pressure_hpa(36_091)


def test_the_rounded_lapse_of_the_handbook() -> None:
    """15 C at sea level and 2 C per 1000 ft, so 5 C at 5000 ft. Source: FAA AIM 7-3-1, ed. 6/17/21 (read)."""
    assert temperature_c(0) == 15
    assert temperature_c(5000) == pytest.approx(5, abs=0.1)


@given(st.floats(-2000, 60_000))
def test_height_and_pressure_are_inverse(height: float) -> None:
    assert height_ft(pressure_hpa(height)) == pytest.approx(height, abs=0.01)


@given(st.floats(-1900, 59_000), st.floats(1, 900))
def test_higher_is_thinner(height: float, more: float) -> None:
    assert pressure_hpa(height + more) < pressure_hpa(height)
    assert density_kgm3(height + more) < density_kgm3(height)
    assert temperature_c(height + more) <= temperature_c(height)


@pytest.mark.parametrize("height", [-2001, 60_001, float("nan"), float("inf")])
def test_beyond_its_range_it_says_so(height: float) -> None:
    with pytest.raises(OutOfRange, match="height: expected -2000 to 60000 ft, found"):
        pressure_hpa(height)
