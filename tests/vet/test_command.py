"""`flowdeck vet` as it is typed: what is printed where, and the exit codes."""

import json
from pathlib import Path

import pytest
from sarif_pydantic import Sarif

from flowdeck.cli.main import main
from flowdeck.cli.vet import count
from flowdeck.live.bundled import find_deck
from flowdeck.vet import RULES
from tests.support.small import small_deck
from tests.support.sound import changed, sound_files

BUNDLED = ("turboprop", "twinjet")


def folder(tmp_path: Path, **changes: tuple[str, str]) -> str:
    """The sound deck on disk; `ground=(old, new)` changes a file."""
    for name, text in sound_files().items():
        old, new = changes.get(name.removesuffix(".yaml"), ("", ""))
        (tmp_path / name).write_text(changed(text, old, new) if old else text, encoding="utf-8")
    return str(tmp_path)


TOWED = ("ends: [parked]", "ends: [parked, towed]")
NOTE = ("        moves: {gear: down, in_s: 6}\n", "        moves: {gear: down, in_s: 6}\n        reopened_by: wet\n")
"""A critical item that may change and that nothing looks at twice is a note, unless a gate asks for it."""


def test_a_good_deck(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["vet", "--strict", folder(tmp_path)]) == 0
    out, err = capsys.readouterr()
    assert out == (
        "Small deck 1: 4 phases, 12 items, 5 lines, 2 calls, 2 answers, 1 standing items, 2 checklists, 1 holds, "
        f"2 gates, {len(small_deck().conditions)} conditions\n"
    )
    assert err == ""


def test_a_warning(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    where = folder(tmp_path, deck=TOWED)
    assert main(["vet", where]) == 1
    out, err = capsys.readouterr()
    found, counts = out.splitlines()
    message = "warning unreached-end: no phase leads to the end 'towed'; remove it, or lead to it"
    assert found == f"{where}/deck.yaml:12:16 {message}"
    assert counts.startswith("Small deck 1: 4 phases, ") and err == ""


def test_a_note_counts_only_when_strict(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    where = folder(
        tmp_path, approach=("        critical: true\n", "        critical: true\n        reopened_by: wet\n")
    )
    text = (tmp_path / "approach.yaml").read_text(encoding="utf-8")
    (tmp_path / "approach.yaml").write_text(changed(text, "{that: \"gear == 'down'\", words: gear}", GATE), "utf-8")
    assert main(["vet", where]) == 0
    assert "info never-looked-at-again" in capsys.readouterr().out
    assert main(["vet", "--strict", where]) == 1


GATE = '{that: "flap_deg == 31", words: flap}'


def test_an_unusable_deck(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What the loader refuses ends the vetting before any rule."""
    where = folder(tmp_path, ground=("do: Parking brake", "du: Parking brake"), deck=("effectivity: All of them\n", ""))
    assert main(["vet", where]) == 2
    out, err = capsys.readouterr()
    assert out == "" and "unknown-key" in err and "no-identity" not in err


def test_what_is_not_there(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["vet", "no-such-deck"]) == 2
    assert "no-such-deck: error no-deck: no folder of this name; bundled decks: " in capsys.readouterr().err
    assert main(["vet"]) == 2


def test_json(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    where = folder(tmp_path, deck=TOWED)
    assert main(["vet", "--json", where]) == 1
    report = json.loads(capsys.readouterr().out)
    assert set(report) == {"findings", "accepted", "counts", "proof"}
    [finding] = report["findings"]
    assert finding == {
        "file": f"{where}/deck.yaml",
        "line": 12,
        "column": 16,
        "level": "warning",
        "kind": "unreached-end",
        "message": "no phase leads to the end 'towed'; remove it, or lead to it",
    }
    assert report["counts"] == {**count(small_deck()), "conditions": len(small_deck().conditions)}
    assert report["proof"]["asked"] > 50 and report["proof"]["unsettled"] == 0


def test_json_of_a_good_and_of_an_unusable_deck(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    where = folder(tmp_path)
    (tmp_path / "ground.yaml").write_text("x: [", encoding="utf-8")
    assert main(["vet", "--json", where, "twinjet"]) == 2
    report = json.loads(capsys.readouterr().out)
    assert [finding["kind"] for finding in report["findings"]] == ["yaml-syntax"]
    assert report["counts"]["phases"] == 7


ACCEPTED = "# accepted no-trigger-window: the small deck is read by nobody under pressure\n  "


def test_an_exception_needs_a_rule_a_reason_and_something_to_except(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """One that holds, one without a reason, one of a rule that is not, one that nothing answers to."""
    where = folder(tmp_path, ground=("    due: {after_s: 60}\n    late: {after_s: 120}\n", ""))
    ground = tmp_path / "ground.yaml"
    plain = ground.read_text(encoding="utf-8")
    told = {
        ACCEPTED: [],
        "# accepted no-trigger-window: no\n  ": ["no-trigger-window", "a reason of at least 4 words"],
        "# accepted no-trigger: the small deck is read by nobody\n  ": ["no-trigger-window", "'no-trigger' is no rule"],
        ACCEPTED.replace("no-trigger-window", "two-actions"): [
            "no-trigger-window",
            "nothing on the next line is found",
        ],
    }
    for comment, expected in told.items():
        ground.write_text(changed(plain, "- checklist: ground-list", comment + "- checklist: ground-list"), "utf-8")
        assert main(["vet", where]) == (1 if expected else 0)
        out = capsys.readouterr().out
        assert all(words in out for words in expected), out
        assert ("1 findings accepted" in out) is not bool(expected)


def test_sarif(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Findings as results, accepted ones suppressed with their reason, every rule described."""
    where = folder(tmp_path, deck=TOWED, ground=("    due: {after_s: 60}\n    late: {after_s: 120}\n", ""))
    ground = tmp_path / "ground.yaml"
    text = ground.read_text(encoding="utf-8")
    ground.write_text(changed(text, "- checklist: ground-list", ACCEPTED + "- checklist: ground-list"), "utf-8")
    assert main(["vet", "--sarif", where]) == 1
    out = capsys.readouterr().out
    read = Sarif.model_validate_json(out)
    assert [result.rule_id for result in read.runs[0].results or ()] == ["unreached-end", "no-trigger-window"]
    [run] = json.loads(out)["runs"]
    plain, accepted = run["results"]
    assert plain["ruleId"] == "unreached-end" and plain["level"] == "warning" and "suppressions" not in plain
    region = plain["locations"][0]["physicalLocation"]["region"]
    assert region == {"startLine": 12, "startColumn": 16}
    assert accepted["suppressions"] == [
        {"kind": "inSource", "justification": "the small deck is read by nobody under pressure"}
    ]
    rules = {rule["id"] for rule in run["tool"]["driver"]["rules"]}
    assert rules == set(RULES) | {"unreached-end"}


@pytest.mark.parametrize("name", sorted(RULES))
def test_every_rule_explains_itself(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    """What it finds, why or how to mend it, and where it comes from."""
    assert main(["vet", "--explain", name]) == 0
    head, *paragraphs, source = capsys.readouterr().out.strip().split("\n\n")
    assert head.startswith(f"{name} (") and len(paragraphs) >= 2 and source.startswith("Source: ")


def test_explaining_all_and_none(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["vet", "--explain"]) == 0
    assert [line.split()[0] for line in capsys.readouterr().out.splitlines()] == list(RULES)
    assert main(["vet", "--explain", "critical-lat"]) == 2
    assert "did you mean 'critical-late'?" in capsys.readouterr().err


@pytest.mark.parametrize("name", BUNDLED)
def test_the_bundled_decks_are_sound(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    """Strictly, with few exceptions; each of them with a reason that can be read aloud."""
    assert main(["vet", "--strict", "--json", str(find_deck(name))]) == 0
    report = json.loads(capsys.readouterr().out)
    assert report["findings"] == [] and len(report["accepted"]) <= 8
    assert all(len(each["reason"].split()) >= 8 for each in report["accepted"])
    assert report["proof"]["unsettled"] == 0
