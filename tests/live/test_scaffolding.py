"""A deck to begin with is sound, can be flown by its own scenario, and never overwrites anything."""

from pathlib import Path

import pytest

from flowdeck.cli.main import main
from flowdeck.live.bundled import read_scenario
from flowdeck.live.scaffolding import new_deck
from flowdeck.live.workers import fly_runs
from flowdeck.model.diagnostic import Rejected
from flowdeck.trial.batch.total import total_of


def test_it_is_sound_and_flies_without_a_slip(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Strictly vetted with nothing excepted; rehearsed from anywhere by the scenario in its folder."""
    folder = tmp_path / "hill-flyer"
    assert main(["new", str(folder)]) == 0
    out = capsys.readouterr().out
    assert "Training and simulation only" in out and f"flowdeck vet {folder} --strict" in out
    assert main(["vet", "--strict", str(folder)]) == 0
    assert "accepted" not in capsys.readouterr().out
    assert main(["rehearse", str(folder / "scenarios/clean.yaml")]) == 0
    assert " 0 deviations" in capsys.readouterr().out


def test_it_leads_everywhere(tmp_path: Path) -> None:
    """Sixteen arrivals, go-arounds among them: each comes to its end, no gate fails."""
    new_deck(tmp_path / "hill-flyer", "hill-flyer")
    deck, scenario, notes = read_scenario(str(tmp_path / "hill-flyer/scenarios/clean.yaml"))
    total = total_of(deck, scenario.title, 1, list(fly_runs(deck, scenario, 1, 16, 1)))
    assert notes == () and total.ends == {"parked": 16}
    assert total.gates["stable-1000"].met > 16 and total.gates["stable-1000"].failed == 0
    assert total.phases["go_around"] > 0


def test_every_word_is_filled_in_and_teaches(tmp_path: Path) -> None:
    written = new_deck(tmp_path / "hill-flyer", "decks/hill-flyer")
    texts = {path.name: path.read_text(encoding="utf-8") for path in written}
    assert len(texts) == len(written) == 6 and "@" not in "".join(texts.values())
    assert "deck: hill-flyer" in texts["deck.yaml"] and "title: Hill flyer" in texts["deck.yaml"]
    assert "flowdeck vet decks/hill-flyer --strict" in texts["deck.yaml"]
    assert all("#" in text for text in texts.values())


@pytest.mark.parametrize("name", ["Hill", "hill_flyer", "1hill", "hill flyer", "-x", "a" * 51, "hill."])
def test_a_name_that_is_none(name: str, tmp_path: Path) -> None:
    with pytest.raises(Rejected, match="lower-case words joined by hyphens"):
        new_deck(tmp_path / name, name)
    assert list(tmp_path.iterdir()) == []


def test_nothing_is_written_over(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "deck").mkdir()
    (tmp_path / "deck/mine.txt").write_text("mine", encoding="utf-8")
    (tmp_path / "file").write_text("mine", encoding="utf-8")
    for name in ("deck", "file"):
        assert main(["new", str(tmp_path / name)]) == 2
        assert "something is there already" in capsys.readouterr().err
    assert [path.name for path in (tmp_path / "deck").iterdir()] == ["mine.txt"]
    (tmp_path / "empty").mkdir()
    assert main(["new", str(tmp_path / "empty")]) == 0
    assert main(["new", str(tmp_path / "file/inside")]) == 2
    assert "cannot be written" in capsys.readouterr().err
