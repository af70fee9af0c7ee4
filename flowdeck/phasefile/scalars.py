"""How a field reads text: YAML 1.2 core booleans and numbers only, and text as written.

`NO`, `on` and `12:30` are words; `07` is a number only where a field wants a number.
"""

import re
from math import isinf
from typing import Annotated, Any

from pydantic import BeforeValidator, Field, StringConstraints

from flowdeck.model.diagnostic import UNSEEN
from flowdeck.phasefile.located import Plain
from flowdeck.phasefile.words import shown

NUMBER = re.compile(r"[-+]?(\d+(\.\d*)?|\.\d+)([eE][-+]?\d+)?\Z", re.ASCII)


def number(value: Any) -> Any:
    """Text to float where it is a decimal number of YAML 1.2's core."""
    if isinstance(value, str) and NUMBER.match(value):
        return float(value)
    if isinstance(value, float):
        return value  # a default
    raise ValueError(f"expected a number, found {shown(value)}")


def whole(value: Any) -> Any:
    """A number without a fraction."""
    found = number(value)
    if found != found // 1:
        raise ValueError(f"expected a whole number, found {shown(value)}")
    return found


def boolean(value: Any) -> Any:
    """`true` or `false`, nothing else."""
    if value in ("true", "false"):
        return value == "true"
    raise ValueError(f"expected true or false, found {shown(value)}")


def scalar(value: Any) -> Any:
    """A number, a boolean or a word: unquoted text is resolved, quoted text is a word."""
    if not isinstance(value, str) or value == "":
        raise ValueError(f"expected a number, true, false or a word, found {shown(value)}")
    if isinstance(value, Plain):
        if value in ("true", "false"):
            return value == "true"
        if NUMBER.match(value):
            return _finite(value)
    return text(value)


def _finite(value: str) -> float:
    found = float(value)
    if isinf(found):
        raise ValueError("the number is too large")
    return found


def text(value: Any) -> Any:
    """One line of text as written; control, direction-changing and invisible characters are refused."""
    if not isinstance(value, str):
        raise ValueError(f"expected text, found {shown(value)}")
    if value.isascii() and value.isprintable():
        return str(value) if value.strip() else ""
    joined = " ".join(value.split("\n")).strip() if "\n" in value else str(value)
    joined = joined.replace("\t", " ")
    found = UNSEEN.search(joined)
    if found:
        raise ValueError(f"the character U+{ord(found.group()):04X} is not shown on any screen; remove it")
    return joined if joined.strip() else ""


def formed(pattern: str) -> Any:
    """A text of this form, for the reader of a file and for an editor."""
    return Field(pattern=pattern, json_schema_extra={"pattern": pattern})


Number = Annotated[float, BeforeValidator(number)]
Whole = Annotated[float, BeforeValidator(whole)]
Seconds = Annotated[float, BeforeValidator(number), Field(ge=0, le=3600)]
Boolean = Annotated[bool, BeforeValidator(boolean)]
ScalarValue = Annotated[float | bool | str, BeforeValidator(scalar)]
Text = Annotated[str, BeforeValidator(text), StringConstraints(min_length=1, max_length=600)]
Loose = Annotated[str, BeforeValidator(text), StringConstraints(max_length=600)]
Id = Annotated[
    str,
    BeforeValidator(text),
    StringConstraints(min_length=1, max_length=60),
    formed(r"^[a-z][a-z0-9]*([-][a-z0-9]+)*$"),
]
Name = Annotated[
    str,
    BeforeValidator(text),
    StringConstraints(min_length=1, max_length=60),
    formed(r"^[a-z][a-z0-9]*(_[a-z0-9]+)*$"),
]
