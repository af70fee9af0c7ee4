"""JSON Schema of the files that are written by hand, so that an editor completes and checks while one types.

Made from the same shapes that the loader reads by; what only the loader can find (contradictions, unknown names) is
not in it.
"""

from typing import Any

from pydantic import BaseModel

from flowdeck.phasefile.aircraftshapes import AircraftShape
from flowdeck.phasefile.arrivalshapes import ArrivalShape
from flowdeck.phasefile.fieldwords import words_of
from flowdeck.phasefile.lapseshapes import LapsesShape
from flowdeck.phasefile.scenarioshapes import ScenarioShape, ScriptShape
from flowdeck.phasefile.shapes import DeckShape, PhaseShape
from flowdeck.phasefile.words import unit_of

SHAPES: dict[str, type[BaseModel]] = {
    "aircraft": AircraftShape,
    "arrival": ArrivalShape,
    "deck": DeckShape,
    "lapses": LapsesShape,
    "phase": PhaseShape,
    "scenario": ScenarioShape,
    "script": ScriptShape,
}
_BOUNDS = {"ge": "minimum", "le": "maximum", "gt": "exclusiveMinimum", "lt": "exclusiveMaximum"}
_LONGEST_NAME = 60
DIALECT = "https://json-schema.org/draft/2020-12/schema"


def schema_of(kind: str) -> dict[str, Any]:
    """The schema of one kind of file (a key of `SHAPES`). Raises `KeyError` for any other."""
    found = SHAPES[kind].model_json_schema(by_alias=True)
    _standard(found)
    for shape, table in ((SHAPES[kind].__name__, found), *found.get("$defs", {}).items()):
        table.pop("title", None)
        for name, field in table.get("properties", {}).items():
            _describe(shape, name, field)
    return {"$schema": DIALECT, "title": f"flowdeck {kind} file", **found}


def _standard(part: Any) -> None:
    """Bounds under the names that the standard has for them; the shapes' own reader hides them from pydantic.

    A field that may be left out has no null in the files, and a text may look like a number: `to: 11`.
    """
    if isinstance(part, list):
        for inner in part:
            _standard(inner)
    elif isinstance(part, dict):
        options = [option for option in part.get("anyOf", ()) if option != {"type": "null"}]
        if len(options) < len(part.get("anyOf", ())):
            del part["anyOf"]
            part.pop("default", None)
            part.update(options[0] if len(options) == 1 else {"anyOf": options})
        for ours, theirs in _BOUNDS.items():
            if isinstance(part.get(ours), (int, float)):
                part[theirs] = part.pop(ours)
        if part.get("type") == "string" and "maxLength" in part and part["maxLength"] > _LONGEST_NAME:
            part["type"] = ["string", "number", "boolean"]
        for inner in part.values():
            _standard(inner)


def _describe(shape: str, name: str, field: dict[str, Any]) -> None:
    """Say what it is for, the unit and the range of a number; a title that would only repeat the name goes."""
    field.pop("title", None)
    words = words_of(shape, name)
    if words:
        field["description"] = words
    unit = unit_of(name)
    number = next((part for part in (field, *field.get("anyOf", ())) if part.get("type") == "number"), None)
    if number is None or not unit:
        return
    low, high = number.get("minimum"), number.get("maximum")
    measure = f"{unit}, {low:g} to {high:g}" if low is not None and high is not None else unit
    field["description"] = f"{words} {measure}." if words else measure
