"""Other keys from a file: what is taken, and words for what is not."""

from pathlib import Path

import pytest

from flowdeck.live.keymap import read_keymap
from flowdeck.model.diagnostic import Rejected

ACTIONS = {"captain": "f", "first_officer": "j", "tell": "t"}


def test_a_good_file(tmp_path: Path) -> None:
    path = tmp_path / "keys.yaml"
    path.write_text("captain: d\nfirst_officer: ctrl+k\n", encoding="utf-8")
    assert read_keymap(str(path), ACTIONS) == {"captain": "d", "first_officer": "ctrl+k"}


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("captian: d\n", "did you mean 'captain'"),
        ("captain: d\ntell: d\n", "given to 'captain' already"),
        ("captain: [d]\n", "expected one key"),
        ("captain: t\n", "is that of 'tell'"),
        ("- captain\n", "action: key"),
        ("captain: 'd\n", "keys.yaml:"),
    ],
)
def test_a_bad_file_says_where_and_what(tmp_path: Path, text: str, words: str) -> None:
    path = tmp_path / "keys.yaml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(Rejected) as rejected:
        read_keymap(str(path), ACTIONS)
    assert words in str(rejected.value)
