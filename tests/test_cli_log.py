"""`flowdeck log`: add, list, tag, name, trends, export; words for what cannot be done."""

import csv
import json
from pathlib import Path

import pytest

from tests.live.test_logbook import journal
from tests.test_cli_brief import Flowdeck, Said


class Log:
    """Runs `flowdeck log --book ...`."""

    def __init__(self, flowdeck: Flowdeck, book: Path) -> None:
        self._flowdeck, self._book = flowdeck, book

    def __call__(self, *arguments: str) -> Said:
        return self._flowdeck("log", "--book", str(self._book), *arguments)


@pytest.fixture
def log(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> Log:
    """A logbook of three flights."""
    folder = tmp_path / "flights"
    folder.mkdir()
    for name in ("slips", "clean", "go-around"):
        journal(name, folder)
    (folder / "notes.txt").write_text("no journal", encoding="utf-8")
    made = Log(Flowdeck(capsys), tmp_path / "book.sqlite")
    assert made("add", str(folder)) == Said(0, "3 flights added\n", "")
    return made


def test_the_list_and_a_search(log: Log) -> None:
    everything = log("list").out
    assert everything.startswith("Training and simulation only.")
    assert all(name in everything for name in ("slips", "clean", "go-around"))
    assert "clean" not in log("list", "go-around").out
    assert log("list", "nothing-like-it").out == "no flights here; add some: flowdeck log add JOURNAL\n"


def test_tags_are_searched_for_and_taken_off(log: Log) -> None:
    assert log("tag", "1", "line-check").code == 0
    assert len(json.loads(log("list", "line-check", "--json").out)) == 1
    log("untag", "1", "line-check")
    assert json.loads(log("list", "line-check", "--json").out) == []


def test_names_are_shown_erased_and_never_exported(log: Log, tmp_path: Path) -> None:
    log("name", "2", "captain", "A. Sample")
    assert "captain A. Sample" in log("list").out
    for form in ("csv", "jsonl"):
        assert log("export", f"--{form}", str(tmp_path / form)).code == 0
        assert "Sample" not in (tmp_path / form).read_text(encoding="utf-8")
    assert log("erase", "A. Sample").out == "1 flights had that name\n"
    assert "Sample" not in log("list").out


def test_trends_in_text_and_json_agree(log: Log) -> None:
    text, data = log("trends").out, json.loads(log("trends", "--json").out)
    assert data["flights"] == 3 and text.startswith("3 flights, ")
    for found in data["classes"]:
        if found["count"]:
            row = next(line for line in text.splitlines() if line.startswith(f"  {found['class'].replace('_', ' ')}  "))
            curve = [f"{part['count']}/{part['opportunities']}" for part in found["curve"]]
            assert row.split()[-len(curve) :] == curve
            assert f" {found['count']} " in row and f" {found['opportunities']} " in row
    assert "%" not in text and "nothing here grades a person" in text
    assert log("trends", "clean").out.count("nothing slipped") == 1


def test_the_csv_is_a_row_a_flight(log: Log, tmp_path: Path) -> None:
    path = tmp_path / "flights.csv"
    log("export", "--csv", str(path))
    rows = list(csv.DictReader(path.read_text(encoding="utf-8").splitlines()))
    by_name = {row["scenario"]: row for row in rows}
    assert set(by_name) == {"slips", "clean", "go-around"}
    assert (by_name["slips"]["deviations"], by_name["slips"]["trapped"], by_name["clean"]["one_person"]) == (
        "31",
        "9",
        "yes",
    )


def test_no_cell_is_a_formula(log: Log, tmp_path: Path) -> None:
    log("tag", "1", "=1+1")
    log("export", "--csv", str(tmp_path / "x.csv"))
    assert "'=1+1" in (tmp_path / "x.csv").read_text(encoding="utf-8")


def test_json_lines_are_whole_flights(log: Log, tmp_path: Path) -> None:
    log("export", "--jsonl", str(tmp_path / "x.jsonl"))
    lines = (tmp_path / "x.jsonl").read_text(encoding="utf-8").splitlines()
    assert len(lines) == 3 and all(len(json.loads(line)["tallies"]) == 24 for line in lines)


def test_what_cannot_be_added_is_named(log: Log, tmp_path: Path) -> None:
    bad = tmp_path / "bad.journal"
    bad.write_bytes(b"nothing\n")
    said = log("add", str(bad), str(tmp_path / "flights" / "clean.journal"))
    assert said.code == 1 and said.out == "1 flights added, 1 could not be read\n" and "bad.journal" in said.err
    assert log("add", str(bad)).code == 2


def test_what_is_not_there(log: Log, tmp_path: Path) -> None:
    said = log("tag", "9", "x")
    assert said.code == 2 and "there is no flight 9; it has 3" in said.err
    assert log("export", "--csv", str(tmp_path / "no" / "x.csv")).code == 2


def test_everything_again(log: Log) -> None:
    before = log("list").out
    assert log("rebuild").out == "3 flights read again, 0 left out\n"
    assert log("list").out == before


def test_a_drill_is_written_once_and_can_be_flown(log: Log, tmp_path: Path) -> None:
    path = tmp_path / "drill.yaml"
    said = log("drill", str(path), "slips")
    assert said.code == 0 and f"fly it: flowdeck fly {path}" in said.out and said.err == f"drill: {path}\n"
    assert log("drill", str(path)).code == 2
    none = log("drill", str(tmp_path / "other.yaml"), "clean")
    assert none.code == 2 and "nothing has slipped" in none.err and not (tmp_path / "other.yaml").exists()
