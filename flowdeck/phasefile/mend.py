"""What a file with findings most likely means, so that one round of reading finds all that is wrong.

Nothing that was mended is ever flown: a file with findings is refused.
"""

from typing import Any

from pydantic import BaseModel

from flowdeck.phasefile.read import Path
from flowdeck.phasefile.shapewalk import choices_at, field_at, fields_at
from flowdeck.phasefile.words import near

_ANY_WORDS = (
    "why",
    "title",
    "reason",
    "words",
    "completion",
    "do",
    "say",
    "challenge",
    "respond",
    "date",
    "version",
    "type",
    "operator",
    "status",
)


def mended(data: Any, errors: list[tuple[Path, str]], shape: type[BaseModel]) -> Any | None:
    """*data* with each error (its path and pydantic's name for it) taken away; None when one cannot be."""
    copy = _copy(data)
    for path, kind in errors:
        if not _mend(copy, path, kind, shape):
            return None
    return copy


def _copy(data: Any) -> Any:
    if isinstance(data, dict):
        return {key: _copy(value) for key, value in data.items()}
    return [_copy(value) for value in data] if isinstance(data, list) else data


def _mend(data: Any, path: Path, kind: str, shape: type[BaseModel]) -> bool:
    while path and isinstance(path[-1], int):
        path = path[:-1]  # one entry of a list: the list as a whole
    if not path:
        return False
    table, key = _at(data, path[:-1]), str(path[-1])
    if not isinstance(table, dict):
        return False
    if kind == "extra_forbidden":
        value = table.pop(key, None)
        meant = near(key, fields_at(shape, path[:-1]) - set(table))
        if meant is not None and value is not None:
            table[meant] = value
        return True
    field = field_at(shape, path)
    if field is None or not field.is_required():
        table.pop(key, None)
        return True
    choices = choices_at(shape, path)
    if choices or key in _ANY_WORDS:
        table[key] = choices[-1] if choices else "trial"
        return True
    return False


def _at(data: Any, path: Path) -> Any:
    for part in path:
        try:
            data = data[part]
        except (KeyError, IndexError, TypeError):
            return None
    return data
