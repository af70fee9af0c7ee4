"""Other keys for the actions of the screen, from a small YAML file: `captain: d`."""

from pathlib import Path

from flowdeck.model.diagnostic import Diagnostic, Place, Rejected
from flowdeck.phasefile.read import read

ACTIONS_HINT = "see the names in the help: captain, first_officer, tell, ..."


def read_keymap(path: str) -> dict[str, str]:
    """Action to key. Raises `Rejected` for a file that cannot be read or is no such table."""
    try:
        raw = Path(path).read_bytes()
    except OSError as error:
        raise Rejected((_finding(Place(path), f"cannot be read: {error.strerror}"),)) from None
    located = read(path, raw)
    if not isinstance(located.data, dict):
        raise Rejected((_finding(Place(path), "expected lines of `action: key`"),))
    findings = []
    keys: dict[str, str] = {}
    for name, key in located.data.items():
        if isinstance(key, str):
            keys[name] = key
        else:
            findings.append(_finding(located.place((name,)), f"{name}: expected one key ({ACTIONS_HINT})"))
    if findings:
        raise Rejected(tuple(findings))
    return keys


def _finding(place: Place, message: str) -> Diagnostic:
    return Diagnostic(place=place, kind="keys", message=message)
