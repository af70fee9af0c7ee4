"""A new deck to begin with: files that can be vetted, rehearsed and flown as they stand."""

import re
from collections.abc import Iterator
from datetime import date
from pathlib import Path

from flowdeck.model.diagnostic import refused

_FILES = Path(__file__).resolve().parent / "scaffold"
_NAME = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*\Z")
MINIMUM_FT = 800


def new_deck(folder: Path, shown: str) -> tuple[Path, ...]:
    """Write a new deck into *folder*, which must be empty or not there; its last part is the deck's name.

    Returns the files that were written. Raises `Rejected`; nothing is ever written over.
    """
    name = folder.name
    if not _NAME.match(name) or len(name) > 50:
        message = f"a deck's name is lower-case words joined by hyphens, as in my-deck; found '{name}'"
        raise refused(shown, "name", message)
    try:
        if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
            raise refused(shown, "exists", "something is there already; name a folder that is empty or not there")
        written = []
        for path, text in _texts(name, folder, shown):
            path.parent.mkdir(parents=True, exist_ok=True)
            with path.open("x", encoding="utf-8") as file:
                file.write(text)
            written.append(path)
    except OSError as error:
        raise refused(shown, "unwritable", f"cannot be written: {error.strerror or error}") from None
    return tuple(written)


def _texts(name: str, folder: Path, shown: str) -> Iterator[tuple[Path, str]]:
    words = {
        "DECK": name,
        "TITLE": name.replace("-", " ").capitalize(),
        "DATE": date.today().isoformat(),
        "FOLDER": shown,
        "SCENARIO": f"{shown}/scenarios/clean.yaml",
        "MINIMUM": str(MINIMUM_FT),
    }
    for path in sorted(_FILES.rglob("*.yaml")):
        text = path.read_text(encoding="utf-8")
        yield folder / path.relative_to(_FILES), re.sub(r"@([A-Z]+)@", lambda found: words[found[1]], text)
