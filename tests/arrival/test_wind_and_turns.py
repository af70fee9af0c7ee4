"""Wind along and across, drift, and turns."""

from math import cos, hypot, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flowdeck.arrival.bounds import OutOfRange
from flowdeck.arrival.turns import radius_nm, rate_deg_s
from flowdeck.arrival.wind import components, credited_kt, keep_track


def test_the_crosswind_chart() -> None:
    """Runway 18, wind 220/30. Source: FAA airman knowledge-test question, reproduced; the decimals computed."""
    head, cross = components(220, 30, 180)
    assert (head, cross) == (pytest.approx(23, abs=1), pytest.approx(19, abs=1))
    assert (head, cross) == (pytest.approx(22.98, abs=0.01), pytest.approx(19.28, abs=0.01))


@pytest.mark.parametrize(
    ("from_deg", "track", "head", "cross"),
    [(360, 0, 20, 0), (0, 360, 20, 0), (350, 10, 18.79, -6.84), (10, 350, 18.79, 6.84), (180, 360, -20, 0),
     (90, 360, 0, 20)],
)  # fmt: skip
def test_round_north_and_from_behind(from_deg: float, track: float, head: float, cross: float) -> None:
    """20 kt. Source: computed, cosine and sine of the angle."""
    found = components(from_deg, 20, track)
    assert found == (pytest.approx(head, abs=0.01), pytest.approx(cross, abs=0.01))


@given(st.floats(0, 360), st.floats(0, 360), st.floats(80, 500), st.floats(0, 75))
def test_steering_keeps_the_track(track: float, wind_from: float, tas: float, wind: float) -> None:
    """Airspeed along the heading less the wind is the ground speed along the track, and nothing across it."""
    found = keep_track(track, tas, wind_from, wind)
    east = tas * sin(radians(found.heading_deg)) - wind * sin(radians(wind_from))
    north = tas * cos(radians(found.heading_deg)) - wind * cos(radians(wind_from))
    along = east * sin(radians(track)) + north * cos(radians(track))
    across = east * cos(radians(track)) - north * sin(radians(track))
    assert across == pytest.approx(0, abs=1e-6)
    assert along == pytest.approx(found.ground_kt, abs=1e-6)
    assert hypot(east, north) == pytest.approx(abs(found.ground_kt), abs=1e-6)


def test_drift_is_away_from_the_wind() -> None:
    """Wind from the right drifts to the left, and the heading is to the right of the track."""
    found = keep_track(360, 120, 90, 20)
    assert found.heading_deg == pytest.approx(9.59, abs=0.01)
    assert found.drift_deg == pytest.approx(-9.59, abs=0.01)


def test_a_wind_that_cannot_be_flown_is_an_error() -> None:
    with pytest.raises(OutOfRange, match="120 kt across a track at 100 kt"):
        keep_track(360, 100, 90, 120)


def test_the_wind_to_reckon_with() -> None:
    """20 kt head counts as 10, 10 kt tail as 15. Source: CAT.POL.A.230(d), reproduced."""
    assert credited_kt(20) == 10
    assert credited_kt(-10) == -15
    assert credited_kt(0.5) == 0.25


@pytest.mark.parametrize(("tas", "rate", "radius"), [(199, 2.55, 1.24), (276, 1.84, 2.39)])
def test_turns_of_procedure_design(tas: float, rate: float, radius: float) -> None:
    """25 deg of bank. Source: ICAO Doc 8168 Vol II, Table I-4-3-App A-1 (read)."""
    assert rate_deg_s(tas, 25) == pytest.approx(rate, rel=0.01)
    assert radius_nm(tas, 25) == pytest.approx(radius, rel=0.01)


def test_a_turn_by_its_formula() -> None:
    """Rate 3431 tan(bank) / (pi V), radius V / (20 pi rate). Source: computed, formula from memory."""
    assert rate_deg_s(278.064, 25) == pytest.approx(1.831465, rel=1e-4)
    assert radius_nm(278.064, 25) == pytest.approx(2.4164, rel=1e-4)


def test_a_slow_turn_is_no_faster_than_three_degrees_a_second() -> None:
    """Radius at 100 kt and 3 deg/s is 0.53 NM. Source: computed."""
    assert rate_deg_s(100, 25) == 3
    assert radius_nm(100, 25) == pytest.approx(100 / (60 * 3.14159265), rel=1e-6)


def test_a_circling_turn() -> None:
    """165 kt of ground speed at 30 deg of bank: 4194 ft. Source: FAA AIM 5-4-7 c, ed. 4/20/23 (read), 1 %."""
    assert radius_nm(165, 30, most=10) * 6076.12 == pytest.approx(4194, rel=0.01)
