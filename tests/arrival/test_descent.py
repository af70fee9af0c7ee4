"""Gradients, rates and the table of a continuous descent."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flowdeck.arrival.bounds import OutOfRange
from flowdeck.arrival.descent import (
    angle_deg,
    gradient_ft_per_nm,
    path_altitude_ft,
    path_table,
    rate_fpm,
    visual_descent_point_nm,
)

SPEEDS = (30, 45, 60, 75, 90, 105, 120, 135, 150, 165, 180)
RATES = {
    2.0: (105, 160, 210, 265, 320, 370, 425, 475, 530, 585, 635),
    2.5: (130, 200, 265, 330, 395, 465, 530, 595, 665, 730, 795),
    3.0: (160, 240, 320, 395, 480, 555, 635, 715, 795, 875, 955),
    4.0: (210, 315, 425, 530, 635, 740, 845, 955, 1060, 1165, 1270),
}
"""ft/min to the nearest 5. Source: U.S. Terminal Procedures Publication, Rate of Descent Table, reproduced."""


@pytest.mark.parametrize(
    ("angle", "speed", "cell"),
    [(angle, speed, cell) for angle, row in RATES.items() for speed, cell in zip(SPEEDS, row, strict=True)],
)
def test_the_rate_of_descent_table_cell_by_cell(angle: float, speed: float, cell: float) -> None:
    assert rate_fpm(angle, speed) == pytest.approx(cell, abs=3.1)


def test_the_table_follows_the_sine() -> None:
    """Rounded to 5, 39 of the 44 cells are met. Source: computed."""
    met = sum(
        5 * round(rate_fpm(angle, speed) / 5) == cell
        for angle, row in RATES.items()
        for speed, cell in zip(SPEEDS, row, strict=True)
    )
    assert met == 39


@pytest.mark.parametrize(
    ("speed", "fpm"), [(120, 636), (130, 689), (140, 743), (150, 795), (160, 848), (170, 901), (180, 954)]
)
def test_the_rate_at_three_degrees(speed: float, fpm: float) -> None:
    """Source: airline training hand-out (title not established), reproduced."""
    assert rate_fpm(3.0, speed) == pytest.approx(fpm, abs=2)


PER_NM = [
    (2.7, 286.5, 287), (2.9, 307.8, 308), (3.0, 318.4, 318), (3.1, 329.1, 329), (3.2, 339.7, 340), (3.3, 350.3, 350),
    (3.5, 371.6, 371), (3.6, 382.3, 382), (3.7, 392.9, 393), (2.5, 265.3, None), (2.75, 291.9, None),
    (3.77, 400.4, None), (3.8, 403.6, None), (3.9, 414.2, None), (4.0, 424.9, None),
]  # fmt: skip
"""Degrees; ft/NM computed, 6076.12 tan; the whole feet from an airline training hand-out, reproduced (its 414 at 3.8
belongs to 3.9, and is left out)."""


@pytest.mark.parametrize(("angle", "computed", "printed"), PER_NM)
def test_feet_per_mile(angle: float, computed: float, printed: float | None) -> None:
    assert gradient_ft_per_nm(angle) == pytest.approx(computed, abs=0.1)
    if printed is not None:
        assert gradient_ft_per_nm(angle) == pytest.approx(printed, abs=1)


def test_the_distance_altitude_table() -> None:
    """3.0 degrees from 1970 ft at 6.2 NM. Source: airline training hand-out, reproduced (318 ft/NM; 1 ft a step)."""
    printed = {6.2: 1970, 5.2: 1652, 4.2: 1334, 3.2: 1016, 2.2: 698}
    angle = angle_deg(318)
    found = dict(path_table(tuple(printed), 6.2, 1970, angle))
    assert found == {distance: pytest.approx(altitude, abs=1) for distance, altitude in printed.items()}


def test_a_table_does_not_reach_beyond_its_fix() -> None:
    with pytest.raises(OutOfRange, match=r"the path begins at 6\.2 NM; found 7"):
        path_table((5, 7), 6.2, 1970, 3.0)


def test_where_the_hand_outs_path_meets_its_minimum() -> None:
    """342 ft at 1.08 NM, 507 ft at 1.6 NM, on 318 ft/NM. Source: computed."""
    (_, low), (_, high) = path_table((1.08, 1.6), 6.2, 1970, angle_deg(318))
    assert (low, high) == (pytest.approx(342, abs=1), pytest.approx(507, abs=1))


@pytest.mark.parametrize(("gradient", "distance"), [(318, 1.26), (300, 1.33)])
def test_the_visual_descent_point(gradient: float, distance: float) -> None:
    """400 ft above the touchdown zone. From memory."""
    assert visual_descent_point_nm(1400, 1000, angle_deg(gradient)) == pytest.approx(distance, abs=0.01)


def test_the_path_ends_fifty_feet_over_the_threshold() -> None:
    """Source: FAA AC 120-108, 1/20/11 (title and date read, content reproduced)."""
    assert path_altitude_ft(0, 3.0, 430) == 480
    assert path_altitude_ft(1, 3.0, 430) == pytest.approx(480 + 318.4, abs=0.1)


@given(st.floats(0.1, 15))
def test_angle_and_gradient_are_inverse(angle: float) -> None:
    assert angle_deg(gradient_ft_per_nm(angle)) == pytest.approx(angle, abs=1e-9)


@given(st.floats(2, 5), st.lists(st.floats(0, 12), min_size=2, max_size=12))
def test_the_table_is_monotone(angle: float, distances: list[float]) -> None:
    rows = path_table(sorted(distances), 12, 4000, angle)
    altitudes = [altitude for _, altitude in rows]
    assert altitudes == sorted(altitudes)
