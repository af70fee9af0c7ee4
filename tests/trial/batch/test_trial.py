"""Whole trials: the same on any number of workers, what they find in decks with something wrong, and the command."""

import json
from functools import cache
from pathlib import Path

import pytest
from msgspec.structs import replace

from flowdeck.cli.main import main
from flowdeck.debrief.counts import Minute
from flowdeck.live.bundled import read_scenario
from flowdeck.live.scaffolding import new_deck
from flowdeck.live.workers import fly_runs
from flowdeck.model.deck import Deck
from flowdeck.model.scenario import Scenario
from flowdeck.trial.batch.data import trial_data
from flowdeck.trial.batch.findings import FindingKind, findings_of
from flowdeck.trial.batch.outcome import Outcome, Owed
from flowdeck.trial.batch.page import trial_page
from flowdeck.trial.batch.stop import QUIET_RUNS, Stop
from flowdeck.trial.batch.text import trial_text
from flowdeck.trial.batch.total import Gate, Times, total_of
from tests.support.small import small_deck

PROJECT = Path(__file__).resolve().parents[3]


@cache
def bundled() -> tuple[Deck, Scenario]:
    deck, scenario, _ = read_scenario("clean")
    return deck, scenario


RUNS = 3
"""Enough for two workers to come back in another order; each takes the better part of a second."""


@cache
def alone() -> tuple[Outcome, ...]:
    return tuple(fly_runs(*bundled(), seed=4, runs=RUNS, workers=1))


@pytest.mark.soak
def test_the_same_on_any_number_of_workers() -> None:
    """Outcome by outcome, whoever flew it."""
    assert tuple(fly_runs(*bundled(), seed=4, runs=RUNS, workers=2)) == alone()
    assert [outcome.run for outcome in alone()] == [0, 1, 2]
    assert alone() != tuple(fly_runs(*bundled(), seed=5, runs=1, workers=1)) + alone()[1:]


def test_the_bundled_deck_leads_everywhere() -> None:
    """No dead end and nothing late for two pilots who forget nothing, whatever the weather and their pace."""
    deck, scenario = bundled()
    total = total_of(deck, scenario.title, 4, alone())
    assert sum(total.ends.values()) == RUNS and not total.stuck
    assert not [f for f in findings_of(total) if f.kind in (FindingKind.DEAD_END, FindingKind.ALWAYS_LATE)]
    assert total.both_seen > 250 and total.times["gear-down"].owed >= RUNS
    assert total.gates["stable-1000"].met >= RUNS


def cold_deck(folder: Path) -> Path:
    """A deck to begin with (its flights are short) in which nobody comes off the runway on a cold day."""
    new_deck(folder, folder.name)
    landing = folder / "landing.yaml"
    text, leaves = landing.read_text(encoding="utf-8"), 'when: "runway_vacated"}'
    assert text.count(leaves) == 1
    landing.write_text(text.replace(leaves, 'when: "runway_vacated and sat_c > 7"}'), encoding="utf-8")
    return folder / "scenarios/clean.yaml"


def test_a_dead_end_and_the_shortest_script_of_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Found, stopped at, written out with nothing that it does not take; the script flown again comes to no end."""
    scenario = cold_deck(tmp_path / "hill-flyer")
    command = ["trial", str(tmp_path / "hill-flyer"), "--scenario", str(scenario), "--runs", "20", "--seed", "3"]
    command += ["--workers", "1", "--until", "dead-end", "--save", str(scenario.parent), "--json"]
    assert main(command) == 1
    report = json.loads(capsys.readouterr().out)
    [dead_end] = report["dead_ends"]
    assert dead_end["phase"] == "landing" and "sat_c > 7" in dead_end["waits_for"]
    assert 1 < report["runs"] == dead_end["run"] + 1 < 20, "some came to their end, and none was flown after it"
    [script] = set(scenario.parent.iterdir()) - {scenario}
    text = script.read_text(encoding="utf-8")
    assert script.name == "dead-end-landing.yaml" and "surface_temperature_c" in text
    assert not any(word in text for word in ("pace:", "break-", "flying: first_officer", "go_around"))
    assert main(["rehearse", str(script)]) == 1
    assert "did not reach its end" in capsys.readouterr().err


def made(run: int, **fields: object) -> Outcome:
    return replace(Outcome(run=run, end="parked", phases=("approach", "landing", "ground")), **fields)


def test_what_is_found_and_when_it_may_be_said() -> None:
    """Always and never are said after ten times; a thing that never came is said of its phase alone where that never
    came."""
    deck = small_deck()
    late = Owed(prompted=True, overdue=True, took_s=20.0, there_s=10.0)
    fine = Owed(prompted=False, overdue=False, took_s=5.0, there_s=30.0)
    outcomes = [
        made(
            n,
            owed={"gear-down": (late,), "speed": (fine,), "landing-list": (late if n else fine,)},
            gates={"stable": (1, 1)},
        )
        for n in range(10)
    ]
    found = {(f.kind, f.ref) for f in findings_of(total_of(deck, "x", 1, outcomes))}
    assert (FindingKind.ALWAYS_LATE, "gear-down") in found and (FindingKind.ALWAYS_LATE, "landing-list") not in found
    assert (FindingKind.TIGHT, "landing-list") in found and (FindingKind.NEVER_DUE, "speed") in found
    assert (FindingKind.ALWAYS_FAILED, "stable") in found and (FindingKind.NEVER_MET, "power") in found
    assert (FindingKind.NEVER_OPENED, "brake") in found
    assert (FindingKind.NEVER_ENTERED, "go_around") in found and (FindingKind.NEVER_OPENED, "thrust") not in found
    fewer = {f.kind for f in findings_of(total_of(deck, "x", 1, outcomes[:9]))}
    assert not fewer & {FindingKind.ALWAYS_LATE, FindingKind.ALWAYS_FAILED, FindingKind.NEVER_DUE}


def test_times_and_minutes_by_hand() -> None:
    """The middle and nine tenths of 1 to 10 s are 6 and 10; a minute is averaged over the flights that lasted it."""
    deck = small_deck()
    outcomes = [
        made(
            n,
            owed={"speed": (Owed(False, n == 9, float(n + 1), 10.0 * (n + 1)),)},
            minutes=(Minute(0, 2, 4),) if n else (Minute(0, 4, 4), Minute(1, 1, 7)),
        )
        for n in range(10)
    ]
    total = total_of(deck, "x", 1, outcomes)
    assert total.times["speed"] == Times(10, 10, 0, 1, 6.0, 10.0, 60.0, 20.0)
    first, second = total.busy
    assert (first.runs, first.captain, first.captain_most, first.first_officer) == (10, 2.2, 4, 4.0)
    assert (second.runs, second.captain, second.first_officer_most) == (1, 1.0, 7)
    assert total.gates["power"] == Gate(0, 0)


def test_conditions_seen_both_ways() -> None:
    deck = small_deck()
    rows = len(deck.conditions)
    every = (1 << rows) - 1
    total = total_of(
        deck, "x", 1, [made(0, seen_true=every & ~1, seen_false=every & ~2), made(1, seen_true=0, seen_false=0)]
    )
    assert total.never_true == (0,) and total.never_false == (1,) and total.both_seen == rows - 2


def test_stopping_early() -> None:
    """At the first dead end; or after fifty flights that show nothing new, however new the one before was."""
    stop = Stop("dead-end")
    assert [stop.after(made(0)), stop.after(made(1, end="", stuck="ground"))] == [False, True]
    stop = Stop("nothing-new")
    seen = [stop.after(made(n, seen_true=1 << min(n, 3))) for n in range(QUIET_RUNS + 4)]
    assert seen == [False] * (QUIET_RUNS + 3) + [True]
    assert not any(Stop("end").after(made(n, end="")) for n in range(3))


@pytest.mark.soak
def test_what_hangs_on_the_machine_stands_apart(capsys: pytest.CaptureFixture[str]) -> None:
    """The same seed gives the same JSON but for `timing`; the page and the text say the same."""
    reports = []
    for workers in ("1", "2"):
        assert main(["trial", "twinjet", "--runs", "2", "--seed", "4", "--workers", workers, "--json"]) == 0
        reports.append(json.loads(capsys.readouterr().out))
    timings = [report.pop("timing") for report in reports]
    assert reports[0] == reports[1] and [timing["workers"] for timing in timings] == [1, 2]
    assert set(timings[0]) == {"elapsed_s", "runs_per_s", "workers"}
    deck, scenario = bundled()
    total = total_of(deck, scenario.title, 4, alone()[:2])
    data = json.loads(json.dumps(trial_data(total, {})))
    assert data.pop("timing") == {} and data == reports[0]
    text, page = trial_text(total, 80), trial_page(total)
    assert "Training and simulation only" in text and "Training and simulation only" in page
    assert max(map(len, text.splitlines()[3:])) <= 100
    for name in ("selector-corrected", "2 arrivals of"):
        assert name in text and name in page


@pytest.mark.parametrize("given", ["0", "-1", "x", "1e3", "100001"])
def test_a_number_of_runs_that_is_none(given: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as stopped:
        main(["trial", "twinjet", "--runs", given])
    assert stopped.value.code == 2 and "expected" in capsys.readouterr().err


def test_a_deck_without_a_scenario(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for path in (PROJECT / "phases/twinjet").glob("*.yaml"):
        text = path.read_text(encoding="utf-8").replace("deck: twinjet", "deck: unflown")
        (tmp_path / path.name).write_text(text, encoding="utf-8")
    assert main(["trial", str(tmp_path)]) == 2
    assert "no scenario for the deck 'unflown'" in capsys.readouterr().err
