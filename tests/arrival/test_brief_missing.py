"""What a pilot may still expect of the brief when a report lacks something, figure by figure.

What rests on the missing value is gone and said to be; whatever does not rest on it stands as it would have.
"""

from itertools import combinations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from flowdeck.arrival.brief import Brief, make_brief
from flowdeck.arrival.metar import decode
from flowdeck.arrival.plan import Arrival
from flowdeck.live.bundled import arrival_names, read_arrival

BUNDLED = {name: read_arrival(name) for name in arrival_names()}
TARN, PORT, SKARN = (BUNDLED[name] for name in ("tarn-holm", "port-ennis", "skarn-fell"))
WHOLE = {name: make_brief(arrival) for name, arrival in BUNDLED.items()}

FIELDS: dict[str, dict[str, None]] = {
    "wind": {"wind_from_deg": None, "wind_kt": None, "gust_kt": None},
    "visibility": {"visibility_m": None},
    "temperature": {"temperature_c": None, "dew_point_c": None},
    "pressure": {"qnh_hpa": None},
}
LACKING = [frozenset(names) for count in range(1, 5) for names in combinations(FIELDS, count)]
AIR = frozenset({"temperature", "pressure"})
PATH = AIR | {"wind"}
FLAPS = {flap.flap_deg for arrival in BUNDLED.values() for flap in arrival.aircraft.flaps}  # of every aeroplane
RESTS: dict[str, frozenset[str]] = {
    "qnh_hpa": frozenset({"pressure"}),
    "qfe_hpa": frozenset({"pressure"}),
    "pressure_altitude_ft": frozenset({"pressure"}),
    "temperature_c": frozenset({"temperature"}),
    "deviation_c": AIR,
    "density_altitude_ft": AIR,
    "visibility_m": frozenset({"visibility"}),
    "headwind_kt": frozenset({"wind"}),
    "crosswind_kt": frozenset({"wind"}),
    "additive_kt": frozenset({"wind"}),
    "lap_min": AIR,  # true airspeed in the turns; a hold is reckoned in still air
    "hold_kg": AIR,
    "missed_ft": frozenset({"temperature"}),  # the correction for cold
    "icing": PATH | {"visibility"},
    **dict.fromkeys(("cold_ft", "minimum_ft", "minimum_selector_ft", "minimum_nm", "visual_point_nm"), PATH),
    # The category may be a higher one by the approach speed, which has the wind and the landing mass in it.
    **dict.fromkeys(("category", "published_ft"), PATH),
    **dict.fromkeys(("landing_mass_kg", "burn_kg", "landing_fuel_kg", "leave_kg", "hold_left_min"), PATH),
    **dict.fromkeys(("laps_left", "to_landing_min", "top_of_descent_nm", "cold_above_ft"), PATH),
    **dict.fromkeys(("vref_kt", "approach_kt"), PATH),
    **dict.fromkeys((f"minimum_flap_{flap:g}_kt" for flap in FLAPS), PATH),
    **dict.fromkeys(("landing_distance_m", "landing_required_m", "landing_left_m", "autobrake"), PATH),
}
"""What each figure rests on; what is not named rests on no weather at all."""


def values(brief: Brief) -> dict[str, float | str]:
    return {figure.key: figure.value for section in brief.sections for figure in section.figures}


def without(arrival: Arrival, names: frozenset[str]) -> Arrival:
    gone = {field: None for name in names for field in FIELDS[name]}
    return replace(arrival, weather=replace(arrival.weather, **gone))


def section_of(brief: Brief, key: str) -> str:
    return next(section.title for section in brief.sections if key in [figure.key for figure in section.figures])


EVERY = pytest.mark.parametrize("lacking", LACKING, ids=lambda names: "+".join(sorted(names)))
EACH = pytest.mark.parametrize("name", sorted(BUNDLED))


@EACH
@EVERY
def test_no_figure_is_another_than_it_would_have_been(name: str, lacking: frozenset[str]) -> None:
    """A value is either what it is with the whole report, or absent. But for the words on ice, which may say less."""
    whole, brief = values(WHOLE[name]), values(make_brief(without(BUNDLED[name], lacking)))
    changed = {key for key, value in brief.items() if whole.get(key) != value}
    assert changed <= ({"icing"} if "visibility" in lacking else set())


@EACH
@EVERY
def test_what_rests_on_something_missing_is_not_given(name: str, lacking: frozenset[str]) -> None:
    """Not the ice on a path that is not known, nor a landing distance without wind."""
    brief = values(make_brief(without(BUNDLED[name], lacking)))
    less_said = {"icing"} if lacking == {"visibility"} else set()
    resting = {key for key, on in RESTS.items() if on & lacking}
    assert resting & set(brief) <= less_said


@EACH
@EVERY
def test_what_rests_on_nothing_missing_stands(name: str, lacking: frozenset[str]) -> None:
    whole, brief = values(WHOLE[name]), values(make_brief(without(BUNDLED[name], lacking)))
    standing = {key for key in whole if not RESTS.get(key, frozenset()) & lacking}
    assert standing <= set(brief)


@EACH
@EVERY
def test_each_part_that_lacks_something_says_so(name: str, lacking: frozenset[str]) -> None:
    """By the title under which its figures would have stood."""
    whole, brief = WHOLE[name], make_brief(without(BUNDLED[name], lacking))
    lost = set(values(whole)) - set(values(brief)) - {"laps_left"}  # see below
    titles = {section_of(whole, key) for key in lost}
    unsaid = {title for title in titles if not any(words.startswith(f"{title}: ") for words in brief.unknown)}
    assert unsaid == set()
    for missing in lacking:
        assert any(f"{missing} is not known" in words for words in brief.unknown)


@EACH
@EVERY
def test_the_ground_stands_whatever_the_weather(name: str, lacking: frozenset[str]) -> None:
    """Miles of the path and of the chart, and the rates at round speeds; what is watched is what is known."""
    whole, brief = WHOLE[name], make_brief(without(BUNDLED[name], lacking))
    paths = [[(m.distance_nm, m.altitude_ft, m.published_ft) for m in each.miles] for each in (whole, brief)]
    assert paths[0] == paths[1]
    rates = [{round(r.ground_kt): r.rate_fpm for r in each.rates} for each in (whole, brief)]
    for kt in (100, 120, 140, 160, 180):  # the planned speed stands in the place of a round one that it equals
        assert rates[1][kt] == pytest.approx(rates[0][kt], abs=3)
    assert {key for key, value in brief.planned.items() if whole.planned.get(key) != value} == set()
    assert brief.lands


@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    st.sampled_from(sorted(BUNDLED)),
    st.fixed_dictionaries(
        {
            "wind_from_deg": st.one_of(st.none(), st.floats(0, 360)),
            "wind_kt": st.one_of(st.none(), st.floats(0, 120)),
            "gust_kt": st.one_of(st.none(), st.floats(0, 160)),
            "wind_variable": st.booleans(),
            "visibility_m": st.one_of(st.none(), st.floats(0, 10_000)),
            "temperature_c": st.one_of(st.none(), st.floats(-60, 60)),
            "dew_point_c": st.one_of(st.none(), st.floats(-60, 60)),
            "qnh_hpa": st.one_of(st.none(), st.floats(850, 1085)),
        }
    ),
)
def test_any_weather_makes_a_brief(name: str, changes: dict[str, float | None]) -> None:
    """Whatever there is and is not: nothing is raised, and what is lacking is said."""
    arrival = BUNDLED[name]
    brief = make_brief(replace(arrival, weather=replace(arrival.weather, **changes)))
    for field, word in (("visibility_m", "visibility"), ("temperature_c", "temperature"), ("qnh_hpa", "pressure")):
        assert (changes[field] is None) is any(f"the {word} is not known" in words for words in brief.unknown)
    if changes["wind_kt"] is None:
        assert any("the wind is not known" in words for words in brief.unknown)
    assert ("top_of_descent_nm" in values(brief)) is bool(brief.fixes)


def test_a_calm_has_no_direction_and_lacks_nothing() -> None:
    brief = make_brief(replace(TARN, weather=decode("METAR XQTH 041820Z 00000KT 6000 -RA BKN015 13/11 Q1009")))
    assert brief.unknown == ()
    assert (values(brief)["headwind_kt"], values(brief)["crosswind_kt"]) == (0, 0)


def test_a_speed_without_a_direction_is_no_wind() -> None:
    brief = make_brief(replace(TARN, weather=replace(TARN.weather, wind_from_deg=None)))
    assert any("wind direction is not known" in words for words in brief.unknown)
    assert "headwind_kt" not in values(brief)


# ---- what it comes to


def test_the_minimum_does_not_fall_when_the_wind_is_not_known() -> None:
    """Port Ennis is category D by its 148 kt. With 336 for D, a brief without wind does not give the 236 of C."""
    dear = replace(PORT, approach=replace(PORT.approach, minima={"C": 236.0, "D": 336.0}))
    assert values(make_brief(dear))["minimum_ft"] == 336
    found = values(make_brief(without(dear, frozenset({"wind"}))))
    assert found.get("minimum_ft", 336) >= 336


def test_the_missed_approach_altitude_is_not_given_without_a_temperature() -> None:
    """Skarn Fell: 6200 with its -25 C; the published 5500 is no altitude to set when nobody knows how cold it is."""
    brief = make_brief(without(SKARN, frozenset({"temperature"})))
    assert values(brief).get("missed_ft", 6200) == 6200
    assert brief.planned.get("planned_missed_ft", 6200) == 6200
    assert any(words.startswith("Missed approach: ") for words in brief.unknown)


def test_the_way_of_the_missed_approach_is_always_there() -> None:
    assert values(make_brief(without(SKARN, frozenset({"temperature"}))))["missed"] == SKARN.approach.missed


def test_miles_without_a_temperature_are_not_given_as_flown() -> None:
    """Skarn Fell at 7 NM: 3533 on the path, flown at 3903 in its cold; without a temperature not at 3533."""
    [seven] = [m for m in make_brief(without(SKARN, frozenset({"temperature"}))).miles if m.distance_nm == 7]
    assert seven.altitude_ft == pytest.approx(3533, abs=1)
    assert seven.flown_ft is None


@pytest.mark.parametrize("name", sorted(PATH))
def test_too_little_to_see_is_too_little_whatever_is_missing(name: str) -> None:
    """2000 m where category C needs 2800. C at the least by its mass; the wind could only make it D, with 3200."""
    foggy = replace(SKARN, weather=replace(SKARN.weather, visibility_m=2000.0))
    assert not make_brief(foggy).lands
    assert not make_brief(without(foggy, frozenset({name}))).lands


@pytest.mark.parametrize("name", sorted(AIR))
def test_a_hold_flown_too_fast_is_named_without_the_air_too(name: str) -> None:
    """235 kt, above the 230 up to 14 000 ft. Source: ICAO Doc 8168, one edition, reproduced."""
    assert PORT.hold is not None
    fast = replace(PORT, hold=replace(PORT.hold, speed_kt=235.0))
    assert "speed" in {c.kind for c in make_brief(fast).cautions}
    lacking = make_brief(without(fast, frozenset({name})))
    assert any(words.startswith("Holding") for words in lacking.unknown)
    assert "speed" in {c.kind for c in lacking.cautions}


def test_laps_left_are_said_to_be_unknown_without_wind() -> None:
    brief = make_brief(without(PORT, frozenset({"wind"})))
    assert "laps_left" not in values(brief)
    assert any(words.startswith("Holding at MERLO: ") for words in brief.unknown)


@pytest.mark.parametrize(
    ("key", "name"),
    [
        ("reserve_kg", "wind"),  # 1100 kg and half an hour: of the file alone
        ("landing_available_m", "wind"),  # published
        ("additive_kt", "temperature"),  # of the wind alone
        ("hold_kg", "wind"),  # a hold is reckoned in still air
    ],
)
def test_a_figure_stands_that_nothing_missing_touches(key: str, name: str) -> None:
    assert values(make_brief(without(PORT, frozenset({name})))).get(key) == values(WHOLE["port-ennis"])[key]


def test_a_report_colder_than_the_correction_knows() -> None:
    report = decode("METAR XQSK 120650Z 13007KT 4500 -SN OVC022 M61/M65 Q1031")
    brief = make_brief(replace(SKARN, weather=report))
    assert "minimum_ft" not in values(brief)


def test_a_final_fix_high_above_a_cold_aerodrome() -> None:
    """6200 ft over GRIMO are 5080 above Skarn Fell, beyond the 5000 to which the correction goes."""
    fixes = tuple(replace(fix, at_least_ft=6200.0) if fix.name == "GRIMO" else fix for fix in SKARN.approach.fixes)
    brief = make_brief(replace(SKARN, approach=replace(SKARN.approach, fixes=fixes)))
    assert "planned_fix_ft" not in brief.planned
