"""What each rule says of a deck with one thing wrong, word for word; and near misses of which nothing is said.

A file in `err/` or `ok/` is named after its rule (`list-too-long.yaml`, `list-too-long-slow.yaml`) and lists changes to
the sound deck of `tests/support/sound.py`: `in` a file, `old` text that stands there once, `new` text in its place; a
change without `old` adds its text at the end. After a message was changed on purpose, `UPDATE_OUT=1 pytest
tests/vet/test_pairs.py` writes the .out files anew: read the difference.
"""

from pathlib import Path

import pytest
import yaml

from flowdeck.model.diagnostic import Diagnostic
from flowdeck.vet import RULES, vet
from tests.support.expected import expected
from tests.support.sound import changed, sound_files

HERE = Path(__file__).parent
BROKEN = sorted((HERE / "err").glob("*.yaml"))
FINE = sorted((HERE / "ok").glob("*.yaml"))


def findings_of(path: Path) -> tuple[Diagnostic, ...]:
    files = sound_files()
    for change in yaml.safe_load(path.read_text(encoding="utf-8")):
        name = change["in"]
        if "old" in change:
            files[name] = changed(files[name], change["old"], change["new"])
        else:
            files[name] = files.get(name, "") + change["new"]
    return vet("sound", {name: text.encode() for name, text in files.items()}).findings


def rule_of(path: Path) -> str:
    """The longest rule that the file's name begins with."""
    return max((name for name in RULES if f"{path.stem}-".startswith(f"{name}-")), key=len, default="")


def test_nothing_is_said_of_the_sound_deck() -> None:
    assert vet("sound", {name: text.encode() for name, text in sound_files().items()}).findings == ()


@pytest.mark.parametrize("path", BROKEN, ids=lambda path: path.stem)
def test_what_a_rule_says(path: Path) -> None:
    found = findings_of(path)
    assert rule_of(path) in {finding.kind for finding in found}
    said = "".join(f"{finding}\n" for finding in found)
    out = path.with_suffix(".out")
    assert said == expected(out, said)


@pytest.mark.parametrize("path", FINE, ids=lambda path: path.stem)
def test_a_near_miss_is_no_finding(path: Path) -> None:
    assert rule_of(path) and findings_of(path) == ()


def test_every_out_file_has_its_file() -> None:
    assert {path.stem for path in (HERE / "err").glob("*.out")} == {path.stem for path in BROKEN}


def test_every_rule_has_both() -> None:
    """A deck with that thing wrong, and a near miss of which nothing is said."""
    assert {rule_of(path) for path in BROKEN} == {rule_of(path) for path in FINE} == set(RULES)
