"""The standard atmosphere over its whole range against two libraries, as closely as they were found to agree."""

import ambiance
import pytest
from fluids.atmosphere import ATMOSPHERE_1976

from flowdeck.arrival.altimetry import pressure_altitude_ft
from flowdeck.arrival.atmosphere import FT, KELVIN, NM, density_kgm3, height_ft, pressure_hpa, sound_kt, temperature_c

EARTH_M = 6_356_766.0
GRID = (*range(-2000, 60_001, 250), 36_089, 36_089.2, 36_089.3, 36_090)
"""Geopotential ft; the last ones lie just below and just above the tropopause."""


def geometric_m(height: float) -> float:
    """Both libraries take geometric height: Z = r H / (r - H)."""
    return EARTH_M * height * FT / (EARTH_M - height * FT)


def test_the_whole_range_against_ambiance() -> None:
    """Source: computed, ambiance 1.3.1."""
    for height in GRID:
        theirs = ambiance.Atmosphere(geometric_m(height))
        assert temperature_c(height) + KELVIN == pytest.approx(float(theirs.temperature[0]), abs=1e-9), height
        assert pressure_hpa(height) == pytest.approx(float(theirs.pressure[0]) / 100, abs=0.0005), height
        assert density_kgm3(height) == pytest.approx(float(theirs.density[0]), abs=1e-6), height
        sound = float(theirs.speed_of_sound[0]) * 3600 / NM
        assert sound_kt(temperature_c(height)) == pytest.approx(sound, abs=1e-9), height


def test_the_whole_range_against_fluids() -> None:
    """Source: computed, fluids 1.3.1, whose gas constant has other last digits."""
    for height in GRID:
        theirs = ATMOSPHERE_1976(geometric_m(height))
        assert temperature_c(height) + KELVIN == pytest.approx(theirs.T, abs=1e-9), height
        assert pressure_hpa(height) == pytest.approx(theirs.P / 100, abs=0.0005), height
        assert density_kgm3(height) == pytest.approx(theirs.rho, abs=2e-6), height
        assert sound_kt(temperature_c(height)) == pytest.approx(theirs.v_sonic * 3600 / NM, abs=0.0005), height


@pytest.mark.parametrize("hpa", [75, 150, 226.3, 226.4, 300, 500, 700, 850, 1000, 1013.25, 1085])
def test_the_height_of_a_pressure(hpa: float) -> None:
    """Source: computed, ambiance 1.3.1, whose own way back is within 0.1 ft."""
    theirs = float(ambiance.Atmosphere.from_pressure(hpa * 100).H[0]) / FT
    assert height_ft(hpa) == pytest.approx(theirs, abs=0.1)


@pytest.mark.parametrize("qnh", [850, 930, 980, 1013.25, 1040, 1085])
@pytest.mark.parametrize("altitude", [0, 5000, 18_000])
def test_a_setting_moves_the_altimeter(altitude: float, qnh: float) -> None:
    """By the height at which the standard pressure is the QNH. Source: computed, ambiance 1.3.1."""
    moved = float(ambiance.Atmosphere.from_pressure(qnh * 100).H[0]) / FT
    assert pressure_altitude_ft(altitude, qnh) == pytest.approx(altitude + moved, abs=0.1)
