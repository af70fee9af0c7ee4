"""What a file with findings most likely means, so that one round of reading finds all that is wrong.

Nothing that was mended is ever flown: a file with findings is refused.
"""

from typing import Any

from pydantic import BaseModel

from flowdeck.model.likeness import near
from flowdeck.phasefile.located import Located, Path
from flowdeck.phasefile.shapewalk import choices_at, field_at, fields_at

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


def mended(located: Located, errors: list[tuple[Path, str]], shape: type[BaseModel]) -> tuple[Located, bool]:
    """*located* with each error (its path and pydantic's name for it) taken away; False when a part went with it."""
    data = _copy(located.data)
    renamed: dict[Path, Path] = {}
    kept = [_mend(data, path, kind, shape, renamed) for path, kind in errors]
    return located.mended(data, renamed), all(kept)


def _copy(data: Any) -> Any:
    if isinstance(data, dict):
        return {key: _copy(value) for key, value in data.items()}
    return [_copy(value) for value in data] if isinstance(data, list) else data


def _mend(data: Any, path: Path, kind: str, shape: type[BaseModel], renamed: dict[Path, Path]) -> bool:
    """Rename an unknown key, leave out an optional one, fill in a word; failing that, leave out what is around it."""
    whole = True
    while path:
        table, key = _at(data, path[:-1]), path[-1]
        if not isinstance(table, dict) or isinstance(key, int):
            whole, path = False, path[:-1]
            continue
        if kind == "extra_forbidden" and whole:
            value = table.pop(key, None)
            meant = near(key, fields_at(shape, path[:-1]) - set(table))
            if meant is not None and value is not None:
                table[meant] = value
                renamed[(*path[:-1], meant)] = path
            return True
        field = field_at(shape, path)
        choices = choices_at(shape, path)
        if field is None or not field.is_required():
            table.pop(key, None)
            return whole
        if whole and (choices or key in _ANY_WORDS):
            table[key] = choices[-1] if choices else "trial"
            return True
        whole, path = False, path[:-1]
    return whole


def _at(data: Any, path: Path) -> Any:
    for part in path:
        try:
            data = data[part]
        except (KeyError, IndexError, TypeError):
            return None
    return data
