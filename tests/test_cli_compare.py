"""`flowdeck compare`: output, exit status, words for what cannot be used."""

import json
import subprocess
from pathlib import Path

import pytest

from flowdeck.cli.main import main
from tests.hostile.test_terminal import flowdeck as in_a_terminal
from tests.support.small import FILES
from tests.test_cli_brief import Flowdeck


@pytest.fixture
def flowdeck(capsys: pytest.CaptureFixture[str]) -> Flowdeck:
    return Flowdeck(capsys)


def folder(path: Path, **changed: str) -> str:
    """The small deck in a folder, `ground="..."` in place of a file's text."""
    path.mkdir()
    for name, text in {**FILES, **{f"{name}.yaml": text for name, text in changed.items()}}.items():
        (path / name).write_text(text, encoding="utf-8")
    return str(path)


@pytest.fixture
def two(tmp_path: Path) -> tuple[str, str]:
    """The small deck, and one in which a late limit is later and an item has another seat."""
    approach = FILES["approach.yaml"].replace('late: "height_aal_ft < 1500"', 'late: "height_aal_ft < 1300"')
    landing = FILES["landing.yaml"].replace("to: TOLD, by: pilot_monitoring", "to: TOLD, by: captain")
    return folder(tmp_path / "old"), folder(tmp_path / "new", approach=approach, landing=landing)


def test_exit_1_and_each_difference(two: tuple[str, str], flowdeck: Flowdeck) -> None:
    said = flowdeck("compare", *two)
    assert (said.code, said.err) == (1, "")
    assert "2 changes to sign: 2 to look at hardest." in said.out
    assert "Item Gear DOWN (gear-down) of Configuring: late: later" in said.out
    assert "Item Cabin TOLD (cabin) of Roll-out: moved to another seat" in said.out


def test_exit_0_without_a_difference(two: tuple[str, str], flowdeck: Flowdeck) -> None:
    said = flowdeck("compare", two[0], two[0])
    assert (said.code, said.err) == (0, "") and "No difference" in said.out


def test_json_is_json(two: tuple[str, str], flowdeck: Flowdeck) -> None:
    said = flowdeck("compare", *two, "--json")
    data = json.loads(said.out)
    assert said.code == 1 and [change["aspect"] for change in data["changes"]] == ["late", "by"]
    assert data["changes"][0]["after"] == {"condition": "height_aal_ft < 1300"}
    assert json.loads(flowdeck("compare", two[0], two[0], "--json").out)["changes"] == []


def test_a_page_beside_the_text(two: tuple[str, str], flowdeck: Flowdeck, tmp_path: Path) -> None:
    page = tmp_path / "page.html"
    said = flowdeck("compare", *two, "--html", str(page))
    assert said.code == 1 and said.err == f"page: {page}\n" and "2 changes" in said.out
    assert page.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")


def test_a_page_that_cannot_be_written(two: tuple[str, str], flowdeck: Flowdeck, tmp_path: Path) -> None:
    said = flowdeck("compare", *two, "--html", str(tmp_path / "no" / "page.html"))
    assert said.code == 2 and "cannot be written: No such file or directory" in said.err


def test_a_revision_against_the_folder(tmp_path: Path, flowdeck: Flowdeck, monkeypatch: pytest.MonkeyPatch) -> None:
    """What a writer does before a new version is signed: the last revision against what is on disk."""
    for name in ("GIT_DIR", "GIT_WORK_TREE", "GIT_INDEX_FILE"):
        monkeypatch.delenv(name, raising=False)
    deck = Path(folder(tmp_path / "deck"))
    git = ["git", "-c", "user.name=A", "-c", "user.email=a@example.invalid", "-c", "commit.gpgsign=false"]
    for arguments in (["init", "-q"], ["add", "-A"], ["commit", "-q", "-m", "a"]):
        subprocess.run([*git, *arguments], cwd=tmp_path, check=True, timeout=60)
    (deck / "deck.yaml").write_text(FILES["deck.yaml"].replace('version: "1"', 'version: "2"'), encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    said = flowdeck("compare", "HEAD:deck", "deck")
    assert said.code == 1 and "1 change to sign: 1 of words alone." in said.out
    assert flowdeck("compare", "HEAD:deck", "HEAD:deck").code == 0
    said = flowdeck("compare", "HEAD~1:deck", "deck")
    assert said.code == 2 and said.out == "" and "HEAD~1:deck: error no-revision" in said.err


@pytest.mark.parametrize("arguments", [("nowhere", "twinjet"), ("twinjet", "nowhere"), ("twinjet", "README.md")])
def test_unusable_input_is_exit_2(arguments: tuple[str, str], flowdeck: Flowdeck) -> None:
    said = flowdeck("compare", *arguments)
    assert said.code == 2 and said.out == "" and "bundled decks: turboprop, twinjet" in said.err


def test_a_broken_deck_says_all_at_once(two: tuple[str, str], tmp_path: Path, flowdeck: Flowdeck) -> None:
    broken = folder(tmp_path / "broken", ground=FILES["ground.yaml"].replace("title: On", "titel: On"))
    said = flowdeck("compare", two[0], broken)
    assert said.code == 2 and "ground.yaml:2:1 error missing" in said.err and "unknown-key" in said.err


@pytest.mark.parametrize("name", ["a\x1b[2J:x", "HEAD:\x1b[2J", "a\u202e\udcff:b", "--help:x", "\udcff"])
def test_a_hostile_name(name: str, tmp_path: Path) -> None:
    """Nothing acts on the terminal, nothing is a traceback."""
    status, printed = in_a_terminal("compare", "--", name, "twinjet", cwd=tmp_path)
    assert status == 2 and printed


def test_two_decks_are_asked_for(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as left:
        main(["compare", "twinjet"])
    assert left.value.code == 2 and "NEW" in capsys.readouterr().err
