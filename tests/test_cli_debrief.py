"""`flowdeck debrief`: output, exit status, words for what cannot be used."""

import json
from pathlib import Path

import pytest

from flowdeck.live.journal import Journal
from flowdeck.model.events import FlightStarted
from tests.scenarios.flown import flown
from tests.test_cli_brief import Flowdeck


@pytest.fixture
def flowdeck(capsys: pytest.CaptureFixture[str]) -> Flowdeck:
    return Flowdeck(capsys)


def journal(name: str, folder: Path, *, last: int | None = None) -> Path:
    """The journal of a rehearsal, or of its first *last* events."""
    done, path = flown(name), folder / f"{name}.journal"
    with Journal.create(str(path), done.deck, done.scenario, solo=done.scenario.solo) as written:
        for event in done.events[:last]:
            written.append((event,), sure=False)
    return path


@pytest.mark.parametrize(("name", "code"), [("clean", 0), ("cold", 0), ("slips", 1)])
def test_exit_1_when_a_deviation_of_caution_or_above_stands(
    name: str, code: int, flowdeck: Flowdeck, tmp_path: Path
) -> None:
    said = flowdeck("debrief", str(journal(name, tmp_path)))
    assert (said.code, said.err) == (code, "")
    assert said.out.startswith(flown(name).scenario.title)


def test_json_is_json(flowdeck: Flowdeck, tmp_path: Path) -> None:
    data = json.loads(flowdeck("debrief", str(journal("slips", tmp_path)), "--json").out)
    assert len(data["deviations"]) == 31 and data["end"] == "secured"


def test_a_page_beside_the_text(flowdeck: Flowdeck, tmp_path: Path) -> None:
    page = tmp_path / "page.html"
    said = flowdeck("debrief", str(journal("clean", tmp_path)), "--html", str(page))
    assert said.err == f"page: {page}\n" and "At a glance" in said.out
    assert page.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")


def test_a_page_that_cannot_be_written(flowdeck: Flowdeck, tmp_path: Path) -> None:
    said = flowdeck("debrief", str(journal("clean", tmp_path)), "--html", str(tmp_path / "no" / "page.html"))
    assert said.code == 2 and "cannot be written: No such file or directory" in said.err


def test_the_timeline_when_asked(flowdeck: Flowdeck, tmp_path: Path) -> None:
    path = str(journal("slips", tmp_path))
    assert "Timeline" not in flowdeck("debrief", path).out
    assert "\nTimeline\n" in flowdeck("debrief", path, "--timeline").out


def test_a_flight_broken_off_says_so(flowdeck: Flowdeck, tmp_path: Path) -> None:
    said = flowdeck("debrief", str(journal("clean", tmp_path, last=1500)))
    assert said.code == 0 and "not flown to its end" in said.out


def test_a_torn_line_is_said_and_the_rest_told(flowdeck: Flowdeck, tmp_path: Path) -> None:
    path = journal("clean", tmp_path)
    path.write_bytes(path.read_bytes()[:-9])
    said = flowdeck("debrief", str(path))
    assert "torn-line" in said.err and "At a glance" in said.out


def test_a_damaged_journal_needs_a_word(flowdeck: Flowdeck, tmp_path: Path) -> None:
    path = journal("clean", tmp_path)
    lines = path.read_bytes().splitlines(keepends=True)
    lines[1200] = lines[1200].replace(b'"at":', b'"at": ')
    path.write_bytes(b"".join(lines))
    said = flowdeck("debrief", str(path))
    assert said.code == 2 and "damaged-line" in said.err and said.out == ""
    said = flowdeck("debrief", str(path), "--salvage")
    assert said.code == 0 and "not flown to its end" in said.out


def test_a_header_without_a_flight(flowdeck: Flowdeck, tmp_path: Path) -> None:
    said = flowdeck("debrief", str(journal("clean", tmp_path, last=0)))
    assert said.code == 2 and "has a header and no flight" in said.err


def test_one_event_is_a_flight(flowdeck: Flowdeck, tmp_path: Path) -> None:
    assert isinstance(flown("clean").events[0], FlightStarted)
    assert flowdeck("debrief", str(journal("clean", tmp_path, last=1))).code == 0


@pytest.mark.parametrize("name", ["nowhere.journal", ".", "README.md"])
def test_what_is_no_journal(name: str, flowdeck: Flowdeck) -> None:
    said = flowdeck("debrief", name)
    assert said.code == 2 and said.out == "" and "Traceback" not in said.err
