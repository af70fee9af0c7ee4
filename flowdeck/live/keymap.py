"""Other keys for the actions of the screen, from a small YAML file: `captain: d`."""

import re
from collections.abc import Mapping

from flowdeck.live.files import read_bounded
from flowdeck.model.diagnostic import MOST, UNSEEN, Diagnostic, Place, Rejected
from flowdeck.model.likeness import near
from flowdeck.phasefile.read import LARGEST, read
from flowdeck.phasefile.words import shown

_KEY = re.compile(r"[a-zA-Z0-9_+-]{1,40}|\S")
"""A key's name as the terminal library has it, or one character."""


def read_keymap(path: str, known: Mapping[str, str]) -> dict[str, str]:
    """Action to key; *known* are the actions that there are, with the keys that they have.

    Raises `Rejected` with every finding: no such table, an unknown action, one key for two actions.
    """
    located = read(path, read_bounded(path, LARGEST))
    if not isinstance(located.data, dict):
        raise Rejected((_finding(Place(path), "expected lines of `action: key`"),))
    names = list(known)
    findings: list[Diagnostic] = []
    keys: dict[str, str] = {}
    for name, key in located.data.items():
        if len(findings) >= MOST:
            break
        if name not in names:
            close = near(name, names)
            hint = f"did you mean '{close}'?" if close else f"there are: {', '.join(names)}"
            findings.append(_finding(located.key_place((name,)), f"there is no action '{name}'; {hint}"))
        elif not isinstance(key, str) or _KEY.fullmatch(key) is None or UNSEEN.search(key):
            found = shown(key)
            message = f"{name}: expected one key, such as `d` or `ctrl+d`, found {found}"
            findings.append(_finding(located.place((name,)), message))
        elif key in keys.values():
            other = next(action for action, taken in keys.items() if taken == key)
            findings.append(_finding(located.place((name,)), f"the key '{key}' is given to '{other}' already"))
        else:
            keys[name] = str(key)
    for name, key in keys.items():
        owner = next((action for action, usual in known.items() if usual == key and action not in keys), None)
        if owner is not None:
            message = f"the key '{key}' is that of '{owner}'; give '{owner}' another one too"
            findings.append(_finding(located.place((name,)), message))
    if findings:
        raise Rejected(tuple(findings))
    return keys


def _finding(place: Place, message: str) -> Diagnostic:
    return Diagnostic(place=place, kind="keys", message=message)
