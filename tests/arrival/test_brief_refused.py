"""Where no landing is possible the brief says which limit it is, on the last kt, kg, m; and the command exits 1."""

from pathlib import Path

import pytest
from msgspec.structs import replace

from flowdeck.arrival.brief import Brief, make_brief
from flowdeck.arrival.plan import Arrival
from flowdeck.arrival.weather import Cloud, Cover
from flowdeck.cli.main import main
from flowdeck.live.bundled import arrival_names, find_arrival, read_arrival

TARN, PORT, SKARN = (read_arrival(name) for name in ("tarn-holm", "port-ennis", "skarn-fell"))


def values(brief: Brief) -> dict[str, float | str]:
    return {figure.key: figure.value for section in brief.sections for figure in section.figures}


def wind(from_deg: float | None, kt: float, gust: float | None = None, *, variable: bool = False) -> Arrival:
    """Tarn Holm, runway 073 true."""
    changed = replace(TARN.weather, wind_from_deg=from_deg, wind_kt=kt, gust_kt=gust, wind_variable=variable)
    return replace(TARN, weather=changed)


def runway(metres: float) -> Arrival:
    return replace(TARN, runway=replace(TARN.runway, landing_distance_m=metres))


def weighing(kg: float) -> Arrival:
    return replace(TARN, start=replace(TARN.start, mass_kg=kg))


def fuelled(kg: float) -> Arrival:
    return replace(TARN, start=replace(TARN.start, fuel_kg=kg))


def seeing(metres: float, minimum: dict[str, float] | None = None) -> Arrival:
    approach = TARN.approach if minimum is None else replace(TARN.approach, visibility_m=minimum)
    return replace(TARN, approach=approach, weather=replace(TARN.weather, visibility_m=metres))


def published(**minima: float) -> Arrival:
    return replace(TARN, approach=replace(TARN.approach, minima=minima))


def kinds(brief: Brief, *, no_landing: bool) -> set[str]:
    return {caution.kind for caution in brief.cautions if caution.no_landing is no_landing}


BURNT = float(values(make_brief(TARN))["burn_kg"])
"""Fuel to the landing at Tarn Holm; held against another hand's in test_brief_flown."""


@pytest.mark.parametrize(
    "arrival",
    [
        wind(253, 10),  # 10 kt from straight behind is the limit, and allowed
        wind(163, 33),  # so are 33 across
        wind(213, 13),  # 40 deg off the tail: 13 cos 40 = 9.96
        runway(1700),
        weighing(45_300),  # 45 300 - 370 = 44 930, up to 45 000: the limit itself
        fuelled(BURNT + 1901),  # 1 kg above the reserves of 1900
        seeing(2400),  # what category C needs
        seeing(9999, {}),  # nothing is asked
        published(C=780),
    ],
)
def test_on_the_limit_it_lands_and_nothing_is_said(arrival: Arrival) -> None:
    brief = make_brief(arrival)
    assert brief.lands
    assert {c.kind for c in brief.cautions} <= {"flap_speed"}  # 45 t is heavy for the speeds of the steps


@pytest.mark.parametrize(
    ("arrival", "kind", "words"),
    [
        (wind(253, 11), "wind", "above the limit of 10 kt"),
        (wind(213, 14), "wind", "tailwind 11 kt"),  # 14 cos 40 = 10.7
        (wind(163, 34), "wind", "crosswind 34 kt"),
        (wind(343, 34), "wind", "crosswind 34 kt"),  # from the other side
        (runway(1200), "runway", "too short even with high braking"),
        (weighing(45_500), "mass", "above the limit of 45000 kg"),
        (fuelled(BURNT - 1), "fuel", "does not reach the runway"),
        (published(B=760, D=800), "minimum", "category C"),
        (seeing(2399), "minimum", "below the 2400 m of category C"),
        (seeing(0), "minimum", "visibility 0 m"),
    ],
)
def test_beyond_it_there_is_no_landing_and_it_is_named(arrival: Arrival, kind: str, words: str) -> None:
    brief = make_brief(arrival)
    assert not brief.lands
    assert kinds(brief, no_landing=True) == {kind}
    assert any(words in caution.words for caution in brief.cautions if caution.kind == kind)


@pytest.mark.parametrize(
    ("arrival", "kind", "words"),
    [
        (wind(163, 20, 34), "wind", "crosswind 34 kt with the gust"),
        (wind(None, 11, variable=True), "wind", "tailwind 11 kt"),  # it may be from behind
        (fuelled(BURNT + 1899), "fuel", "1 kg short of the reserves"),
    ],
)
def test_a_caution_that_still_lets_it_land(arrival: Arrival, kind: str, words: str) -> None:
    brief = make_brief(arrival)
    assert brief.lands
    assert any(words in caution.words for caution in brief.cautions if caution.kind == kind)


def test_how_much_the_runway_is_short_by() -> None:
    """What the highest step needs, less what there is; no autobrake step is named as fitting."""
    needs = float(values(make_brief(runway(1225)))["landing_required_m"])
    assert values(make_brief(runway(1225)))["autobrake"] == "high"
    short = make_brief(runway(1000))
    assert values(short)["autobrake"] == "none"
    assert values(short)["landing_left_m"] == 1000 - needs
    assert any(f"is {needs - 1000:.0f} m too short" in caution.words for caution in short.cautions)


def test_faster_than_its_category_the_higher_one_is_needed() -> None:
    """Port Ennis at 148 kt needs minima of D; with those of C alone it cannot land. Source: FAA AIM 5-4-7 (read)."""
    brief = make_brief(replace(PORT, approach=replace(PORT.approach, minima={"C": 236.0})))
    assert not brief.lands
    assert any("category D" in caution.words for caution in brief.cautions)


def test_several_at_once_are_all_named() -> None:
    worst = replace(wind(253, 15), start=replace(TARN.start, mass_kg=45_600.0, fuel_kg=300.0))
    worst = replace(worst, runway=replace(worst.runway, landing_distance_m=900.0))
    worst = replace(worst, weather=replace(worst.weather, visibility_m=300.0))
    assert kinds(make_brief(worst), no_landing=True) == {"wind", "runway", "mass", "fuel", "minimum"}


def test_a_mass_beyond_the_table_is_too_high_as_well() -> None:
    """47 000 kg at Tarn Holm: 46 700 at the landing, above the 46 000 where the table ends and the limit of 45 000."""
    brief = make_brief(weighing(47_000))
    assert any(caution.kind == "mass" for caution in brief.cautions)
    assert not brief.lands


def test_a_tailwind_is_held_against_its_limit_with_the_gust() -> None:
    """8 kt from straight behind, gusting 18, where 10 are allowed."""
    assert any(caution.kind == "wind" for caution in make_brief(wind(253, 8, 18)).cautions)


# ---- the command


@pytest.mark.parametrize("name", arrival_names())
def test_every_bundled_arrival_lands_and_exits_nought(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert make_brief(read_arrival(name)).lands
    assert main(["brief", name]) == 0
    assert "no landing" not in capsys.readouterr().out.lower()


@pytest.mark.parametrize(
    ("line", "instead", "words"),
    [
        ("07008KT", "25314KT", "tailwind 14 kt"),
        ("landing_distance_m: 2150", "landing_distance_m: 1100", "too short"),
        ("mass_kg: 41330", "mass_kg: 45700", "above the limit of 45000 kg"),
        ("fuel_kg: 4400", "fuel_kg: 300", "does not reach the runway"),
        ("category: C,", "category: E,", "category C"),
        (" 6000 -RA", " 1500 -RA", "visibility 1500 m"),
    ],
)
def test_a_file_that_cannot_be_landed_exits_one(
    line: str, instead: str, words: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = find_arrival("tarn-holm").read_text(encoding="utf-8")
    assert text.count(line) == 1
    path = tmp_path / "arrival.yaml"
    path.write_text(text.replace(line, instead), encoding="utf-8")
    assert main(["brief", str(path)]) == 1
    said = " ".join(capsys.readouterr().out.split())
    assert words in said


def test_a_caution_alone_exits_nought(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Short of the reserves: said, and the runway can still be landed on."""
    path = tmp_path / "arrival.yaml"
    text = find_arrival("tarn-holm").read_text(encoding="utf-8")
    path.write_text(text.replace("fuel_kg: 4400", "fuel_kg: 2000"), encoding="utf-8")
    assert main(["brief", str(path)]) == 0
    assert "short of the reserves" in " ".join(capsys.readouterr().out.split())


def test_two_winds_at_one_height_cannot_both_blow(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """090 at 18 and 250 at 30, both at 5000 ft: nobody can know which is meant. Unusable: exit 2."""
    path = tmp_path / "arrival.yaml"
    text = find_arrival("tarn-holm").read_text(encoding="utf-8")
    row = "  - {altitude_ft: 5000, from_deg: 90, kt: 18}\n"
    assert text.count(row) == 1
    path.write_text(text.replace(row, row + "  - {altitude_ft: 5000, from_deg: 250, kt: 30}\n"), encoding="utf-8")
    assert main(["brief", str(path)]) == 2


def clouded(cover: Cover, base_ft: float) -> Arrival:
    return replace(TARN, weather=replace(TARN.weather, clouds=(Cloud(cover=cover, base_ft=base_ft),)))


def test_a_ceiling_below_the_minimum_is_said_and_forbids_nothing() -> None:
    """780 ft and 50 of increment at a field of 430: 400 above it; a few clouds are no ceiling.

    Common practice, no source.
    """
    brief = make_brief(clouded("overcast", 300))
    assert brief.lands
    [said] = [caution.words for caution in brief.cautions if caution.kind == "minimum"]
    assert said == "ceiling 300 ft, the minimum is 400 ft above the aerodrome"
    for above in (clouded("overcast", 400), clouded("few", 300), clouded("broken", 1500)):
        assert kinds(make_brief(above), no_landing=False) == set()


def ranged(*ranges: tuple[str, float]) -> Arrival:
    return replace(TARN, weather=replace(TARN.weather, runway_ranges=ranges))


def test_a_runway_visual_range_counts_instead_of_the_visibility() -> None:
    """Tarn Holm needs 2400 m and has 6000; of its own runway 07 only, and the lowest. From memory."""
    [said] = [c.words for c in make_brief(ranged(("07", 1500.0), ("25", 3000.0))).cautions if c.no_landing]
    assert said == "runway visual range 1500 m, below the 2400 m of category C"
    assert make_brief(ranged(("07", 2400.0))).lands
    assert make_brief(ranged(("25", 300.0), ("07L", 300.0))).lands


def test_a_varying_direction_is_held_against_the_limits() -> None:
    """Runway 073 true. 20 kt from 070 but to 163, all across: 20 of 33. 40 kt: 40, said; the mean alone is 2 kt."""
    varying = replace(wind(70, 40).weather, wind_between_deg=(40, 163))
    brief = make_brief(replace(TARN, weather=varying))
    assert brief.lands and float(values(brief)["crosswind_kt"]) == pytest.approx(40 * 0.0523, abs=0.01)
    [said] = [c.words for c in brief.cautions if c.kind == "wind"]
    assert said == "crosswind 40 kt, the direction varying, above the limit of 33 kt"
    behind = replace(wind(200, 12).weather, wind_between_deg=(170, 260))
    [said] = [c.words for c in make_brief(replace(TARN, weather=behind)).cautions if c.kind == "wind"]
    assert said == "tailwind 12 kt, the direction varying, above the limit of 10 kt"
