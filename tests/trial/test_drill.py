"""A drill made of what slips most: a sound scenario, flown to its end, with something between at those moments."""

from functools import cache
from pathlib import Path

import pytest

from flowdeck.debrief.study import study
from flowdeck.debrief.summary import summary_of
from flowdeck.debrief.trends import ItemTrend, Share, trends_of
from flowdeck.live.bundled import find_scenario, read_deck, read_scenario
from flowdeck.model import events as ev
from flowdeck.model.deviation import Severity, Slip, severity
from flowdeck.trial.drill import MOST, Undrillable, drill, drilled
from tests.scenarios.flown import flown, fly
from tests.support.daily import some

TWINJET = read_deck("twinjet")[0]


@cache
def slipped() -> tuple[ItemTrend, ...]:
    """What slipped in the flight of that name."""
    slips = flown("slips")
    return trends_of([summary_of(study(slips.deck, slips.scenario, slips.events), "2026-01-05T12:30:00")]).items


def base(name: str) -> str:
    return find_scenario(name).read_text(encoding="utf-8")


def trend(item: str, slip: Slip, n: int = 1) -> ItemTrend:
    return ItemTrend(item=item, title=item, slip=slip, whole=Share(n, 9), last="")


@pytest.mark.parametrize("name", some(["clean", "cold", "icing"], ["icing"]))
def test_a_drill_is_a_scenario_that_is_flown_to_its_end(name: str, tmp_path: Path) -> None:
    """On any bundled scenario; each thing that comes between takes place, in the phase of what was missed."""
    path = tmp_path / "drill.yaml"
    path.write_text(drill(TWINJET, base(name), slipped()), encoding="utf-8")
    deck, scenario, notes = read_scenario(str(path))
    assert notes == () and scenario.id == "drill" and scenario.title.startswith("Drill. ")
    done = fly(deck, scenario)
    assert done.flight.session.ended == scenario.ends
    played = {event.happening for event in done.of(ev.ScriptMoved) if event.played and "drill" in event.happening}
    chosen = drilled(TWINJET, slipped())
    assert 3 <= len(played) <= len(chosen) == MOST
    assert len(done.of(ev.Interrupted)) >= len(played)


def test_more_than_advice_comes_first_and_one_for_each_moment() -> None:
    chosen = drilled(TWINJET, slipped())
    assert all(severity(each.slip) is not Severity.ADVICE for each in chosen)
    assert len({each.item for each in chosen}) == len(chosen)
    twice = drilled(TWINJET, [trend("gear-down", Slip.LATE, 3), trend("gear-down", Slip.OMITTED, 1)])
    assert [(each.item, each.slip) for each in twice] == [("gear-down", Slip.LATE)]


def test_each_says_why_it_is_there() -> None:
    text = drill(TWINJET, base("clean"), [trend("gear-down", Slip.LATE, 4)])
    assert "  # gear-down: late 4 of 9\n" in text


@pytest.mark.parametrize(
    "items", [[], [trend("nothing-of-this-deck", Slip.LATE)], [trend("stable-1000", Slip.GATE_FAILED)]]
)
def test_of_nothing_no_drill_is_made(items: list[ItemTrend]) -> None:
    with pytest.raises(Undrillable, match="nothing has slipped that this deck knows"):
        drill(TWINJET, base("clean"), items)


def test_a_scenario_without_happenings_cannot_be_built_on() -> None:
    with pytest.raises(Undrillable, match="has no happenings"):
        drill(TWINJET, "scenario: x\n", [trend("gear-down", Slip.LATE)])


def test_a_hostile_title_becomes_no_line_of_the_file(tmp_path: Path) -> None:
    bad = ItemTrend(item="gear-down", title="x\nends: ready\n\x1b", slip=Slip.LATE, whole=Share(1, 1), last="")
    path = tmp_path / "drill.yaml"
    path.write_text(drill(TWINJET, base("clean"), [bad]), encoding="utf-8")
    _, scenario, _ = read_scenario(str(path))
    assert scenario.ends == "secured"
