"""Landing factors, approach categories, rounding."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flowdeck.arrival.bounds import OutOfRange, rounded_up
from flowdeck.arrival.category import ICAO_HIGHEST_KT, category
from flowdeck.arrival.landing import ARRIVAL_MARGIN, DISPATCH_JET, DISPATCH_TURBOPROP, WET, margin_m, required_m


@pytest.mark.parametrize(
    ("vref", "letter"),
    [(90, "A"), (90.9, "A"), (91, "B"), (120, "B"), (120.9, "B"), (121, "C"), (140, "C"), (140.9, "C"), (141, "D"),
     (165, "D"), (165.9, "D"), (166, "E"), (210.9, "E")],
)  # fmt: skip
def test_categories_at_their_limits(vref: float, letter: str) -> None:
    """Source: 14 CFR 97.3 (read); the same limits in ICAO Doc 8168 Vol II, I-4-1-3 (read)."""
    assert category(vref) == letter


def test_where_the_last_category_ends() -> None:
    """Below 211 kt in ICAO Doc 8168 Vol II (read); open in 14 CFR 97.3 (read)."""
    with pytest.raises(OutOfRange, match="reference speed"):
        category(ICAO_HIGHEST_KT)
    assert category(230, highest_kt=400) == "E"
    with pytest.raises(OutOfRange, match="expected 30 to"):
        category(29)


def test_factors() -> None:
    """Sources: 14 CFR 121.195(b), 135.395; CAT.POL.A.230 and .235 with GM2 (read); FAA SAFO 06012 (reproduced)."""
    assert pytest.approx(1.667, abs=0.001) == DISPATCH_JET
    assert pytest.approx(1.429, abs=0.001) == DISPATCH_TURBOPROP
    assert (WET, ARRIVAL_MARGIN) == (1.15, 1.15)
    assert pytest.approx(1.9167, abs=0.001) == WET * DISPATCH_JET


def test_the_exact_fraction_is_used_and_rounded_up_at_the_end() -> None:
    """1200 m within 60 %: exactly 2000 m. With the printed 1.67 it would be 2004."""
    assert required_m(1200, DISPATCH_JET) == 2000
    assert required_m(1201, DISPATCH_JET) == 2002
    assert required_m(1200, DISPATCH_JET, WET) == 2300
    assert margin_m(2300, required_m(1200, DISPATCH_JET, WET)) == 0


@pytest.mark.parametrize(("distance", "factor"), [(0, 1.15), (10_001, 1.15), (1200, 0.6), (1200, float("inf"))])
def test_a_factor_never_shortens(distance: float, factor: float) -> None:
    """0.6 for 1/0.6 is the usual slip."""
    with pytest.raises(OutOfRange):
        required_m(distance, factor)


@given(st.floats(0, 1e6), st.sampled_from([1.0, 10.0, 100.0]))
def test_rounding_up_is_the_next_step_and_never_down(value: float, step: float) -> None:
    found = rounded_up(value, step)
    assert found % step == 0
    assert value - 1e-6 * max(1.0, value) <= found < value + step + 1e-6
