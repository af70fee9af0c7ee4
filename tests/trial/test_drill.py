"""A drill made of what slips most: a sound scenario, flown to its end, with something between at those moments."""

from pathlib import Path

import pytest

from flowdeck.debrief.study import study
from flowdeck.debrief.summary import summary_of
from flowdeck.debrief.trends import ItemTrend, Share, trends_of
from flowdeck.live.bundled import find_scenario, read_scenario
from flowdeck.model import events as ev
from flowdeck.model.deviation import Severity, Slip, severity
from flowdeck.trial.drill import MOST, Undrillable, drill, drilled
from tests.scenarios.flown import flown, fly
from tests.support.daily import some

SLIPS = flown("slips")
ITEMS = trends_of([summary_of(study(SLIPS.deck, SLIPS.scenario, SLIPS.events), "2026-01-05T12:30:00")]).items


def base(name: str) -> str:
    return find_scenario(name).read_text(encoding="utf-8")


def trend(item: str, slip: Slip, n: int = 1) -> ItemTrend:
    return ItemTrend(item=item, title=item, slip=slip, whole=Share(n, 9), last="")


@pytest.mark.parametrize("name", some(["clean", "cold", "icing"], ["icing"]))
def test_a_drill_is_a_scenario_that_is_flown_to_its_end(name: str, tmp_path: Path) -> None:
    """On any bundled scenario; each thing that comes between takes place, in the phase of what was missed."""
    path = tmp_path / "drill.yaml"
    path.write_text(drill(SLIPS.deck, base(name), ITEMS), encoding="utf-8")
    deck, scenario, notes = read_scenario(str(path))
    assert notes == () and scenario.id == "drill" and scenario.title.startswith("Drill. ")
    done = fly(deck, scenario)
    assert done.flight.session.ended == scenario.ends
    played = {event.happening for event in done.of(ev.ScriptMoved) if event.played and "drill" in event.happening}
    chosen = drilled(SLIPS.deck, ITEMS)
    assert 3 <= len(played) <= len(chosen) == MOST
    assert len(done.of(ev.Interrupted)) >= len(played)


def test_more_than_advice_comes_first_and_one_for_each_moment() -> None:
    chosen = drilled(SLIPS.deck, ITEMS)
    assert all(severity(each.slip) is not Severity.ADVICE for each in chosen)
    assert len({each.item for each in chosen}) == len(chosen)
    twice = drilled(SLIPS.deck, [trend("gear-down", Slip.LATE, 3), trend("gear-down", Slip.OMITTED, 1)])
    assert [(each.item, each.slip) for each in twice] == [("gear-down", Slip.LATE)]


def test_each_says_why_it_is_there() -> None:
    text = drill(SLIPS.deck, base("clean"), [trend("gear-down", Slip.LATE, 4)])
    assert "  # gear-down: late 4 of 9\n" in text


@pytest.mark.parametrize(
    "items", [[], [trend("nothing-of-this-deck", Slip.LATE)], [trend("stable-1000", Slip.GATE_FAILED)]]
)
def test_of_nothing_no_drill_is_made(items: list[ItemTrend]) -> None:
    with pytest.raises(Undrillable, match="nothing has slipped that this deck knows"):
        drill(SLIPS.deck, base("clean"), items)


def test_a_scenario_without_happenings_cannot_be_built_on() -> None:
    with pytest.raises(Undrillable, match="has no happenings"):
        drill(SLIPS.deck, "scenario: x\n", [trend("gear-down", Slip.LATE)])


def test_a_hostile_title_becomes_no_line_of_the_file(tmp_path: Path) -> None:
    bad = ItemTrend(item="gear-down", title="x\nends: ready\n\x1b", slip=Slip.LATE, whole=Share(1, 1), last="")
    path = tmp_path / "drill.yaml"
    path.write_text(drill(SLIPS.deck, base("clean"), [bad]), encoding="utf-8")
    _, scenario, _ = read_scenario(str(path))
    assert scenario.ends == "secured"
