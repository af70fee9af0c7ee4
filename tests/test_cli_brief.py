"""`flowdeck brief` and `flowdeck schema`: output, exit status, words for what cannot be used."""

import json
from pathlib import Path
from typing import NamedTuple

import pytest

from flowdeck.cli.main import main

SCENARIOS = Path(__file__).resolve().parents[1] / "scenarios"


class Said(NamedTuple):
    code: int
    out: str
    err: str


class Flowdeck:
    """Runs a command and gives what it said."""

    def __init__(self, capsys: pytest.CaptureFixture[str]) -> None:
        self._capsys = capsys

    def __call__(self, *arguments: str) -> Said:
        try:
            code = main(list(arguments))
        except SystemExit as left:
            code = int(left.code or 0)
        return Said(code, *self._capsys.readouterr())


@pytest.fixture
def flowdeck(capsys: pytest.CaptureFixture[str]) -> Flowdeck:
    return Flowdeck(capsys)


def changed(name: str, old: str, new: str, folder: Path) -> str:
    """A bundled arrival with one thing changed, in a file of its own."""
    text = (SCENARIOS / "arrivals" / f"{name}.yaml").read_text(encoding="utf-8")
    assert old in text
    path = folder / f"{name}.yaml"
    path.write_text(text.replace(old, new), encoding="utf-8")
    return str(path)


def test_brief_prints_and_writes_a_page(flowdeck: Flowdeck, tmp_path: Path) -> None:
    """Text, JSON and Markdown on standard output; the page in its file; 0 when the landing is possible."""
    page = tmp_path / "brief.html"
    result = flowdeck("brief", "tarn-holm", "--html", str(page))
    assert result.code == 0
    assert result.out.startswith("Tarn Holm, VOR 07\n")
    assert page.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")
    data = json.loads(flowdeck("brief", "skarn-fell", "--json").out)
    assert data["figures"]["minimum_ft"]["value"] == 1870
    assert flowdeck("brief", "port-ennis", "--markdown").out.startswith("# Port Ennis")


def test_brief_exits_one_only_when_no_landing_is_possible(flowdeck: Flowdeck, tmp_path: Path) -> None:
    short = changed("port-ennis", "landing_distance_m: 1660", "landing_distance_m: 1100", tmp_path)
    result = flowdeck("brief", short)
    assert result.code == 1
    assert "NO LANDING AS PLANNED" in result.out
    tight = changed("port-ennis", "fuel_kg: 3250", "fuel_kg: 2400", tmp_path)
    result = flowdeck("brief", tight)
    assert result.code == 0
    assert "short of the reserves" in result.out


def test_brief_of_what_cannot_be_read(flowdeck: Flowdeck, tmp_path: Path) -> None:
    """Findings on standard error, 2, and no traceback: no such name, no such aircraft, nowhere to write to."""
    assert "bundled arrivals: bressa-skerry, grenna-voe" in flowdeck("brief", "nowhere").err
    result = flowdeck("brief", changed("tarn-holm", "aircraft: corvane-2", "aircraft: corvane-9", tmp_path))
    assert result.code == 2
    assert "no file 'corvane-9' beside it; bundled: corvane-2" in result.err
    result = flowdeck("brief", "tarn-holm", "--html", str(tmp_path / "no" / "such" / "folder.html"))
    assert result.code == 2
    assert "cannot be written" in result.err


def test_an_aircraft_file_beside_the_arrival_goes_before_the_bundled_one(flowdeck: Flowdeck, tmp_path: Path) -> None:
    arrival = changed("tarn-holm", "VOR 07", "VOR 07", tmp_path)
    tables = (SCENARIOS / "aircraft" / "corvane-2.yaml").read_text(encoding="utf-8")
    (tmp_path / "corvane-2.yaml").write_text(tables.replace("131.0", "128.0"), encoding="utf-8")
    assert json.loads(flowdeck("brief", arrival, "--json").out)["figures"]["vref_kt"]["value"] == 128


def test_schema_prints_one(flowdeck: Flowdeck) -> None:
    assert json.loads(flowdeck("schema", "arrival").out)["title"] == "flowdeck arrival file"
    assert flowdeck("schema", "nothing").code == 2
