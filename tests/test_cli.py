"""The commands: output, keys of the JSON, exit status, words for what cannot be used."""

import io
import json
import re
from pathlib import Path

import pytest

from flowdeck import DISCLAIMER
from flowdeck.cli.main import COMMANDS, main


def test_rehearse_json_has_its_keys(capsys: pytest.CaptureFixture[str]) -> None:
    """Deviations, phases, items, events and timing, with stable keys and units in names; a caution makes it exit 1."""
    assert main(["rehearse", "slips", "--json"]) == 1
    report = json.loads(capsys.readouterr().out)
    assert {"deviations", "phases", "items", "events", "timing"} <= set(report)
    wanted = {"class", "severity", "seat", "item", "at_ms", "expected", "actual", "trapped_by", "trapped_at_ms"}
    assert wanted <= set(report["deviations"][0])
    assert set(report["phases"][0]) == {"phase", "entered_ms"}
    assert report["items"]["parking-brake"].startswith("done")
    assert report["events"]["PhaseEntered"] >= 4
    assert report["timing"]["flown_s"] > 1000


def test_rehearse_in_words(capsys: pytest.CaptureFixture[str]) -> None:
    """Deck, version, status and hash, the notice, the phases, and nothing that slipped: exit 0."""
    assert main(["rehearse", "clean"]) == 0
    out = capsys.readouterr().out
    assert DISCLAIMER in out and "draft" in out and "version 1.0" in out
    assert "Securing" in out and "; 0 deviations" in out
    [(done, owed)] = re.findall(r"(\d+) of (\d+) things", out)
    assert done == owed and int(done) > 150


def test_what_a_new_flight_clears_is_counted_as_it_was(capsys: pytest.CaptureFixture[str]) -> None:
    """The turnaround voids all ticks for the next leg; the report of this one keeps them."""
    assert main(["rehearse", "turnaround", "--json"]) == 0
    items = json.loads(capsys.readouterr().out)["items"]
    assert items["parking-brake"].startswith("done") and items["gear-down"].startswith("done")


@pytest.mark.parametrize("pace", ["0", "99", "fast"])
def test_a_pace_out_of_range_is_refused(pace: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as left:
        main(["fly", "--pace", pace])
    assert left.value.code == 2
    assert "1 to 16" in capsys.readouterr().err


def test_fly_without_a_terminal_says_so(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    """Standard input and output that are no terminal: one line, exit 2, nothing runs."""
    monkeypatch.setattr("sys.stdin", io.StringIO())
    assert main(["fly"]) == 2
    assert "needs a terminal" in capsys.readouterr().err


def test_no_terminal_leaves_no_journal(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing is begun, so the flight that follows finds its journal's name free."""
    monkeypatch.setattr("sys.stdin", io.StringIO())
    assert main(["fly", "--journal", str(tmp_path / "a.journal")]) == 2
    assert not (tmp_path / "a.journal").exists()


def test_a_journal_is_written_by_a_rehearsal(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "a.journal"
    assert main(["rehearse", "clean", "--journal", str(path)]) == 0
    lines = path.read_text(encoding="utf-8").splitlines()
    assert '"FlowdeckJournal"' in lines[0] and '"FlightEnded"' in lines[-1]


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["rehearse", "nowhere"], "bundled scenarios: clean"),
        (["rehearse", "clean", "--deck", "nowhere"], "bundled decks: turboprop, twinjet"),
        (["vet", "nowhere"], "bundled decks: turboprop, twinjet"),
        (["fly", "nowhere"], "bundled scenarios: clean"),
        (["fly", "--resume", "nowhere.journal"], "cannot be read"),
        (["fly", "clean", "--resume", "nowhere.journal"], "leave out: SCENARIO"),
        (["rehearse", "x" * 300], "no file of this name"),
        (["fly", "--keys", "nowhere.yaml"], "cannot be read"),
    ],
)
def test_unusable_input_is_exit_2_and_one_line(
    arguments: list[str], words: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """Never a traceback; what was found and what there is instead, on stderr."""
    assert main(arguments) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert words in captured.err and "Traceback" not in captured.err


@pytest.mark.parametrize("command", COMMANDS)
def test_help_has_an_example_and_the_notice(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as left:
        main([command, "--help"])
    assert left.value.code == 0
    out = capsys.readouterr().out
    assert "example" in out and "Training and simulation only" in out


def test_a_broken_scenario_says_all_at_once(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "broken.yaml"
    path.write_text(
        "scenario: x\ntitle: y\ndeck: twinjet\nends: secured\nstart: {distance_nm: far}\n", encoding="utf-8"
    )
    assert main(["rehearse", str(path)]) == 2
    err = capsys.readouterr().err
    assert "broken.yaml:5:22" in err and "aerodrome" in err
