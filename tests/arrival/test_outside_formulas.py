"""Published figures again, by a second formula or from the other side of their limits."""

from cmath import phase, rect
from math import radians, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flowdeck.arrival.altimetry import cold_correction_ft
from flowdeck.arrival.bounds import rounded_up
from flowdeck.arrival.category import category
from flowdeck.arrival.descent import angle_deg, gradient_ft_per_nm, path_table, rate_fpm
from flowdeck.arrival.landing import DISPATCH_JET, DISPATCH_TURBOPROP, WET, required_m
from flowdeck.arrival.minima import category_of_the_day
from flowdeck.arrival.policy import Additive
from flowdeck.arrival.speeds import Wind, additive_kt
from flowdeck.arrival.wind import components

SPEEDS = (30, 45, 60, 75, 90, 105, 120, 135, 150, 165, 180)
RATES = {
    2.0: (105, 160, 210, 265, 320, 370, 425, 475, 530, 585, 635),
    2.5: (130, 200, 265, 330, 395, 465, 530, 595, 665, 730, 795),
    3.0: (160, 240, 320, 395, 480, 555, 635, 715, 795, 875, 955),
    4.0: (210, 315, 425, 530, 635, 740, 845, 955, 1060, 1165, 1270),
}
"""ft/min to the nearest 5. Source: U.S. Terminal Procedures Publication, Rate of Descent Table, reproduced."""


def test_the_tangent_fits_the_rate_table_less_well() -> None:
    """36 of 44 cells, up to 4.8 ft/min off; the sine 39 and 3.0. Source: computed, GS 6076.12/60 tan and sin."""
    cells = [(a, kt, cell) for a, row in RATES.items() for kt, cell in zip(SPEEDS, row, strict=True)]
    by_tangent = [(gradient_ft_per_nm(a) * kt / 60, cell) for a, kt, cell in cells]
    assert sum(5 * round(fpm / 5) == cell for fpm, cell in by_tangent) == 36
    assert max(abs(fpm - cell) for fpm, cell in by_tangent) == pytest.approx(4.8, abs=0.05)
    assert max(abs(rate_fpm(a, kt) - cell) for a, kt, cell in cells) == pytest.approx(3.0, abs=0.05)


@pytest.mark.parametrize(
    ("speed", "by_tangent", "by_sine"),
    [(120, 636.9, 636.0), (130, 689.9, 689.0), (140, 743.0, 742.0), (150, 796.1, 795.0), (160, 849.2, 848.0),
     (170, 902.2, 901.0), (180, 955.3, 954.0)],
)  # fmt: skip
def test_the_rate_at_three_degrees_by_both(speed: float, by_tangent: float, by_sine: float) -> None:
    """Source: computed, 6076.12 tan and sin."""
    assert gradient_ft_per_nm(3) * speed / 60 == pytest.approx(by_tangent, abs=0.051)
    assert rate_fpm(3, speed) == pytest.approx(by_sine, abs=0.051)


def test_three_degrees_and_318_feet_part_by_the_mile() -> None:
    """0.44 ft for each NM below the fix. Source: computed, 6076.12 tan 3 less 318."""
    exact = path_table((2.2, 5.2), 6.2, 1970, 3.0)
    round_ = path_table((2.2, 5.2), 6.2, 1970, angle_deg(318))
    apart = [b - a for (_, a), (_, b) in zip(exact, round_, strict=True)]
    assert apart == [pytest.approx(4 * 0.44, abs=0.02), pytest.approx(0.44, abs=0.005)]


@pytest.mark.parametrize(
    ("kmh", "below", "above"), [(169, "A", "B"), (224, "B", "C"), (261, "C", "D"), (307, "D", "E")]
)
def test_categories_at_their_limits_in_kilometres(kmh: float, below: str, above: str) -> None:
    """To the whole km/h. Source: ICAO Doc 8168 Vol II (page date 23/11/06), I-4-1-3, 1.8.2-1.8.4 (read)."""
    assert (category((kmh - 0.6) / 1.852), category((kmh + 0.6) / 1.852)) == (below, above)


@pytest.mark.parametrize(("certified", "flown", "minima"), [(115, 145, "D"), (85, 130, "C"), (145, 130, "D")])
def test_flown_faster_the_higher_minima_hold_and_never_lower_ones(certified: float, flown: float, minima: str) -> None:
    """B at 145 kt uses D, A at 130 kt uses C. Source: FAA AIM 5-4-7, ed. 4/20/23 (read)."""
    assert category_of_the_day(certified, flown) == minima


def test_the_worked_addition_to_a_reference_speed() -> None:
    """140 kt with 20 kt of headwind is 150. Source: common practice, no source."""
    assert 140 + additive_kt(Wind(20, 0, 0), Additive()) == 150


@pytest.mark.parametrize(
    ("factors", "printed"), [((DISPATCH_JET,), 1.67), ((DISPATCH_TURBOPROP,), 1.43), ((DISPATCH_JET, WET), 1.92)]
)
def test_factors_as_printed(factors: tuple[float, ...], printed: float) -> None:
    """Source: UK CAA, GM2 CAT.POL.A.230, ORS9 Decision 15 (read); 1.92 computed, 1.15/0.6."""
    assert required_m(10_000, *factors) / 10_000 == pytest.approx(printed, abs=0.005)


def test_a_cell_of_the_cold_table_next_to_a_step() -> None:
    """-20 C and 3000 ft lies 0.05 ft from rounding to another 10 ft. Source: computed, the equation of Doc 8168."""
    found = cold_correction_ft(3000, -20)
    assert rounded_up(found, 10) == 420
    assert min(found % 10, 10 - found % 10) == pytest.approx(0.05, abs=0.01)


@given(st.floats(100, 5000), st.floats(-60, 10), st.floats(0, 10_000))
def test_the_equation_for_cold_against_the_column_of_air(height: float, air_c: float, elevation: float) -> None:
    """Within 5 % for sources up to 10 000 ft. Source: ICAO Doc 8168 Vol I, reproduced.

    The other side is the gas law: in air that is colder by the same at every height, all layers shrink by the share
    of its temperature to the standard one at the source: h (Ts/Ta - 1). Source: computed.
    """
    standard_k = 288.15 - 0.0019812 * elevation
    air_k = air_c + 273.15
    shrunk = height * (standard_k / air_k - 1)
    if standard_k - air_k > 5:
        assert cold_correction_ft(height, air_c, elevation) == pytest.approx(shrunk, rel=0.05)


@given(st.integers(0, 720), st.floats(0, 250), st.integers(0, 720))
def test_wind_as_a_complex_number(from_deg: int, kt: float, track: int) -> None:
    """Turned by the track, its parts are those along and across. Source: computed."""
    turned = rect(kt, radians(from_deg)) * rect(1, -radians(track))
    found = components(from_deg, kt, track)
    assert (found.head_kt, found.cross_kt) == (
        pytest.approx(turned.real, abs=1e-9),
        pytest.approx(turned.imag, abs=1e-9),
    )
    if kt > 1:
        assert phase(complex(*found) / turned) == pytest.approx(0, abs=1e-6)


def test_the_gradient_of_the_highest_angle_of_category_c() -> None:
    """3.77 deg is 400.4 ft/NM. Source: computed, 6076.12 tan."""
    assert gradient_ft_per_nm(3.77) == pytest.approx(6076.12 * tan(radians(3.77)), abs=0.01)
