"""The pictures of the README are drawn by the project itself."""

import re
from pathlib import Path

import pytest

from tests.pictures import main

ROOT = Path(__file__).resolve().parent.parent


@pytest.mark.soak
async def test_every_picture_of_the_readme_can_be_drawn(tmp_path: Path) -> None:
    """Each picture that the README shows is one that `make pictures` makes, and lies in the tree."""
    await main(tmp_path)
    drawn = {path.name for path in tmp_path.glob("*.svg")}
    shown = set(re.findall(r"\(pictures/([a-z-]+\.svg)\)", (ROOT / "README.md").read_text(encoding="utf-8")))
    assert shown and shown <= drawn
    for name in shown:
        assert (ROOT / "pictures" / name).is_file()
        text = (tmp_path / name).read_text(encoding="utf-8")
        if name not in ("profile.svg", "lanes.svg", "cards.svg"):
            assert "<circle" not in text and "Captain" in text
