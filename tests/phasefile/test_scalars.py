"""What is written is what is read: words stay words, and only YAML 1.2's core numbers and booleans are such."""

import pytest

from flowdeck.model.deck import Deck, Item
from flowdeck.model.diagnostic import Rejected
from flowdeck.phasefile.loaddeck import load_deck
from tests.support.small import APPROACH, FILES, small_deck, small_scenario

WORDS = [
    "NO",
    "ON",
    "off",
    "y",
    "07",
    "12:30",
    "2026-01-05",
    "1e3",
    "0x10",
    "0o17",
    "1_000",
    ".inf",
    ".nan",
    "~",
    "null",
    "<<",
    "=",
]

LINE = 18
"""Where the further keys of `item` begin."""


def item(extra: str, to: str = "GIVEN") -> Item:
    """The first item of the small deck with another state and further keys."""
    return deck(extra, to).items["brief"]


def deck(extra: str, to: str = "GIVEN") -> Deck:
    first = "      - {item: brief, do: Briefing, to: GIVEN, by: both, why: Both know the plan.}\n"
    assert first in APPROACH
    rows = (
        f"      - item: brief\n        do: Briefing\n        to: {to}\n        by: both\n        why: A plan.\n{extra}"
    )
    return small_deck(approach=APPROACH.replace(first, rows))


def refused(extra: str) -> str:
    with pytest.raises(Rejected) as caught:
        item(f"        {extra}\n")
    [finding] = caught.value.findings
    assert finding.place.line == LINE
    return finding.message


@pytest.mark.parametrize("word", WORDS)
@pytest.mark.parametrize("quote", ["", "'", '"'])
def test_text_stays_as_written(word: str, quote: str) -> None:
    assert item("", to=f"{quote}{word}{quote}").to == word


def test_text_of_several_lines_is_one_line() -> None:
    assert item("", to=">-\n          ONE\n          TWO").to == "ONE TWO"
    assert item("", to="|\n          ONE\n          TWO\n").to == "ONE TWO"


@pytest.mark.parametrize("word", WORDS)
def test_text_of_the_deck_stays_as_written(word: str) -> None:
    files = {**FILES, "deck.yaml": FILES["deck.yaml"].replace('version: "1"', f"version: {word}")}
    read, _ = load_deck("small", {name: text.encode() for name, text in files.items()})
    assert read.identity.version == word


@pytest.mark.parametrize(
    ("written", "number"),
    [("7", 7), ("07", 7), ("+7", 7), ("1e3", 1000), ("1.5E2", 150), (".5", 0.5), ("5.", 5), ("'30'", 30), ("0", 0)],
)
def test_numbers(written: str, number: float) -> None:
    late = item(f"        late: {{after_s: {written}}}\n").late
    assert late is not None and late.after_s == number


@pytest.mark.parametrize(
    "written", ["0x10", "0o17", "1_000", "12:30", "~", "NO", "true", "٣", "1e", "1,5", "'5 s'", "2026-01-05"]
)
def test_what_is_no_number(written: str) -> None:
    bare = written.strip("'")
    assert refused(f"late: {{after_s: '{bare}'}}") == f"after_s: expected a number, found '{bare}'"
    if "," not in written and " " not in written:
        assert refused(f"late: {{after_s: {written}}}") == f"after_s: expected a number, found '{bare}'"


@pytest.mark.parametrize("written", [".inf", "-.inf", ".nan", "inf", "nan", "1e999"])
def test_numbers_that_are_not_finite(written: str) -> None:
    assert refused(f"late: {{after_s: {written}}}").startswith("after_s: ")


def test_booleans() -> None:
    assert item("        point: true\n").point is True
    assert item("        point: false\n").point is False


@pytest.mark.parametrize("written", ["True", "TRUE", "yes", "Yes", "NO", "on", "off", "1", "0", "y", "~"])
def test_what_is_no_boolean(written: str) -> None:
    assert refused(f"point: {written}") == f"point: expected true or false, found '{written}'"


def moves(text: str) -> dict[str, object]:
    return {move.signal: move.to for move in item(f"        moves: {text}\n").moves}


def test_values_of_any_kind() -> None:
    """Unquoted: a number, true or false where it is one; otherwise, and in quotes, a word."""
    assert moves("{engine_anti_ice: on, gear: 'down', flap_deg: 031, nav_left_ident: true}") == {
        "engine_anti_ice": "on",
        "gear": "down",
        "flap_deg": 31.0,
        "nav_left_ident": True,
    }
    assert refused("moves: {nav_left_ident: 'true'}") == "'nav_left_ident' cannot be 'true'; expected true or false"
    assert refused("moves: {flap_deg: '31'}") == "'flap_deg' goes to a number; write 31 without quotes"
    assert refused("moves: {autopilot: true}") == "'autopilot' cannot be true; expected off or on"


def test_a_scenario_reads_the_same_way() -> None:
    text = """
scenario: words
title: 12:30
about: NO
deck: small
seed: 07
solo: false
start: {distance_nm: 1e1, altitude_ft: 3000, ias_kt: 200}
aerodrome: {name: 2026-01-05, elevation_ft: 430, runway_deg: 07}
surroundings: {precipitation: none, ground_power: true}
ends: parked
"""
    scenario = small_scenario(small_deck(), text)
    assert (scenario.title, scenario.about, scenario.place.name) == ("12:30", "NO", "2026-01-05")
    assert (scenario.seed, scenario.solo, scenario.start.distance_nm, scenario.place.runway_deg) == (7, False, 10, 7)
    assert scenario.surroundings == {"precipitation": "none", "ground_power": True}
