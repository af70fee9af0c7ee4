"""Broken files and all that is said of them, word for word; and files of which nothing is said.

Each file is put into the small deck in place of the file that its first line names. After a message was
changed on purpose, `UPDATE_OUT=1 pytest tests/phasefile/test_corpus.py` writes the .out files anew: read the
difference.
"""

from pathlib import Path

import pytest

from flowdeck.model.diagnostic import Diagnostic, Rejected
from flowdeck.phasefile.loaddeck import load_deck
from flowdeck.phasefile.loadscenario import load_scenario
from tests.support.expected import expected
from tests.support.small import FILES, small_deck

HERE = Path(__file__).parent
BROKEN = sorted((HERE / "err").glob("*.yaml"))
FINE = sorted((HERE / "ok").glob("*.yaml"))


def findings_of(path: Path) -> tuple[Diagnostic, ...]:
    """All findings of the small deck with this file in it. The first line: `# in: deck | phase NAME | scenario`."""
    raw = path.read_bytes()
    place = raw.split(b"\n", 1)[0].decode().removeprefix("# in: ").split()
    try:
        match place:
            case ["scenario"]:
                return load_scenario("scenario.yaml", raw, small_deck())[1]
            case ["deck"]:
                return _load({"deck.yaml": raw})
            case ["phase", name]:
                return _load({f"{name}.yaml": raw})
            case _:
                raise AssertionError(f"{path.name}: the first line does not say where it belongs")
    except Rejected as rejected:
        return rejected.findings


def _load(changed: dict[str, bytes]) -> tuple[Diagnostic, ...]:
    return load_deck("small", {**{name: text.encode() for name, text in FILES.items()}, **changed})[1]


@pytest.mark.parametrize("path", BROKEN, ids=lambda path: path.stem)
def test_what_is_said_of_a_broken_file(path: Path) -> None:
    said = "".join(f"{finding}\n" for finding in findings_of(path))
    assert said, "nothing was said"
    out = path.with_suffix(".out")
    assert said == expected(out, said)


@pytest.mark.parametrize("path", BROKEN, ids=lambda path: path.stem)
def test_findings_have_places_in_reading_order(path: Path) -> None:
    """Every finding points into a line and column that the file has, and is one line without unseen characters."""
    found = findings_of(path)
    lines = path.read_text(encoding="utf-8", errors="replace").split("\n")
    assert [f.place for f in found] == sorted(f.place for f in found)
    for finding in found:
        if finding.place.file == "scenario.yaml" or Path(finding.place.file).name == _target(path):
            assert 1 <= finding.place.line <= len(lines)
            assert 1 <= finding.place.column <= len(lines[finding.place.line - 1]) + 1, finding
        assert str(finding).isprintable()


def _target(path: Path) -> str:
    place = path.read_bytes().split(b"\n", 1)[0].decode().removeprefix("# in: ").split()
    return f"{place[-1]}.yaml"


def test_every_out_file_has_its_file() -> None:
    assert {path.stem for path in (HERE / "err").glob("*.out")} == {path.stem for path in BROKEN}
    assert len(BROKEN) >= 40


@pytest.mark.parametrize("path", FINE, ids=lambda path: path.stem)
def test_nothing_is_said_of_a_good_file(path: Path) -> None:
    assert findings_of(path) == ()
