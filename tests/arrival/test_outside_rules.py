"""Rules of the trade at their published figures: holding, lights, additions to the reference speed, gates, minima."""

import pytest

from flowdeck.arrival.altimetry import cold_correction_ft
from flowdeck.arrival.bounds import OutOfRange, rounded_up
from flowdeck.arrival.category import FINAL_KT, Category
from flowdeck.arrival.holding import ICAO_KT, US_KT, fastest_kt, lap_min, outbound_min
from flowdeck.arrival.landing import DISPATCH_APPROVED, DISPATCH_JET, DISPATCH_TURBOPROP, WET
from flowdeck.arrival.lights import white_lights
from flowdeck.arrival.policy import Additive
from flowdeck.arrival.speeds import Wind, additive_kt
from flowdeck.arrival.wind import design_wind_kt
from flowdeck.conditions import compile_truths
from flowdeck.live.bundled import read_deck


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


def test_the_wind_that_procedures_are_designed_for() -> None:
    """w = 2h + 47, h in thousands of ft: 67 at 10 000. Source: ICAO Doc 8168 Vol II (read)."""
    assert design_wind_kt(10_000) == 67
    assert design_wind_kt(0) == 47


@pytest.mark.parametrize(
    ("factor", "printed"),
    [
        (DISPATCH_JET, 1.67),
        (DISPATCH_TURBOPROP, 1.43),
        (DISPATCH_APPROVED, 1.25),
        (WET, 1.15),
        (WET * DISPATCH_JET, 1.92),
    ],
)
def test_landing_factors_as_they_are_printed(factor: float, printed: float) -> None:
    """Sources: CAT.POL.A.230, .235 and .255 with GM2 to .230 (read); turbojet wet computed, 1.15 / 0.6."""
    assert factor == pytest.approx(printed, abs=0.005)


@pytest.mark.parametrize(
    ("letter", "slow", "fast"),
    [("A", 70, 100), ("B", 85, 130), ("C", 115, 160), ("D", 130, 185), ("E", 155, 230)],
)
def test_speeds_of_the_final_segment(letter: Category, slow: float, fast: float) -> None:
    """Source: ICAO Doc 8168 Vol II, Table I-4-1-2: row C reproduced, the rest from memory."""
    assert FINAL_KT[letter] == (slow, fast)


# ---- the stabilised gate of the bundled deck, at its limits


GATE = {
    "flap_deg": 31.0,
    "gear": "down",
    "spoilers": "armed",
    "speedbrake": "in",
    "ias_kt": 136.0,
    "planned_approach_kt": 136.0,
    "vertical_speed_fpm": -700.0,
    "thrust_lever_pct": 45.0,
    "path_error_ft": 0.0,
}


def not_met(**shown: float | str) -> list[str]:
    """What of the gate at 1000 ft does not hold with these readings; lists apart."""
    deck, _ = read_deck("twinjet")
    truths = compile_truths(deck.conditions)
    rows = len(deck.conditions)
    found = truths({**GATE, **shown}, {}, "approach", frozenset(("briefing",)), {}, 0, {}, (None,) * rows, (0,) * rows)
    return [
        must.words
        for must in deck.gates["stable-1000"].must
        if found[must.that] is False and "checklist" not in must.words
    ]


@pytest.mark.parametrize(
    ("shown", "words"),
    [
        ({"vertical_speed_fpm": -1000.0}, []),
        ({"vertical_speed_fpm": -1001.0}, ["sink"]),
        ({"ias_kt": 146.0}, []),
        ({"ias_kt": 147.0}, ["speed"]),
        ({"ias_kt": 131.0}, []),
        ({"ias_kt": 130.0}, ["speed"]),
        ({"path_error_ft": -75.0}, []),
        ({"path_error_ft": -76.0}, ["path"]),
        ({"path_error_ft": 150.0}, []),
        ({"path_error_ft": 151.0}, ["path"]),
        ({"flap_deg": 19.0}, ["landing flap"]),
    ],
)
def test_the_stabilised_gate_at_its_limits(shown: dict[str, float], words: list[str]) -> None:
    """Sink at most 1000 ft/min: FSF ALAR Briefing Note 7.1, reproduced. Its speed window is reference to + 20; this
    deck's, target - 5 to + 10, and its path window are common practice, no source."""
    assert not_met(**shown) == words
