"""Writing a page for a reader, and saying where it is."""

import sys
from pathlib import Path


def write_page(path: str, text: str, what: str = "page") -> bool:
    """Write *text* to *path*, over what was there; False when it cannot be written. Either is said on stderr."""
    try:
        Path(path).write_text(text, encoding="utf-8")
    except OSError as error:
        print(f"{path}: cannot be written: {error.strerror or error}", file=sys.stderr)
        return False
    print(f"{what}: {path}", file=sys.stderr)
    return True
