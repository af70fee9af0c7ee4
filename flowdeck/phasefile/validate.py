"""From a located file to its shape, with pydantic's errors turned into findings with places."""

import re
from typing import Any, Generic, NamedTuple, TypeVar

from pydantic import BaseModel, ValidationError

from flowdeck.model.diagnostic import MOST, Diagnostic, Place, more, visible
from flowdeck.model.likeness import near
from flowdeck.phasefile.located import Located, Path
from flowdeck.phasefile.mend import mended
from flowdeck.phasefile.shapewalk import bounds_at, choices_at, field_at, fields_at
from flowdeck.phasefile.words import one_of, shown, unit_of

S = TypeVar("S", bound=BaseModel)


class Guess(NamedTuple, Generic[S]):
    """A file with every finding of it, in reading order.

    Where there are findings, *shape* is what the file most likely means: good for finding what else is wrong, and
    for nothing else. None when that cannot be guessed; not *whole* when a part of the file is left out of it.
    *touched*: the tables from which something was taken, by their place.
    """

    located: Located
    shape: S | None
    findings: tuple[Diagnostic, ...]
    whole: bool
    touched: frozenset[Place] = frozenset()


def guess(located: Located, shape: type[S]) -> Guess[S]:
    """The file as *shape*, and all that is wrong with its own form."""
    try:
        return Guess(located, shape.model_validate(located.data), (), True)
    except ValidationError as error:
        every = error.errors(include_url=False)
    details = every[:MOST]
    findings = {_finding(located, detail, shape) for detail in details}
    if len(every) > MOST:
        findings.add(more(located.place(_path(located, every[MOST])), len(every) - MOST))
    ordered = tuple(sorted(findings, key=lambda f: (f.place, f.message)))
    meant, whole = mended(located, [(_path(located, d), str(d["type"])) for d in details], shape)
    try:
        touched = frozenset(located.place(_path(located, detail)[:-1]) for detail in details)
        return Guess(meant, shape.model_validate(meant.data), ordered, whole, touched)
    except ValidationError:
        return Guess(located, None, ordered, False)


def _path(located: Located, detail: Any) -> Path:
    """The path of the error in the file, without what pydantic adds of its own."""
    path: Path = ()
    for part in detail["loc"]:
        own = (*path, part) not in located and (part == "[key]" or str(part).startswith("function-"))
        path = path if own else (*path, part)
    return path


def _finding(located: Located, detail: Any, shape: type[BaseModel]) -> Diagnostic:
    path = _path(located, detail)
    kind, message = _words(located, detail, path, shape)
    of_key = kind in ("unknown-key", "name") or detail["loc"][-1:] == ("[key]",)
    place = located.key_place(path) if of_key else located.place(path)
    return Diagnostic(place=place, kind=kind, message=visible(message))


def _words(located: Located, detail: Any, path: Path, shape: type[BaseModel]) -> tuple[str, str]:
    named = [part for part in path if isinstance(part, str)]
    field = named[-1] if named else "the file"
    found = shown(detail.get("input"))
    number = found.strip("'")
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
            if close is None:
                return "wrong-value", f"{field}: expected {one_of(choices)}, found {found}"
            usual = f"one of {len(choices)} words" if len(choices) > _FEW else one_of(choices)
            return "wrong-value", f"{field}: expected {usual}, found {found}; did you mean '{close}'?"
        case "string_pattern_mismatch":
            if field == "status":
                return "wrong-value", f"status: expected draft, trial, or approved by NAME, found {found}"
            if field == "ident":
                return "wrong-value", f"ident: expected two to four capital letters, as in TRN, found {found}"
            if "(VC)" in str(context.get("pattern")):
                return "wrong-value", f"{field}: expected a group as in a report, -RA or FZFG, found {found}"
            joiner, sample = (
                ("underscores", "on_stand") if "(_" in str(context.get("pattern")) else ("hyphens", "flaps-up")
            )
            return "name", f"{field}: expected lower-case words joined by {joiner}, as in {sample}, found {found}"
        case "string_too_short" | "too_short":
            wanted = "give it an entry" if isinstance(detail.get("input"), list) else "give it a value"
            known = field_at(shape, path)
            hint = wanted if known is None or known.is_required() else f"{wanted} or leave it out"
            return "empty", f"{field} is empty; {hint}"
        case "string_too_long" | "too_long":
            return "too-long", f"{field} is longer than {context.get('max_length')} characters; shorten it"
        case "list_type":
            return "wrong-type", f"{field}: expected a list (lines that start with '-'), found {found}"
        case "dict_type" | "model_type" | "model_attributes_type":
            return "wrong-type", f"{field}: expected a table (key: value), found {found}"
        case "greater_than_equal" | "less_than_equal" | "greater_than" | "less_than":
            return "out-of-range", f"{field}: expected {_range(shape, path, field, context)}, found {number}"
        case "finite_number":
            return "out-of-range", f"{field}: the number is too large"
        case _:
            return "wrong-value", f"{field}: {detail['msg']}"


def _range(shape: type[BaseModel], path: Path, field: str, context: Any) -> str:
    """The whole range of a field with its unit: `-1500 to 15000 ft`, `more than 0 kg/h`."""
    low, above, high = bounds_at(shape, path)
    low = context.get("ge", low)
    high = context.get("le", high)
    above = context.get("gt", above)
    unit = unit_of(field)
    if above is not None:
        ends = f"more than {above:g}" + ("" if high is None else f", up to {high:g}")
    elif low is None or high is None:
        ends = f"{high:g} or less" if low is None else f"{low:g} or more"
    else:
        ends = f"{low:g} to {high:g}"
    return f"{ends} {unit}" if unit else ends


_FEW = 8
_NAMING = {
    "item": "the item",
    "flow": "the flow",
    "line": "the line",
    "hold": "the hold",
    "checklist": "the checklist",
    "call": "the call",
    "standing": "the standing item",
    "gate": "the gate",
    "happening": "the happening",
}
"""Keys that name the thing that they stand in, and what it is called in a message."""
_POINTING = ("after", "needs", "causes", "must")
"""Tables whose `item` names another thing."""


def _subject(located: Located, path: Path) -> str:
    """The table at *path* as its writer would call it: `the item 'flaps-up'`, `'fail' of the gate 'stable-1000'`."""
    data: Any = located.data
    subject = ""
    last = ""
    for part in path:
        data = data[part]
        if isinstance(part, str):
            last = part
            subject = f"'{part}' of {subject}" if subject else f"'{part}'"
        if isinstance(data, dict) and last not in _POINTING:
            own = next((key for key in _NAMING if isinstance(data.get(key), str)), None)
            subject = subject if own is None else f"{_NAMING[own]} {shown(data[own])}"
    return subject or "this file"


def _missing(located: Located, path: Path, field: str, shape: type[BaseModel]) -> str:
    allowed = choices_at(shape, path)
    hint = f": {one_of(allowed)}" if allowed else ""
    return f"'{field}' is missing in {_subject(located, path[:-1])}; add {field}{hint or ': ...'}"
