"""From a located file to its shape, with pydantic's errors turned into findings with places."""

import re
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from flowdeck.model.diagnostic import Diagnostic, Rejected
from flowdeck.phasefile.mend import mended
from flowdeck.phasefile.read import Located, Path
from flowdeck.phasefile.shapewalk import choices_at, fields_at
from flowdeck.phasefile.words import near, one_of, shown, visible

S = TypeVar("S", bound=BaseModel)


def validate(located: Located, shape: type[S]) -> S:
    """The file as *shape*. Raises `Rejected` with every finding of the file, in reading order."""
    built, findings = guess(located, shape)
    if built is None or findings:
        raise Rejected(findings)
    return built


def guess(located: Located, shape: type[S]) -> tuple[S | None, tuple[Diagnostic, ...]]:
    """The file as *shape*, with every finding of the file, in reading order.

    When there are findings, the shape is what the file most likely means, good for finding what else is wrong
    and for nothing else; None when that cannot be guessed.
    """
    try:
        return shape.model_validate(located.data), ()
    except ValidationError as error:
        details = error.errors(include_url=False)
    findings = {_finding(located, detail, shape) for detail in details}
    data = mended(located.data, [(_path(located, d), str(d["type"])) for d in details], shape)
    try:
        built = None if data is None else shape.model_validate(data)
    except ValidationError:
        built = None
    return built, tuple(sorted(findings, key=lambda f: (f.place, f.message)))


def _path(located: Located, detail: Any) -> Path:
    """The path of the error in the file, without what pydantic adds of its own."""
    path: Path = ()
    for part in detail["loc"]:
        own = (*path, part) not in located.at and (part == "[key]" or str(part).startswith("function-"))
        path = path if own else (*path, part)
    return path


def _finding(located: Located, detail: Any, shape: type[BaseModel]) -> Diagnostic:
    path = _path(located, detail)
    kind, message = _words(located, detail, path, shape)
    place = located.keys.get(path) if kind in ("unknown-key", "name") else None
    return Diagnostic(place=place or located.place(path), kind=kind, message=visible(message))


def _words(located: Located, detail: Any, path: Path, shape: type[BaseModel]) -> tuple[str, str]:
    named = [part for part in path if isinstance(part, str)]
    field = named[-1] if named else "the file"
    found = shown(detail.get("input"))
    context = detail.get("ctx") or {}
    match detail["type"]:
        case "missing":
            return "missing", _missing(located, path, field, shape)
        case "extra_forbidden":
            allowed = sorted(fields_at(shape, path[:-1]))
            where = _subject(located, path[:-1])
            close = near(field, allowed)
            hint = f"did you mean '{close}'?" if close else f"known here: {', '.join(allowed)}"
            return "unknown-key", f"{shown(field)} is not known in {where}; {hint}"
        case "value_error":
            return "wrong-value", f"{field}: {context.get('error', detail['msg'])!s}"
        case "enum" | "literal_error":
            choices = re.findall(r"'([^']+)'", str(context.get("expected")))
            close = near(str(detail.get("input")), choices)
            hint = f"; did you mean '{close}'?" if close else ""
            return "wrong-value", f"{field}: expected {one_of(choices)}, found {found}{hint}"
        case "string_pattern_mismatch":
            if field == "status":
                return "wrong-value", f"status: expected draft, trial, or approved by NAME, found {found}"
            joiner, sample = (
                ("underscores", "on_stand") if "(_" in str(context.get("pattern")) else ("hyphens", "flaps-up")
            )
            return "name", f"{field}: expected lower-case words joined by {joiner}, as in {sample}, found {found}"
        case "string_too_short" | "too_short":
            return "empty", f"{field} is empty; give it a value" + ("" if field == "the file" else " or leave it out")
        case "string_too_long":
            return "too-long", f"{field} is longer than {context.get('max_length')} characters; shorten it"
        case "list_type":
            return "wrong-type", f"{field}: expected a list (lines that start with '-'), found {found}"
        case "dict_type" | "model_type" | "model_attributes_type":
            return "wrong-type", f"{field}: expected a table (key: value), found {found}"
        case "greater_than_equal":
            return "out-of-range", f"{field}: expected {context['ge']:g} or more, found {found}"
        case "less_than_equal":
            return "out-of-range", f"{field}: expected {context['le']:g} or less, found {found}"
        case "greater_than":
            return "out-of-range", f"{field}: expected more than {context['gt']:g}, found {found}"
        case "finite_number":
            return "out-of-range", f"{field}: the number is too large"
        case _:
            return "wrong-value", f"{field}: {detail['msg']}"


_NAMING = (
    "item",
    "flow",
    "line",
    "hold",
    "checklist",
    "call",
    "standing",
    "gate",
    "happening",
    "phase",
    "deck",
    "scenario",
)


def _subject(located: Located, path: Path) -> str:
    """The table at *path* as its writer would call it: `the item 'flaps-up'`, `'fail' of the gate 'stable-1000'`."""
    data: Any = located.data
    subject = "this file"
    for part in (None, *path):
        if part is not None:
            data = data[part]
            if isinstance(part, str):
                subject = f"'{part}'" if subject == "this file" else f"'{part}' of {subject}"
        if isinstance(data, dict):
            own = next((key for key in _NAMING if isinstance(data.get(key), str) and key != part), None)
            if own is not None and not (isinstance(part, str) and part in ("after", "needs")):
                subject = f"the {own} {shown(data[own])}"
    return subject


def _missing(located: Located, path: Path, field: str, shape: type[BaseModel]) -> str:
    allowed = choices_at(shape, path)
    hint = f": {one_of(allowed)}" if allowed else ""
    return f"'{field}' is missing in {_subject(located, path[:-1])}; add {field}{hint or ': ...'}"
