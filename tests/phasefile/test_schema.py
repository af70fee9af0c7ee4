"""The JSON Schema says of every bundled file that it is right, and of broken ones that they are not."""

import re
from pathlib import Path
from typing import Any

import pytest
import yaml
from jsonschema import Draft202012Validator

from flowdeck.phasefile.schema import SHAPES, schema_of

ROOT = Path(__file__).resolve().parents[2] / "scenarios"
FILES = {
    "aircraft": sorted((ROOT / "aircraft").glob("*.yaml")),
    "arrival": sorted((ROOT / "arrivals").glob("*.yaml")),
    "scenario": sorted(ROOT.glob("*.yaml")),
}


class _Loader(yaml.CSafeLoader):
    """Reads words as the files' own reader does: `on` and `off` are no booleans."""


_Loader.yaml_implicit_resolvers = {
    first: [(tag, pattern) for tag, pattern in rows if tag != "tag:yaml.org,2002:bool" or first in "tTfF"]
    for first, rows in yaml.CSafeLoader.yaml_implicit_resolvers.items()
}


def loaded(text: str) -> Any:
    return yaml.load(text, _Loader)


@pytest.mark.parametrize("kind", sorted(SHAPES))
def test_the_schema_is_one(kind: str) -> None:
    Draft202012Validator.check_schema(schema_of(kind))


@pytest.mark.parametrize(
    ("kind", "path"),
    [(kind, path) for kind, paths in FILES.items() for path in paths],
    ids=lambda v: getattr(v, "stem", v),
)
def test_bundled_files_fit(kind: str, path: Path) -> None:
    errors = list(Draft202012Validator(schema_of(kind)).iter_errors(loaded(path.read_text(encoding="utf-8"))))
    assert errors == []


@pytest.mark.parametrize(
    ("old", "new", "where"),
    [
        ("elevation_ft: 430", "elevation_ft: 43000", ["aerodrome", "elevation_ft"]),
        ("angle_deg: 3.0", "angle_deg: steep", ["approach", "angle_deg"]),
        ("kind: non_precision", "kind: nonprecision", ["approach", "kind"]),
        ("crossing_ft: 50", "crossing_feet: 50", ["approach"]),
    ],
)
def test_a_broken_file_does_not_fit(old: str, new: str, where: list[str]) -> None:
    """A value out of its range, a word for a number, an unknown word, an unknown key: at its place."""
    text = (ROOT / "arrivals" / "tarn-holm.yaml").read_text(encoding="utf-8")
    text = text.replace("  angle_deg: 3.0\n", "  angle_deg: 3.0\n  crossing_ft: 50\n").replace(old, new, 1)
    errors = list(Draft202012Validator(schema_of("arrival")).iter_errors(loaded(text)))
    assert [list(error.absolute_path) for error in errors] == [where]


def test_numbers_say_their_unit_and_range() -> None:
    aerodrome = schema_of("arrival")["$defs"]["AerodromeShape"]["properties"]
    assert aerodrome["elevation_ft"]["description"] == "ft, -1500 to 15000"


def test_the_guide_names_every_key_of_arrival_and_aircraft_files() -> None:
    """And every value that an operator decides, with its default."""
    guide = (ROOT.parent / "phases" / "ARRIVAL.md").read_text(encoding="utf-8")
    schemas = [schema_of(kind) for kind in ("arrival", "aircraft")]
    keys = {name for s in schemas for table in (s, *s["$defs"].values()) for name in table.get("properties", {})}
    assert sorted(key for key in keys if not re.search(rf"\b{key}\b", guide)) == []


def test_the_guide_states_the_defaults_of_the_policy() -> None:
    guide = (ROOT.parent / "phases" / "ARRIVAL.md").read_text(encoding="utf-8")
    policy = schema_of("arrival")["$defs"]["PolicyShape"]["properties"]
    numbers = {
        name: field["default"] for name, field in policy.items() if isinstance(field.get("default"), (int, float))
    }
    for name, default in numbers.items():
        row = next(line for line in guide.splitlines() if line.startswith("|") and f"`{name}`" in line)
        names = re.findall(r"`(\w+)`", row.split("|")[1])
        assert float(row.split("|")[2].split(",")[names.index(name)]) == default
