"""Days at the edge: colder than any figure, calm, exactly at a limit, a hold too near; worked by hand."""

import pytest
from msgspec.structs import replace

from flowdeck.arrival.brief import Brief, make_brief
from flowdeck.arrival.expected import air_of
from flowdeck.arrival.monitor import Reading, Watch
from flowdeck.arrival.plan import Arrival, Hold
from flowdeck.arrival.surround import surroundings_of
from flowdeck.live.bundled import read_arrival

TARN, PORT, SKARN = (read_arrival(name) for name in ("tarn-holm", "port-ennis", "skarn-fell"))
FINAL: dict[str, Reading] = {
    "distance_nm": 5.0,
    "altitude_ft": 3000.0,
    "ias_kt": 170.0,
    "groundspeed_kt": 160.0,
    "vertical_speed_fpm": -850.0,
    "flap_deg": 11.0,
    "gear": "down",
    "radio_height_ft": 1700.0,
    "terrain_height_ft": 1105.0,
}


def weather(arrival: Arrival, **changes: object) -> Arrival:
    return replace(arrival, weather=replace(arrival.weather, **changes))


def values(brief: Brief) -> dict[str, float | str]:
    return {figure.key: figure.value for section in brief.sections for figure in section.figures}


def said(brief: Brief, kind: str) -> list[str]:
    return [caution.words for caution in brief.cautions if caution.kind == kind]


def test_a_watch_colder_than_the_correction_goes_knows_less_and_fails_not() -> None:
    """The equation is held to -60 (ICAO Doc 8168, from memory); a report may say less."""
    found = Watch(make_brief(weather(SKARN, temperature_c=-65.0, dew_point_c=-70.0))).signals(FINAL)
    unknown = ("planned_altitude_ft", "height_above_path_ft", "next_fix_miss_ft", "gate_stable", "altimeter_error_ft")
    assert [found[name] for name in unknown] == [None] * 5
    assert found["next_fix_nm"] == pytest.approx(1.5)
    assert found["limit_margin_kt"] == 217 - 170


def test_a_fix_too_high_for_any_correction_is_not_said_to_fit() -> None:
    """HBK at 9000 ft is 7880 above the aerodrome, where no table has a column (FAA AIM 7-3-5, read)."""
    brief = make_brief(SKARN)
    assert any("HBK, 9000 to 11000" in words for words in said(brief, "cold"))
    watch = Watch(brief)
    asked = {fix.name: (low, high) for fix, low, high in watch.asked()}
    assert asked["HBK"] == (None, None)
    assert asked["TORVE"] == (5830, None)
    found = watch.signals({**FINAL, "distance_nm": 40.0, "altitude_ft": 11_500.0})
    assert (found["next_fix_nm"], found["next_fix_miss_ft"], found["required_rate_fpm"]) == (9.0, None, None)


def test_a_mass_is_held_against_its_limit_before_it_is_rounded() -> None:
    """41 330 kg less 371 burnt are 40 959: below 40 980, though shown as 41 000; above 40 950."""
    for limit, lands in ((40_980.0, True), (40_950.0, False)):
        limits = replace(TARN.aircraft.limits, landing_mass_kg=limit)
        brief = make_brief(replace(TARN, aircraft=replace(TARN.aircraft, limits=limits)))
        assert (brief.lands, values(brief)["landing_mass_kg"]) == (lands, 41_000)
        wanted = [] if lands else ["landing mass 40960 kg, above the limit of 40950 kg"]
        assert said(brief, "mass") == wanted


@pytest.mark.parametrize(("limit", "kt"), [(10.0, 10.4), (10.8, 11.0)])
def test_what_is_above_a_limit_reads_as_above_it(limit: float, kt: float) -> None:
    limits = replace(TARN.aircraft.limits, tailwind_kt=limit)
    arrival = replace(TARN, aircraft=replace(TARN.aircraft, limits=limits))
    brief = make_brief(weather(arrival, wind_from_deg=253.0, wind_kt=kt))
    assert said(brief, "wind") == [f"tailwind 11 kt, above the limit of {limit:g} kt"]
    assert not brief.lands


def test_a_tailwind_has_a_key_of_its_own() -> None:
    found = values(make_brief(weather(TARN, wind_from_deg=253.0, wind_kt=8.0)))
    assert found["tailwind_kt"] == pytest.approx(8)
    assert "headwind_kt" not in found


def test_a_gust_in_a_calm_may_come_from_anywhere() -> None:
    brief = make_brief(weather(TARN, wind_from_deg=None, wind_kt=0.0, gust_kt=15.0))
    assert said(brief, "wind") == ["tailwind 15 kt with the gust, above the limit of 10 kt"]
    assert brief.lands


def test_a_calm_is_no_wind_at_the_ground_whatever_blows_above() -> None:
    """Skarn Fell has 20 kt at 4000 ft; halfway up from 1120 ft to it a calm leaves half of that."""
    calm = air_of(weather(SKARN, wind_from_deg=None, wind_kt=0.0))
    assert calm.wind(1120) == pytest.approx((0, 0))
    assert calm.headwind_kt(2560, 170) == pytest.approx(10)
    variable = air_of(weather(SKARN, wind_from_deg=None, wind_variable=True, wind_kt=4.0))
    assert variable.headwind_kt(1120, 148 + 8) == pytest.approx(-4)


def test_gear_and_flap_of_one_step_are_both_told() -> None:
    steps = tuple(step for step in TARN.aircraft.steps if (step.flap_deg, step.gear) != (11, "down"))
    profile = make_brief(replace(TARN, aircraft=replace(TARN.aircraft, steps=steps))).profile
    assert profile is not None
    moved = [event.words for event in profile.events if event.kind == "configure"]
    assert moved == ["flap 3", "flap 11", "gear down", "flap 19", "flap 31"]


def test_a_hold_too_near_is_left_too_high() -> None:
    """Port Ennis from 9000 ft: the descent would begin farther out than MERLO at 26 NM."""
    assert not said(make_brief(PORT), "path")
    brief = make_brief(replace(PORT, hold=Hold(fix="MERLO", laps=2, speed_kt=210.0, altitude_ft=9000.0)))
    top, profile = values(brief)["top_of_descent_nm"], brief.profile
    assert isinstance(top, float) and top > 26 and profile is not None
    high = 9000 - profile.at(26).altitude_ft
    assert said(brief, "path") == [f"leaving the hold at MERLO the aeroplane is {high:.0f} ft above the path"]


def test_a_descent_slower_than_the_clean_aeroplane_bears_is_named() -> None:
    """Flap up has a minimum of 201 kt at 41 000 kg; the descent is flown at 195."""
    slow = replace(TARN.aircraft, descent=replace(TARN.aircraft.descent, speed_kt=195.0))
    assert said(make_brief(replace(TARN, aircraft=slow)), "flap_speed") == [
        "195 kt with flap 0 is below its minimum of 201 kt"
    ]


def test_total_temperature_is_read_between_the_points_of_the_path() -> None:
    """Where the path is at 10 C, and not the next point outward, up to a mile and 300 ft later."""
    found = values(make_brief(TARN))["cold_above_ft"]
    assert found == pytest.approx(7022, abs=5)


def test_a_setting_is_never_rounded_up() -> None:
    assert surroundings_of(weather(TARN, qnh_hpa=1009.7))["pressure_reported_hpa"] == 1009


def test_nothing_need_be_seen_before_a_decision_altitude() -> None:
    assert "visual_point_nm" in values(make_brief(TARN))
    assert "visual_point_nm" not in values(make_brief(PORT))
