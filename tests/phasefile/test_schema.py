"""The JSON Schema says of every bundled file that it is right, and of broken ones that they are not."""

import json
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
import yaml
from jsonschema import Draft202012Validator

from flowdeck.cli.main import main
from flowdeck.phasefile.fieldwords import FIELDS
from flowdeck.phasefile.schema import SHAPES, schema_of
from tests.support.daily import some

PROJECT = Path(__file__).resolve().parents[2]
ROOT = PROJECT / "scenarios"
PHASES = sorted((PROJECT / "phases").glob("*/*.yaml"))
FILES = {
    "aircraft": sorted((ROOT / "aircraft").glob("*.yaml")),
    "arrival": sorted((ROOT / "arrivals").glob("*.yaml")),
    "lapses": sorted((ROOT / "lapses").glob("*.yaml")),
    "scenario": sorted(ROOT.glob("*.yaml")),
    "script": sorted((ROOT / "scripts").glob("*.yaml")),
    "deck": [path for path in PHASES if path.name == "deck.yaml"],
    "phase": [path for path in PHASES if path.name != "deck.yaml"],
}


class _Loader(yaml.CSafeLoader):
    """Reads words as the files' own reader does: `on` and `off` are no booleans, and a date is a text."""


_Loader.yaml_implicit_resolvers = {
    first: [
        (tag, pattern)
        for tag, pattern in rows
        if tag != "tag:yaml.org,2002:timestamp" and (tag != "tag:yaml.org,2002:bool" or first in "tTfF")
    ]
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


@pytest.mark.parametrize("kind", sorted(SHAPES))
def test_every_field_is_described(kind: str) -> None:
    """An editor says of each what it is for."""
    schema = schema_of(kind)
    tables = {SHAPES[kind].__name__: schema, **schema.get("$defs", {})}
    fields = {f"{name}.{f}": v for name, table in tables.items() for f, v in table.get("properties", {}).items()}
    assert fields and [name for name, field in fields.items() if not field.get("description")] == []


def test_no_description_is_of_a_field_that_is_gone() -> None:
    named = {
        (shape, field)
        for kind in SHAPES
        for shape, table in {SHAPES[kind].__name__: schema_of(kind), **schema_of(kind).get("$defs", {})}.items()
        for field in table.get("properties", {})
    }
    known = {f"{shape}.{field}" for shape, field in named} | {field for _, field in named}
    assert set(FIELDS) <= known


BROKEN = {
    "aircraft": ("limit_kt: ", "limit_knots: "),
    "arrival": ("approach:\n", "aproach:\n"),
    "lapses": ("line_blind: ", "line_blint: "),
    "scenario": ("happening: ", "hapening: "),
    "script": ("words: ", "wurds: "),
    "deck": ("status: draft", "status: nearly done"),
    "phase": ("by: pilot_monitoring", "by: pilot_watching"),
}


@pytest.mark.parametrize("kind", some(sorted(SHAPES), ["deck", "phase", "scenario"]))
def test_as_an_editor_checks_it(kind: str, tmp_path: Path) -> None:
    """A good and a broken file of each kind by check-jsonschema, which reads YAML in its own way."""
    schema = tmp_path / "schema.json"
    schema.write_text(json.dumps(schema_of(kind)), encoding="utf-8")
    good = FILES[kind][0].read_text(encoding="utf-8")
    old, new = BROKEN[kind]
    assert old in good
    answers = []
    for name, text in (("good.yaml", good), ("broken.yaml", good.replace(old, new))):
        (tmp_path / name).write_text(text, encoding="utf-8")
        command = [sys.executable, "-m", "check_jsonschema", "--schemafile", str(schema), str(tmp_path / name)]
        answers.append(subprocess.run(command, capture_output=True, text=True))
    assert [answer.returncode for answer in answers] == [0, 1], answers
    assert new.strip(": \n").split(": ")[-1].removeprefix("a") in answers[1].stdout


def test_the_hook_before_a_commit_is_a_command_that_runs(tmp_path: Path) -> None:
    """Its entry, with the files of a deck as they would be handed to it."""
    [hook] = yaml.safe_load((PROJECT / ".pre-commit-hooks.yaml").read_text(encoding="utf-8"))
    assert {"id", "name", "entry", "language", "files"} <= set(hook)
    files = [path for path in PHASES if path.parent.name == "twinjet"]
    assert all(re.search(hook["files"], path.relative_to(PROJECT).as_posix()) for path in files)
    command, *arguments = hook["entry"].split()
    assert command == "flowdeck" and main([*arguments, *map(str, files)]) == 0
    (tmp_path / "deck.yaml").write_text("deck: x", encoding="utf-8")
    assert main([*arguments, str(tmp_path / "deck.yaml")]) == 2
