"""How a field reads text: YAML 1.2 core booleans and numbers only, and text as written.

`NO`, `on` and `12:30` are words; `07` is a number only where a field wants a number.
"""

import re
from typing import Annotated, Any

from pydantic import BeforeValidator, StringConstraints

from flowdeck.phasefile.read import Plain

_NUMBER = re.compile(r"[-+]?(\d+(\.\d*)?|\.\d+)([eE][-+]?\d+)?\Z", re.ASCII)
BIDI = re.compile("[\u202a-\u202e\u2066-\u2069\u200e\u200f\u061c]")
CONTROL = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f]")


def number(value: Any) -> Any:
    """Text to float where it is a number of YAML 1.2's core; anything else is left for the error message."""
    if isinstance(value, str):
        if _NUMBER.match(value):
            return float(value)
        raise ValueError(f"expected a number, found '{value}'")
    return value


def boolean(value: Any) -> Any:
    """`true` or `false`, nothing else."""
    if value in ("true", "false"):
        return value == "true"
    raise ValueError(f"expected true or false, found '{value}'")


def scalar(value: Any) -> Any:
    """A number, a boolean or a word: unquoted text is resolved, quoted text is a word."""
    if isinstance(value, Plain):
        if value in ("true", "false"):
            return value == "true"
        if _NUMBER.match(value):
            return float(value)
    if isinstance(value, str):
        return str(value)
    raise ValueError("expected a number, true, false or a word")


def text(value: Any) -> Any:
    """One line of text as written; control and direction-changing characters are refused."""
    if not isinstance(value, str):
        kind = "a list" if isinstance(value, list) else "a table"
        raise ValueError(f"expected text, found {kind}")
    joined = " ".join(value.split("\n")).strip() if "\n" in value else str(value)
    found = CONTROL.search(joined) or BIDI.search(joined)
    if found:
        raise ValueError(f"the character U+{ord(found.group()):04X} is not shown on any screen; remove it")
    return joined


Number = Annotated[float, BeforeValidator(number)]
Boolean = Annotated[bool, BeforeValidator(boolean)]
ScalarValue = Annotated[float | bool | str, BeforeValidator(scalar)]
Text = Annotated[str, BeforeValidator(text), StringConstraints(min_length=1, max_length=600)]
Loose = Annotated[str, BeforeValidator(text), StringConstraints(max_length=600)]
Id = Annotated[
    str,
    BeforeValidator(text),
    StringConstraints(pattern=r"^[a-z][a-z0-9]*([-][a-z0-9]+)*$", max_length=60),
]
Name = Annotated[str, BeforeValidator(text), StringConstraints(pattern=r"^[a-z][a-z0-9]*(_[a-z0-9]+)*$", max_length=60)]
