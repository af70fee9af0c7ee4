"""Rules of the trade at their published figures: holding, lights, additions to the reference speed, gates, minima."""

import pytest

from flowdeck.arrival.altimetry import cold_correction_ft
from flowdeck.arrival.bounds import OutOfRange, rounded_up
from flowdeck.arrival.holding import ICAO_KT, US_KT, fastest_kt, lap_min, outbound_min
from flowdeck.arrival.lights import white_lights
from flowdeck.arrival.policy import Additive
from flowdeck.arrival.speeds import Wind, additive_kt


@pytest.mark.parametrize(
    ("edition", "altitude", "kt"),
    [
        (ICAO_KT, 14_000, 230),
        (ICAO_KT, 14_001, 240),
        (ICAO_KT, 20_000, 240),
        (ICAO_KT, 20_001, 265),
        (ICAO_KT, 34_000, 265),
        (US_KT, 6000, 200),
        (US_KT, 6001, 230),
        (US_KT, 14_000, 230),
        (US_KT, 14_001, 265),
    ],
)
def test_holding_speeds_at_their_limits(edition: tuple[tuple[float, float], ...], altitude: float, kt: float) -> None:
    """Source: ICAO Doc 8168 and US holding speeds, both reproduced; an older ICAO edition has 210, 220, 240, 265."""
    assert fastest_kt(altitude, edition) == kt


def test_above_the_last_altitude_of_an_edition_there_is_no_speed() -> None:
    with pytest.raises(OutOfRange):
        fastest_kt(34_001)


def test_the_outbound_leg_and_the_lap() -> None:
    """One minute to 14 000 ft, one and a half above (Doc 8168, reproduced); at 3 deg/s each turn takes a minute."""
    assert (outbound_min(14_000), outbound_min(14_001)) == (1.0, 1.5)
    assert lap_min(10_000) == 4.0
    assert lap_min(20_000) == 5.0
    assert lap_min(10_000, leg_min=2.0, turn_deg_s=1.5) == 8.0


@pytest.mark.parametrize(("angle", "white"), [(3.6, 4), (3.2, 3), (3.0, 2), (2.8, 1), (2.4, 0)])
def test_lights_beside_a_runway_set_for_three_degrees(angle: float, white: int) -> None:
    """Source: FAA AIM FIG 2-1-5, ed. 3/21/24 (read). Between these angles the switch points are not published."""
    assert white_lights(angle) == white


def test_lights_set_for_another_slope_move_with_it() -> None:
    assert [white_lights(3.5 + off, 3.5) for off in (0.6, 0.2, 0, -0.2, -0.6)] == [4, 3, 2, 1, 0]


@pytest.mark.parametrize(
    ("head", "gust", "added"),
    [(20, 0, 10), (4, 0, 5), (0, 0, 5), (-15, 0, 5), (10, 10, 15), (30, 15, 20), (-10, 8, 8), (9, 0, 5), (11, 0, 6)],
)
def test_what_the_wind_adds(head: float, gust: float, added: float) -> None:
    """Half the headwind and the whole gust, 5 to 20 kt; the floor is not added on top. Common practice, no source."""
    assert additive_kt(Wind(head, 0, gust), Additive()) == added


def test_another_operator_adds_half_of_the_gust() -> None:
    """Common practice of others, no source."""
    assert additive_kt(Wind(10, 0, 10), Additive(gust_share=0.5)) == 10


def test_a_segment_altitude_may_be_rounded_either_way_a_minimum_only_up() -> None:
    """130 ft of correction: 100 or 200 for a segment, both legitimate. Source: FAA AIM 7-3-5 e (read)."""
    assert rounded_up(130, 100) == 200
    assert rounded_up(280, 100) == 300
    assert rounded_up(130, 10) == 130


def test_reading_the_cold_table_from_the_other_side() -> None:
    """-40 C and 2000 ft on the altimeter mean 1520 ft true. Source: FAA AIM TBL 7-3-1, reproduced."""
    assert 2000 - rounded_up(cold_correction_ft(2000, -40), 10) == 1520
