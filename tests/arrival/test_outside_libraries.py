"""The arithmetic against independent libraries, over grids and at random. Versions are pinned in pyproject.

Each check: `computed`, by the library and version that stands beside it.
"""

import ambiance
import pytest
from fluids.atmosphere import ATMOSPHERE_1976
from hypothesis import given, settings
from hypothesis import strategies as st
from openap import aero
from pyproj import Geod

from flowdeck.arrival.airspeeds import cas_of_mach, cas_of_tas, mach_of_cas, tas_of_cas
from flowdeck.arrival.altimetry import density_altitude_ft, pressure_altitude_ft, qfe_hpa
from flowdeck.arrival.atmosphere import FT, NM, density_kgm3, height_ft, pressure_hpa, sound_kt, temperature_c
from flowdeck.arrival.geodesy import SPHERE, Point, line, offset, point

EARTH_M = 6_356_766.0
HEIGHTS = (
    -1000,
    0,
    500,
    1000,
    2000,
    5000,
    8000,
    10_000,
    18_000,
    25_000,
    36_000,
    36_089,
    36_090,
    41_000,
    45_000,
    60_000,
)


def geometric_m(height: float) -> float:
    """Geopotential ft to the geometric metres that both libraries take: Z = r H / (r - H)."""
    metres = height * FT
    return EARTH_M * metres / (EARTH_M - metres)


@pytest.mark.parametrize("height", HEIGHTS)
def test_the_atmosphere_against_ambiance(height: float) -> None:
    """Computed, ambiance 1.3.1. To 0.001 C, 0.001 hPa, 1e-6 kg/m3, 0.001 kt."""
    theirs = ambiance.Atmosphere(geometric_m(height))
    assert temperature_c(height) == pytest.approx(float(theirs.temperature_in_celsius[0]), abs=1e-3)
    assert pressure_hpa(height) == pytest.approx(float(theirs.pressure[0]) / 100, abs=1e-3)
    assert density_kgm3(height) == pytest.approx(float(theirs.density[0]), abs=1e-6)
    assert sound_kt(temperature_c(height)) == pytest.approx(float(theirs.speed_of_sound[0]) * 3600 / NM, abs=1e-3)


@pytest.mark.parametrize("height", HEIGHTS)
def test_the_atmosphere_against_fluids(height: float) -> None:
    """Computed, fluids 1.3.1, which gives the gas constant other last digits: 0.01 C, 0.01 hPa, 1e-4 kg/m3."""
    theirs = ATMOSPHERE_1976(geometric_m(height))
    assert temperature_c(height) == pytest.approx(theirs.T - 273.15, abs=0.01)
    assert pressure_hpa(height) == pytest.approx(theirs.P / 100, abs=0.01)
    assert density_kgm3(height) == pytest.approx(theirs.rho, abs=1e-4)


@pytest.mark.parametrize("height", [0, 500, 1000, 2000, 5000, 8000, 10_000, 18_000, 25_000, 35_000])
@pytest.mark.parametrize("cas", [90, 130, 180, 220, 250, 280, 300])
def test_airspeeds_against_openap(cas: float, height: float) -> None:
    """Computed, openap 2.6.2 aero, whose exponents are rounded: 0.1 kt and 0.0001 of Mach."""
    metres = height * aero.ft
    if cas == 300 and height > 30_000:
        cas = 260
    assert mach_of_cas(cas, height) == pytest.approx(float(aero.cas2mach(cas * aero.kts, metres)), abs=1e-4)
    assert tas_of_cas(cas, height) == pytest.approx(float(aero.cas2tas(cas * aero.kts, metres)) / aero.kts, abs=0.1)
    mach = mach_of_cas(cas, height)
    assert cas_of_mach(mach, height) == pytest.approx(float(aero.mach2cas(mach, metres)) / aero.kts, abs=0.1)
    tas = tas_of_cas(cas, height)
    assert cas_of_tas(tas, height) == pytest.approx(float(aero.tas2cas(tas * aero.kts, metres)) / aero.kts, abs=0.1)


POINTS = st.builds(Point, st.floats(-89, 89), st.floats(-180, 180))
GEOD = Geod(ellps="WGS84")


@settings(max_examples=300)
@given(POINTS, POINTS)
def test_geodesics_against_pyproj(a: Point, b: Point) -> None:
    """Computed, pyproj 3.7.2 (PROJ): 0.001 m, and both tracks where there is a distance to have one."""
    track, back, metres = GEOD.inv(a.lon_deg, a.lat_deg, b.lon_deg, b.lat_deg)
    ours = line(a, b)
    assert ours.distance_nm * NM == pytest.approx(metres, abs=1e-3)
    if 1000 < metres < 19_900_000:
        assert (ours.track_deg - track + 180) % 360 == pytest.approx(180, abs=1e-6)
        assert (ours.arriving_deg - back) % 360 == pytest.approx(180, abs=1e-6)


@given(POINTS, st.floats(0, 360), st.floats(0, 5000))
def test_the_direct_problem_against_pyproj(a: Point, track: float, distance: float) -> None:
    """Computed, pyproj 3.7.2 (PROJ): the same place to a millimetre."""
    lon, lat, _ = GEOD.fwd(a.lon_deg, a.lat_deg, track, distance * NM)
    ours = point(a, track, distance)
    assert GEOD.inv(lon, lat, ours.lon_deg, ours.lat_deg)[2] < 1e-3


LAX, JFK = Point(33 + 57 / 60, -(118 + 24 / 60)), Point(40 + 38 / 60, -(73 + 47 / 60))
BESIDE = Point(34.5, -116.5)


def test_a_spherical_earth_by_a_published_example() -> None:
    """LAX to JFK. Source: Aviation Formulary (E. Williams), worked examples, reproduced (seen in translation).

    0.623585 rad or 2144 NM, 1.150035 rad or 66 deg; west longitudes are positive there.
    """
    found = line(LAX, JFK, SPHERE)
    radian_nm = 60 * 180 / 3.141592653589793
    assert found.distance_nm / radian_nm == pytest.approx(0.623585, abs=1e-6)
    assert found.track_deg * 3.141592653589793 / 180 == pytest.approx(1.150035, abs=1e-6)
    hundred = point(LAX, found.track_deg, 100, SPHERE)
    assert hundred.lat_deg == pytest.approx(34 + 37 / 60, abs=0.5 / 60)
    assert hundred.lon_deg == pytest.approx(-(116 + 33 / 60), abs=0.5 / 60)
    part = point(LAX, found.track_deg, 0.4 * found.distance_nm, SPHERE)
    assert part.lat_deg == pytest.approx(38 + 40.167 / 60, abs=0.001 / 60)
    assert part.lon_deg == pytest.approx(-(101 + 37.570 / 60), abs=0.001 / 60)


def test_beside_the_line_by_the_same_example() -> None:
    """99.8665 NM and 70.17 deg away; 7.4512 NM right of the course, 99.588 along it (same source)."""
    away = line(LAX, BESIDE, SPHERE)
    assert away.distance_nm == pytest.approx(99.8665, abs=0.001)
    assert away.track_deg == pytest.approx(70.17, abs=0.01)
    found = offset(LAX, line(LAX, JFK, SPHERE).track_deg, BESIDE, SPHERE)
    assert found.across_nm == pytest.approx(7.4512, abs=0.002)
    assert found.along_nm == pytest.approx(99.588, abs=0.001)


@pytest.mark.parametrize(("elevation", "qnh"), [(0, 1013.25), (430, 1009), (1120, 1031), (5400, 985), (-50, 1040)])
def test_pressure_at_the_aerodrome_against_ambiance(elevation: float, qnh: float) -> None:
    """The altimeter set to QFE shows 0 where QNH shows the elevation. Computed, ambiance 1.3.1."""
    at = pressure_altitude_ft(elevation, qnh)
    assert qfe_hpa(qnh, elevation) == pytest.approx(
        float(ambiance.Atmosphere(geometric_m(at)).pressure[0]) / 100, abs=1e-3
    )
    assert height_ft(qfe_hpa(qnh, elevation)) == pytest.approx(at, abs=1e-6)


@pytest.mark.parametrize("warm", [-30, -10, 0, 15, 30])
@pytest.mark.parametrize("height", [0, 1500, 6000])
def test_density_altitude_against_ambiance(height: float, warm: float) -> None:
    """The standard air at the density altitude is as dense as the air of the day. Computed, ambiance 1.3.1."""
    found = density_altitude_ft(height, temperature_c(height) + warm)
    theirs = float(ambiance.Atmosphere(geometric_m(found)).density[0])
    assert theirs == pytest.approx(density_kgm3(height, warm), abs=2e-6)
