"""The join code: what lets a guest in. Made by the system's own chance, kept beside the journal for a restart."""

import contextlib
import os
import secrets
import string
from hashlib import sha256
from pathlib import Path

from flowdeck.live.files import read_bounded
from flowdeck.model.diagnostic import Rejected, refused

LETTERS = "".join(sorted({*string.ascii_uppercase, *string.digits} - set("0O1IL5S8B2Z")))
"""Without those that look alike."""
LENGTH = 10
_HALF = LENGTH // 2
_LARGEST = 1000


def make_code() -> str:
    """A new code as it is shown: two halves with a hyphen."""
    made = "".join(secrets.choice(LETTERS) for _ in range(LENGTH))
    return f"{made[:_HALF]}-{made[_HALF:]}"


def read_code(typed: str) -> str:
    """A code as it is shown, from what a person typed: capitals or not, with blanks and hyphens or without."""
    letters = "".join(letter for letter in typed.upper() if letter.isalnum())
    return f"{letters[:_HALF]}-{letters[_HALF:]}" if len(letters) > _HALF else letters


def is_code(code: str) -> bool:
    """Whether it is one of ours, as it is shown."""
    letters = code.replace("-", "")
    return code == read_code(letters) and len(letters) == LENGTH and all(letter in LETTERS for letter in letters)


def code_path(journal: Path) -> Path:
    return journal.with_name(f"{journal.name}.code")


def keep_code(journal: Path, code: str, port: int) -> None:
    """Keep code and port beside the journal, for nobody else to read. Raises `Rejected`; an older file is replaced."""
    path = code_path(journal)
    try:
        with contextlib.suppress(FileNotFoundError):
            path.unlink()
        descriptor = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(descriptor, "w", encoding="ascii") as file:
            file.write(f"{code}\n{port}\n")
    except OSError as error:
        raise refused(str(path), "join-code", f"cannot be written: {error.strerror}") from None


def kept_code(journal: Path) -> tuple[str, int] | None:
    """The code and port of a flight that is taken up again; None when they were not kept, or are not sound."""
    try:
        lines = read_bounded(str(code_path(journal)), _LARGEST).decode("ascii").split("\n")
        code, port = lines[0], int(lines[1])
    except (Rejected, ValueError, IndexError):
        return None
    return (code, port) if is_code(code) and 0 < port < 65_536 else None


def flight_id(journal: Path) -> str:
    """What a flight is known by to its guests: from its journal's first line, so the same after a restart."""
    with journal.open("rb") as file:
        return sha256(file.readline()).hexdigest()[:16]
