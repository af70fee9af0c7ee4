"""Texts that were looked at once and are kept: what a thing must say, word for word."""

import os
from pathlib import Path


def expected(path: Path, said: str) -> str:
    """The text kept at *path*; with `UPDATE_OUT=1` it is *said* from now on, to be read as a difference."""
    if os.environ.get("UPDATE_OUT"):
        path.write_text(said, encoding="utf-8")
    return path.read_text(encoding="utf-8")
