"""JSON Schema of the files that are written by hand, so that an editor completes and checks while one types.

Made from the same shapes that the loader reads by; what only the loader can find (contradictions, unknown names) is
not in it.
"""

from typing import Any

from pydantic import BaseModel

from flowdeck.phasefile.aircraftshapes import AircraftShape
from flowdeck.phasefile.arrivalshapes import ArrivalShape
from flowdeck.phasefile.scenarioshapes import ScenarioShape
from flowdeck.phasefile.words import unit_of

SHAPES: dict[str, type[BaseModel]] = {
    "aircraft": AircraftShape,
    "arrival": ArrivalShape,
    "scenario": ScenarioShape,
}
_BOUNDS = {"ge": "minimum", "le": "maximum", "gt": "exclusiveMinimum", "lt": "exclusiveMaximum"}
DIALECT = "https://json-schema.org/draft/2020-12/schema"


def schema_of(kind: str) -> dict[str, Any]:
    """The schema of one kind of file (a key of `SHAPES`). Raises `KeyError` for any other."""
    found = SHAPES[kind].model_json_schema(by_alias=True)
    _standard(found)
    for table in (found, *found.get("$defs", {}).values()):
        table.pop("title", None)
        for name, field in table.get("properties", {}).items():
            _describe(name, field)
    return {"$schema": DIALECT, "title": f"flowdeck {kind} file", **found}


def _standard(part: Any) -> None:
    """Bounds under the names that the standard has for them; the shapes' own reader hides them from pydantic."""
    if isinstance(part, list):
        for inner in part:
            _standard(inner)
    elif isinstance(part, dict):
        for ours, theirs in _BOUNDS.items():
            if isinstance(part.get(ours), (int, float)):
                part[theirs] = part.pop(ours)
        for inner in part.values():
            _standard(inner)


def _describe(name: str, field: dict[str, Any]) -> None:
    """Say the unit and the range of a number; a title that would only repeat the name goes."""
    field.pop("title", None)
    unit = unit_of(name)
    number = next((part for part in (field, *field.get("anyOf", ())) if part.get("type") == "number"), None)
    if number is None or not unit:
        return
    low, high = number.get("minimum"), number.get("maximum")
    field["description"] = f"{unit}, {low:g} to {high:g}" if low is not None and high is not None else unit
