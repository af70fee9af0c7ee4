"""Airspeeds and total temperature."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flowdeck.arrival.airspeeds import (
    cas_of_mach,
    cas_of_tas,
    mach_of_cas,
    procedure_tas_kt,
    tas_of_cas,
    tas_of_mach,
    total_temperature_c,
)
from flowdeck.arrival.atmosphere import temperature_c
from flowdeck.arrival.bounds import OutOfRange


def test_calibrated_mach_and_true() -> None:
    """Source: computed, openap 2.6.2 aero."""
    assert tas_of_cas(250, 10_000) == pytest.approx(288.7, abs=0.1)
    assert mach_of_cas(280, 35_000) == pytest.approx(0.8214, abs=0.0001)
    assert tas_of_mach(0.78, temperature_c(35_000)) == pytest.approx(449.6, abs=0.1)


@pytest.mark.parametrize(
    ("ias", "altitude", "tas"),
    [(90, 5000, 100), (180, 5000, 199), (180, 10_000, 216), (250, 5000, 276), (250, 10_000, 299)],
)
def test_the_conversion_of_procedure_design(ias: float, altitude: float, tas: float) -> None:
    """ISA + 15. Source: ICAO Doc 8168 Vol II, Table I-4-3-App A-1 (read; cell order rebuilt from running text)."""
    assert procedure_tas_kt(ias, altitude) == pytest.approx(tas, abs=1)


def test_the_factor_of_procedure_design() -> None:
    """At 8000 ft, ISA + 15. Source: computed, the formula in the function."""
    assert procedure_tas_kt(1, 8000) == pytest.approx(1.1586, abs=0.0001)
    assert procedure_tas_kt(240, 8000) == pytest.approx(278.06, abs=0.01)


@pytest.mark.parametrize(
    ("mach", "air_c", "recovery", "total_c"),
    [(0.78, -54.34, 1, -27.72), (0.80, -56.5, 1, -28.77), (0.50, -10, 1, 3.16), (0.50, -10, 0.95, 2.50)],
)
def test_total_air_temperature(mach: float, air_c: float, recovery: float, total_c: float) -> None:
    """Source: computed, TAT = SAT (1 + 0.2 r M2) in kelvin; no published worked example is cited."""
    assert total_temperature_c(air_c, mach, recovery) == pytest.approx(total_c, abs=0.01)


@given(st.floats(60, 340), st.floats(-1000, 30_000), st.floats(-30, 30))
def test_calibrated_and_true_are_inverse(cas: float, altitude: float, deviation: float) -> None:
    assert cas_of_tas(tas_of_cas(cas, altitude, deviation), altitude, deviation) == pytest.approx(cas, abs=1e-6)
    assert cas_of_mach(mach_of_cas(cas, altitude), altitude) == pytest.approx(cas, abs=1e-6)


@given(st.floats(60, 340), st.floats(100, 30_000))
def test_true_is_more_than_calibrated_above_sea_level(cas: float, altitude: float) -> None:
    assert tas_of_cas(cas, altitude) > cas
    assert tas_of_cas(cas, 0) == pytest.approx(cas, abs=1e-6)


@pytest.mark.parametrize(("cas", "altitude"), [(-1, 0), (501, 0), (400, 45_000), (250, 61_000)])
def test_beyond_its_range_it_says_so(cas: float, altitude: float) -> None:
    """400 kt at 45 000 ft would be faster than sound."""
    with pytest.raises(OutOfRange):
        mach_of_cas(cas, altitude)
