"""The guide of the README, done as it is written: every command typed, every file changed, every answer compared."""

import re
import shlex
from pathlib import Path

import pytest

from flowdeck.cli.main import main

README = (Path(__file__).resolve().parents[1] / "README.md").read_text(encoding="utf-8")
GUIDE = README.split("## Draft your own flow in ten minutes\n")[1].split("\n## ")[0]
BLOCKS = re.findall(r"```(\w*)\n(.*?)```", GUIDE, flags=re.DOTALL)
MENDED = (
    ('opens: "groundspeed_kt < 1 and groundspeed_kt > 5"', 'opens: "groundspeed_kt < 1"'),
    ("to: As required", "to: 'OFF'"),
)


def test_the_guide_can_be_followed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    said = ""
    typed = 0
    for kind, text in BLOCKS:
        if kind == "yaml" and text.startswith("# my-deck/"):
            place, _, body = text.partition("\n")
            path = tmp_path / place.removeprefix("# ").partition(",")[0]
            before = path.read_text(encoding="utf-8")
            path.write_text(before.replace("flows:\n", f"flows:\n{body}", 1), encoding="utf-8")
        elif kind == "text":
            assert said == text
            _mend(tmp_path / "my-deck/parking.yaml")
        elif kind == "":
            for line in text.splitlines():
                command, _, remark = line.partition("#")
                words = shlex.split(command.partition(">")[0])
                assert words[0] == "flowdeck"
                if words[1] == "fly":
                    continue  # it takes the terminal
                typed += 1
                assert main(words[1:]) == int(remark.partition("exit ")[2] or 0), line
                said = capsys.readouterr().out
    assert typed >= 9


def _mend(path: Path) -> None:
    """As the guide tells."""
    text = path.read_text(encoding="utf-8")
    for old, new in MENDED:
        assert f"`{new}`" in GUIDE and text.count(old) == 1
        text = text.replace(old, new)
    path.write_text(text, encoding="utf-8")
