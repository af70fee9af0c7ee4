"""From a located file to its shape, with pydantic's errors turned into findings with places."""

from collections.abc import Iterable
from difflib import get_close_matches
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from flowdeck.model.diagnostic import Diagnostic, Rejected
from flowdeck.phasefile.read import Located, Path

S = TypeVar("S", bound=BaseModel)


def validate(located: Located, shape: type[S]) -> S:
    """The file as *shape*. Raises `Rejected` with every finding of the file, in reading order."""
    try:
        return shape.model_validate(located.data)
    except ValidationError as error:
        findings = {_finding(located, detail, shape) for detail in error.errors(include_url=False)}
        raise Rejected(tuple(sorted(findings, key=lambda f: (f.place, f.message)))) from None


def nearest(word: str, known: Iterable[str]) -> str:
    """`; did you mean 'x'?` or nothing."""
    close = get_close_matches(word, list(known), n=1, cutoff=0.6)
    return f"; did you mean '{close[0]}'?" if close else ""


def _finding(located: Located, detail: Any, shape: type[BaseModel]) -> Diagnostic:
    path: Path = tuple(part for part in detail["loc"] if part != "[key]" and not _is_validator(part))
    kind, message = _words(detail, path, shape)
    place = located.keys.get(path) if kind in ("unknown-key", "name") else None
    return Diagnostic(place=place or located.place(path), kind=kind, message=message)


def _is_validator(part: Any) -> bool:
    return isinstance(part, str) and (part.startswith("function-") or part in ("float", "bool", "str"))


def _words(detail: Any, path: Path, shape: type[BaseModel]) -> tuple[str, str]:
    field = str(path[-1]) if path else "the file"
    given = detail.get("input")
    shown = f"'{given}'" if isinstance(given, str) else "a list" if isinstance(given, list) else "a table"
    context = detail.get("ctx") or {}
    match detail["type"]:
        case "missing":
            return "missing", f"'{field}' is missing here"
        case "extra_forbidden":
            allowed = sorted(_fields_at(shape, path[:-1]))
            hint = nearest(field, allowed) or "."
            return "unknown-key", f"'{field}' is not known here{hint} Known here: {', '.join(allowed)}"
        case "value_error":
            return "wrong-value", f"{field}: {context.get('error', detail['msg'])!s}"
        case "enum" | "literal_error":
            return "wrong-value", f"{field}: expected {context.get('expected')}, found {shown}"
        case "string_pattern_mismatch":
            if field == "status":
                return "wrong-value", f"status: expected draft, trial, or approved by NAME, found {shown}"
            joiner = "underscores" if "_" in str(context.get("pattern")) else "hyphens"
            return "name", f"{field}: expected lower-case words joined by {joiner}, found {shown}"
        case "string_too_short" | "too_short":
            return "empty", f"{field} is empty"
        case "string_too_long":
            return "too-long", f"{field} is longer than {context.get('max_length')} characters"
        case "list_type":
            return "wrong-type", f"{field}: expected a list (lines that start with '-'), found {shown}"
        case "dict_type" | "model_type" | "model_attributes_type":
            return "wrong-type", f"{field}: expected a table (key: value), found {shown}"
        case "greater_than_equal" | "less_than_equal" | "greater_than" | "less_than":
            return "out-of-range", f"{field}: {detail['msg'][0].lower()}{detail['msg'][1:]}, found {shown}"
        case _:
            return "wrong-value", f"{field}: {detail['msg']}"


def _fields_at(shape: Any, path: Path) -> set[str]:
    """The keys allowed in the table at *path*, found by walking the shapes; empty when it cannot be told."""
    for part in path:
        if isinstance(part, int):
            continue
        field = next(
            (f for name, f in shape.model_fields.items() if part in (name, f.alias)),
            None,
        )
        inner = None if field is None else _inner_shape(field.annotation)
        if inner is None:
            return set()
        shape = inner
    return {field.alias or name for name, field in shape.model_fields.items()}


def _inner_shape(annotation: Any) -> type[BaseModel] | None:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    for inner in getattr(annotation, "__args__", ()):
        found = _inner_shape(inner)
        if found is not None:
            return found
    return None
