"""Geodesics, held against published lines."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flowdeck.arrival.bounds import OutOfRange
from flowdeck.arrival.geodesy import Point, line, offset, point


def dms(degrees: float, minutes: float, seconds: float) -> float:
    return degrees + minutes / 60 + seconds / 3600


LINES = [
    ((50.06632, -5.71475), (58.64402, -3.07009), 969_954.166, 9.141877, 11.297220),
    ((0, 0), (0.5, 179.5), 19_936_288.579, 25.671873, 154.327085),
    ((40.6, -73.8), (51.6, -0.5), 5_551_759.400, 51.198883, 107.821777),
]
"""Start, end, metres, tracks. Source: computed, geographiclib 2.1 and pyproj 3.7.2 agreeing, WGS84."""


@pytest.mark.parametrize(("start", "end", "metres", "leaving", "arriving"), LINES)
def test_lines(
    start: tuple[float, float], end: tuple[float, float], metres: float, leaving: float, arriving: float
) -> None:
    found = line(Point(*start), Point(*end))
    assert found.distance_nm * 1852 == pytest.approx(metres, abs=0.001)
    assert found.track_deg == pytest.approx(leaving, abs=1e-6)
    assert found.arriving_deg == pytest.approx(arriving, abs=1e-6)


def test_karneys_line() -> None:
    """Source: C. Karney, GeographicLib test data (read)."""
    found = line(Point(35.60777, -139.44815), Point(-11.17491, -69.95921))
    assert found.distance_nm * 1852 == pytest.approx(8935244.5604818305, abs=1e-6)
    assert found.track_deg == pytest.approx(111.098748429560326, abs=1e-9)
    assert found.arriving_deg == pytest.approx(129.289270889708762, abs=1e-9)


def test_flinders_peak_to_buninyong() -> None:
    """Source: Australian GDA worked example (numbers reproduced, attribution from memory)."""
    flinders = Point(-dms(37, 57, 3.72030), dms(144, 25, 29.52440))
    buninyong = Point(-dms(37, 39, 10.15610), dms(143, 55, 35.38390))
    found = line(flinders, buninyong)
    assert found.distance_nm * 1852 == pytest.approx(54_972.271, abs=0.001)
    assert found.track_deg == pytest.approx(dms(306, 52, 5.37), abs=0.01 / 3600)
    assert (found.arriving_deg + 180) % 360 == pytest.approx(dms(127, 10, 25.07), abs=0.01 / 3600)


def test_the_ellipsoid_is_not_the_sphere() -> None:
    """33 57 N 118 24 W to 40 38 N 73 47 W: 2149.892 NM, 65.934 deg. Source: computed, geographiclib 2.1."""
    found = line(Point(dms(33, 57, 0), -dms(118, 24, 0)), Point(dms(40, 38, 0), -dms(73, 47, 0)))
    assert found.distance_nm == pytest.approx(2149.892, abs=0.001)
    assert found.track_deg == pytest.approx(65.934, abs=0.001)


def test_beside_a_line() -> None:
    """A point set off at a right angle from a line is found where it was put; right is positive."""
    start = Point(46.2, 6.1)
    foot = point(start, 50, 40)
    onward = (line(start, foot).arriving_deg + 90) % 360
    right, left = point(foot, onward, 7.5), point(foot, onward, -7.5)
    assert offset(start, 50, right) == (pytest.approx(40, abs=1e-6), pytest.approx(7.5, abs=1e-6))
    assert offset(start, 50, left) == (pytest.approx(40, abs=1e-6), pytest.approx(-7.5, abs=1e-6))


@given(st.floats(-80, 80), st.floats(-179, 179), st.floats(0, 359.9), st.floats(0.1, 900))
def test_there_and_measured(lat: float, lon: float, track: float, distance: float) -> None:
    start = Point(lat, lon)
    end = point(start, track, distance)
    found = line(start, end)
    assert found.distance_nm == pytest.approx(distance, abs=1e-6)
    assert (found.track_deg - track + 180) % 360 - 180 == pytest.approx(0, abs=1e-4)


@pytest.mark.parametrize("lat", [90.1, -91, float("nan")])
def test_a_latitude_that_is_none(lat: float) -> None:
    with pytest.raises(OutOfRange, match="latitude: expected -90 to 90 deg"):
        line(Point(lat, 0), Point(0, 0))
