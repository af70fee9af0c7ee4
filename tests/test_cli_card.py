"""`flowdeck card`: output, exit status, words for what cannot be made."""

import builtins
import json
import shutil
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from flowdeck import DISCLAIMER
from tests.test_cli_brief import Flowdeck

PHASES = Path(__file__).resolve().parents[1] / "phases"


@pytest.fixture
def flowdeck(capsys: pytest.CaptureFixture[str]) -> Flowdeck:
    return Flowdeck(capsys)


def changed(old: str, new: str, folder: Path) -> str:
    """The bundled deck with one thing of its head changed."""
    deck = folder / "deck"
    shutil.copytree(PHASES / "twinjet", deck)
    text = (deck / "deck.yaml").read_text(encoding="utf-8")
    assert old in text
    (deck / "deck.yaml").write_text(text.replace(old, new, 1), encoding="utf-8")
    return str(deck)


def test_text_of_both_seats(flowdeck: Flowdeck) -> None:
    said = flowdeck("card", "twinjet")
    assert said.code == 0 and said.err == ""
    assert "end of the card: Captain\n" in said.out and "end of the card: First officer\n" in said.out
    assert max(map(len, said.out.splitlines())) <= 80
    assert DISCLAIMER in " ".join(said.out.split())


def test_text_of_the_checklists(flowdeck: Flowdeck) -> None:
    said = flowdeck("card", "twinjet", "--by", "checklist")
    assert said.code == 0 and "end of Landing checklist\n" in said.out and "Captain" not in said.out


def test_who_flies(flowdeck: Flowdeck) -> None:
    said = flowdeck("card", "twinjet", "--flying", "first_officer")
    assert "Captain, monitoring" in said.out and "First officer, flying" in said.out


def test_reasons_when_asked(flowdeck: Flowdeck) -> None:
    reason = "Without wind and surface the distance is a guess."
    assert reason not in " ".join(flowdeck("card", "twinjet").out.split())
    assert reason in " ".join(flowdeck("card", "twinjet", "--reasons").out.split())


@pytest.mark.parametrize(("size", "width"), [("a5", 148), ("a4", 210)])
def test_json_is_the_layout(size: str, width: int, flowdeck: Flowdeck) -> None:
    data = json.loads(flowdeck("card", "twinjet", "--by", "checklist", "--size", size, "--json").out)
    assert set(data) == {"notice", "deck", "paper", "cards"} and data["notice"] == DISCLAIMER
    assert data["paper"]["width_mm"] == width and data["paper"]["x_height_mm"] >= 2.5
    row = next(row for row in data["cards"][0]["pages"][0]["rows"] if row["kind"] == "item")
    assert set(row) == {"kind", "ref", "begins", "x_mm", "y_mm", "width_mm", "height_mm", "parts"}


def test_a_page_and_a_pdf(flowdeck: Flowdeck, tmp_path: Path) -> None:
    """Written where asked and said on standard error; nothing is printed beside them."""
    page, pdf = tmp_path / "cards.html", tmp_path / "cards.pdf"
    said = flowdeck("card", "twinjet", "--by", "checklist", "--html", str(page), "--pdf", str(pdf))
    assert said.code == 0 and said.out == "" and said.err == f"page: {page}\ncards: {pdf}\n"
    assert page.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")
    first = pdf.read_bytes()
    assert "Landing checklist" in PdfReader(BytesIO(first)).pages[1].extract_text()
    flowdeck("card", "twinjet", "--by", "checklist", "--pdf", str(pdf))
    assert pdf.read_bytes() == first


@pytest.mark.parametrize("what", ["--html", "--pdf"])
def test_what_cannot_be_written(what: str, flowdeck: Flowdeck, tmp_path: Path) -> None:
    said = flowdeck("card", "twinjet", "--by", "checklist", what, str(tmp_path / "no" / "file"))
    assert said.code == 2 and "cannot be written: No such file or directory" in said.err and said.out == ""


@pytest.mark.parametrize("lacking", ["fpdf", "fontpkg_arimo"])
def test_without_the_extra(lacking: str, flowdeck: Flowdeck, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A PDF asks for the extra by name and exits 2; text and page need nothing of it."""
    found = builtins.__import__

    def without(name: str, *rest: Any, **more: Any) -> Any:
        if name.partition(".")[0] == lacking:
            raise ModuleNotFoundError(name)
        return found(name, *rest, **more)

    monkeypatch.delitem(__import__("sys").modules, "flowdeck.view.card.pdf", raising=False)
    monkeypatch.setattr(builtins, "__import__", without)
    said = flowdeck("card", "twinjet", "--by", "checklist", "--pdf", str(tmp_path / "cards.pdf"))
    assert said.code == 2 and "pip install 'flowdeck[cards]'" in said.err and not (tmp_path / "cards.pdf").exists()
    assert flowdeck("card", "twinjet", "--by", "checklist", "--html", str(tmp_path / "cards.html")).code == 0
    assert flowdeck("card", "twinjet", "--by", "checklist").code == 0


def test_a_letter_that_the_face_lacks_is_named(flowdeck: Flowdeck, tmp_path: Path) -> None:
    """Never another letter in its place: no PDF, exit 2, and the page has it."""
    deck, pdf, page = (
        changed("title: Corvane 2 arrival", "title: \u4e2d Corvane 2", tmp_path),
        tmp_path / "x.pdf",
        tmp_path / "x.html",
    )
    said = flowdeck("card", deck, "--by", "checklist", "--pdf", str(pdf))
    assert said.code == 2 and "'\u4e2d' (U+4E2D)" in said.err and not pdf.exists()
    assert flowdeck("card", deck, "--by", "checklist", "--html", str(page)).code == 0
    assert "\u4e2d" in page.read_text(encoding="utf-8")


@pytest.mark.soak
def test_a_date_that_is_none_still_gives_the_same_bytes(flowdeck: Flowdeck, tmp_path: Path) -> None:
    deck, pdf = changed("date: 2026-05-04", "date: spring", tmp_path), tmp_path / "cards.pdf"
    assert flowdeck("card", deck, "--by", "checklist", "--pdf", str(pdf)).code == 0
    first = pdf.read_bytes()
    flowdeck("card", deck, "--by", "checklist", "--pdf", str(pdf))
    assert pdf.read_bytes() == first
    metadata = PdfReader(BytesIO(first)).metadata
    assert metadata is not None and metadata.creation_date is not None and metadata.creation_date.year == 1970


def test_no_such_deck(flowdeck: Flowdeck) -> None:
    said = flowdeck("card", "nowhere")
    assert said.code == 2 and "no folder of this name; bundled decks: " in said.err and said.out == ""
