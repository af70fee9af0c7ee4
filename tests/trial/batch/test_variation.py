"""How the arrivals of a trial differ: drawn from seed and number alone, and told in what a scenario file can say."""

from collections import Counter
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flowdeck.live.bundled import read_scenario, scenario_text
from flowdeck.model.chance import between, draw, one_of
from flowdeck.model.deck import Deck
from flowdeck.model.scenario import Scenario
from flowdeck.model.seats import Seat
from flowdeck.phasefile.loadscenario import load_scenario
from flowdeck.trial.batch.script import scenario_text as written
from flowdeck.trial.batch.script import shortest
from flowdeck.trial.batch.variation import Break, Variation, applied, varied


@cache
def bundled(name: str = "clean") -> tuple[Deck, Scenario]:
    deck, scenario, _ = read_scenario(name)
    return deck, scenario


seeds = st.integers(min_value=-(2**40), max_value=2**40)
runs = st.integers(min_value=0, max_value=10_000)


@given(seeds, st.text(max_size=12), runs)
def test_a_draw_hangs_on_its_arguments_alone(seed: int, key: str, number: int) -> None:
    first = draw(seed, key, number)
    draw(seed + 1, key, number)
    assert 0 <= first < 1 and draw(seed, key, number) == first


def test_draws_are_evenly_spread() -> None:
    """Ten thousand draws in ten parts: none is off by more than five standard deviations (sqrt(900) = 30)."""
    parts = Counter(int(draw(1, "spread", n) * 10) for n in range(10_000))
    assert set(parts) == set(range(10)) and all(abs(count - 1000) < 150 for count in parts.values())
    assert all(2 <= between(2, 3, 1, "between", n) < 3 for n in range(100))
    assert {one_of("abc", 1, "one", n) for n in range(50)} == set("abc")


@given(seeds, runs)
def test_a_variation_can_be_flown(seed: int, run: int) -> None:
    """Within what the aeroplane and a scenario's file take; drawn again it is the same."""
    _, scenario = bundled()
    v = varied(scenario, seed, run)
    assert v == varied(scenario, seed, run)
    assert set(v.pace) == set(Seat) and all(0.7 <= pace <= 1.8 for pace in v.pace.values())
    assert v.start_nm is not None and 0.89 <= v.start_nm / scenario.start.distance_nm <= 1.31
    assert set(v.facts) == {"last_flight", "runway_contaminated"}
    assert v.surroundings["cloud_top_ft"] >= v.surroundings["cloud_base_ft"]
    assert set(v.late) <= {each.id for each in scenario.happenings} and len(v.breaks) <= 3


@settings(max_examples=40)
@given(runs)
def test_the_file_of_a_variation_is_the_flight(run: int) -> None:
    """Written out and loaded again it is the same scenario: conditions, happenings, weather, pace, slips."""
    deck, scenario = bundled()
    variation = varied(scenario, 1, run)
    flown = applied(deck, scenario, variation)
    text = written(scenario_text("clean"), scenario, variation, "again", "A run.")
    assert scenario.arrival is not None
    loaded, notes = load_scenario("again.yaml", text.encode(), deck, {"tarn-holm": scenario.arrival})
    assert notes == ()
    for field in ("flying", "pace", "facts", "surroundings", "start", "place", "plan", "signals", "ends", "limit_s"):
        assert getattr(loaded, field) == getattr(flown, field), field
    assert _said(loaded) == _said(flown)


def _said(scenario: Scenario) -> list[tuple[object, ...]]:
    """Happenings and slips, their conditions by text."""
    texts = [condition.text for condition in scenario.conditions]
    found: list[tuple[object, ...]] = [
        (h.id, texts[h.when], h.after_s, h.words, h.sets, h.tells, h.interrupts_s, h.again) for h in scenario.happenings
    ]
    return [*found, *((p.kind, p.ref, texts[p.when or 0]) for p in scenario.planted)]


def test_words_that_look_like_numbers_stay_words() -> None:
    """`on`, `07` and `12:30` in quotes, numbers without."""
    deck, scenario = bundled()
    base = scenario_text("clean").replace(b"Descend altitude niner thousand feet when ready.", b"07")
    text = written(base, scenario, Variation(facts={"last_flight": False}), "again", "on")
    assert scenario.arrival is not None
    loaded, _ = load_scenario("again.yaml", text.encode(), deck, {"tarn-holm": scenario.arrival})
    assert loaded.happenings[0].words == "07" and loaded.about == "on" and loaded.facts == {"last_flight": False}


full = Variation(
    flying=Seat.FIRST_OFFICER,
    pace={Seat.CAPTAIN: 1.5, Seat.FIRST_OFFICER: 1.0},
    facts={"last_flight": True},
    surroundings={"headwind_kt": 5.0, "surface_temperature_c": -20.0, "precipitation": "snow"},
    start_nm=90.0,
    late={"cabin": 9.0, "doors": 30.0},
    breaks=(Break(when="distance_nm <= 5", seconds=9.0), Break(when="distance_nm <= 4", seconds=9.0)),
    go_around_ft=300.0,
)


@pytest.mark.parametrize(
    ("still", "left"),
    [
        (lambda v: True, Variation()),
        (
            lambda v: v.surroundings.get("surface_temperature_c") == -20.0,
            Variation(surroundings={"surface_temperature_c": -20.0}),
        ),
        (lambda v: len(v.breaks) >= 1, Variation(breaks=(Break(when="distance_nm <= 4", seconds=9.0),))),
        (
            lambda v: "doors" in v.late and v.go_around_ft is not None,
            Variation(late={"doors": 30.0}, go_around_ft=300.0),
        ),
    ],
)
def test_the_shortest_script_keeps_only_what_it_takes(still: object, left: Variation) -> None:
    assert callable(still)
    assert shortest(full, still) == left
