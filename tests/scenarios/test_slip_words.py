"""The words for slips: the reference, the file's shape and the crew know the same ones, and each does what it says."""

import re
from pathlib import Path
from typing import get_args

import pytest

from flowdeck.model import events as ev
from flowdeck.model.scenario import SURROUNDINGS, SlipKind
from flowdeck.phasefile.scenarioshapes import (
    AerodromeShape,
    CauseShape,
    HappeningShape,
    PlaceShape,
    PlantedShape,
    RevisesShape,
    ScenarioShape,
    SlipWord,
    StartShape,
)
from flowdeck.trial.rehearse import compare
from tests.scenarios.flown import Flown, variant
from tests.support.daily import some

ROOT = Path(__file__).resolve().parents[2]
REFERENCE = (ROOT / "phases" / "SCENARIO.md").read_text(encoding="utf-8")
CLEAN = (ROOT / "scenarios" / "clean.yaml").read_text(encoding="utf-8")


def clean_with(slips: str, *, limit_s: int = 7200) -> Flown:
    """The clean scenario with two people and these slips."""
    text = CLEAN.replace("solo: true", "solo: false")
    assert text != CLEAN
    return variant("clean", f"{text}limit_s: {limit_s}\nslips:\n{slips}")


def test_the_reference_lists_every_slip_and_no_other() -> None:
    """A slip that the crew can make and nobody can look up would be found only by reading the source."""
    rows = re.findall(r"^\| `(\w+)` \|", REFERENCE, flags=re.MULTILINE)
    assert sorted(rows) == sorted(get_args(SlipKind)) == sorted(get_args(SlipWord))


def test_the_reference_names_every_key_of_the_file() -> None:
    """Every field of every part of a scenario, and everything that may surround a flight."""
    parts = (StartShape, AerodromeShape, PlaceShape, HappeningShape, RevisesShape, PlantedShape, CauseShape)
    shapes = (ScenarioShape, *parts)
    keys = {field.alias or name for shape in shapes for name, field in shape.model_fields.items()}
    missing = sorted(key for key in {*keys, *SURROUNDINGS} if not re.search(rf"\b{key}\b", REFERENCE))
    assert missing == []


def test_the_reference_begins_with_what_it_is_for() -> None:
    """Training and simulation only, before anything else is said."""
    assert REFERENCE.splitlines()[2].startswith("Training and simulation only.")


SLIPS = [
    "  - {slip: no_call, of: after-landing-list, causes: [{class: not_called, item: after-landing-list}]}",
    "  - {slip: linger, of: cabin-told, by_s: 60}",
    "  - {slip: hold, of: approach-list, lines: 3, by_s: 20}",
    "  - {slip: defer, of: trim-neutral, cue: on-stand}",
    "  - {slip: undo, of: cabin-told, by_s: 4}",
    "  - {slip: hasten, of: taxi-light-on, when: \"phase == 'landing' and on_ground\","
    " causes: [{class: early, item: taxi-light-on, seat: captain}]}",
]


@pytest.mark.parametrize(
    "slips", some(SLIPS, [SLIPS[0], SLIPS[2], SLIPS[5]]), ids=lambda text: text.split(",")[0].split()[-1]
)
def test_a_slip_causes_what_it_lists_and_nothing_else(slips: str) -> None:
    """One slip at a time in an otherwise clean flight that still comes to its end."""
    result = clean_with(slips)
    compared = compare(result.scenario, result.flight)
    assert (compared.missing, compared.extra) == ((), ())
    assert result.flight.session.ended == "secured"


def test_a_tick_that_was_taken_back_is_made_again() -> None:
    """`undo`: both events are in the journal, four seconds apart, and the item is done in the end."""
    result = clean_with("  - {slip: undo, of: cabin-told, by_s: 4}")
    ticks = [event.at for event in result.of(ev.ItemDone) if event.item == "cabin-told"]
    undone = [event.at for event in result.of(ev.Undone) if event.ref == "cabin-told"]
    assert len(ticks) == 2 and len(undone) == 1
    assert undone[0] - ticks[0] == 4000 and ticks[1] > undone[0]


def test_a_slip_with_a_condition_is_made_only_while_it_holds() -> None:
    """The call recurs at each level-off; only the one above 8000 ft is left out."""
    slips = (
        '  - {slip: omit, of: thousand-to-go, when: "altitude_ft > 8000",'
        " causes: [{class: call_missed, item: thousand-to-go}]}"
    )
    result = clean_with(slips)
    assert compare(result.scenario, result.flight).exact
    assert len([event for event in result.of(ev.ItemDone) if event.item == "thousand-to-go"]) >= 1


@pytest.mark.parametrize(("word", "when"), [("go_around", "height_aal_ft < 1400"), ("discontinue", "distance_nm < 9")])
def test_a_go_around_can_be_asked_for_at_any_moment(word: str, when: str) -> None:
    """`go_around` and `discontinue` leave the approach at once, and say which of the two it was."""
    result = clean_with(f'  - {{slip: {word}, of: flight, when: "{when} and altitude_ft > 600"}}', limit_s=1060)
    entered = [event.how for event in result.of(ev.PhaseEntered) if event.phase == "go_around"]
    assert entered == ["go_around" if word == "go_around" else "discontinued"]


def test_a_wrong_word_is_said_once_and_then_put_right() -> None:
    """`say`: the vague answer does not close the line; the second answer does."""
    slips = (
        "  - {slip: say, of: approach-minima, value: checked,"
        " causes: [{class: nonstandard_response, item: approach-minima}]}"
    )
    result = clean_with(slips)
    assert compare(result.scenario, result.flight).exact
    assert [e.closed for e in result.of(ev.LineAnswered) if e.line == "approach-minima"] == [True]
