"""Each text of a deck, a scenario and a keys file in turn holds characters that act on a terminal: none is taken."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

import pytest
import yaml

from tests.hostile import sources
from tests.hostile.cases import Case, run
from tests.hostile.holds import Verdict, unseen
from tests.hostile.trees import SOURCES
from tests.hostile.words import ACTING, SUBTLE
from tests.support.daily import some


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("fields")


class Spot(NamedTuple):
    """A scalar of a good file: its path without numbers (`.flows.items.do`, `.flows.?items` for a name), its place."""

    path: str
    start: int
    end: int
    text: str


def spots(node: Any, path: str = "") -> Iterator[Spot]:
    """Every name and every text of a file."""
    if isinstance(node, yaml.ScalarNode):
        yield Spot(path, node.start_mark.index, node.end_mark.index, node.value)
    elif isinstance(node, yaml.SequenceNode):
        for inner in node.value:
            yield from spots(inner, path)
    else:
        for key, inner in node.value:
            yield Spot(f"{path}.?{key.value}", key.start_mark.index, key.end_mark.index, key.value)
            yield from spots(inner, f"{path}.{key.value}")


def fields(file: str) -> list[Spot]:
    """One spot for each field of the file: the first that has its path."""
    first: dict[str, Spot] = {}
    for spot in spots(yaml.compose(SOURCES[file], Loader=yaml.CBaseLoader)):
        first.setdefault(spot.path, spot)
    return list(first.values())


def escaped(text: str) -> str:
    """*text* as it stands between double quotes in YAML, with nothing in it but plain characters."""
    return "".join(c if c.isascii() and c.isprintable() and c not in '\\"' else f"\\U{ord(c):08X}" for c in text)


def put(file: str, spot: Spot, characters: str, *, raw: bool) -> bytes:
    """The file with *characters* in the midst of the text at *spot*."""
    middle = len(spot.text) // 2
    before, after = escaped(spot.text[:middle]), escaped(spot.text[middle:])
    inner = characters if raw else escaped(characters)
    text = f'{SOURCES[file][: spot.start]}"{before}{inner}{after}"{SOURCES[file][spot.end :]}'
    return text.encode("utf-8", "surrogatepass")


def verdict(file: str, raw: bytes, folder: Path) -> Verdict:
    kind = {sources.SCENARIO_FILE: "scenario", sources.KEYS_FILE: "keys"}.get(file, "small deck")
    return run(Case(kind, 0, file, raw), folder)


def named(verdict: Verdict, characters: str) -> bool:
    """Whether a finding names one of the unseen *characters* as U+XXXX or as an escape."""
    said = " ".join(str(finding) for finding in verdict.findings)
    return any(code in said or repr(chr(int(code[2:], 16)))[1:-1] in said for code in unseen(characters))


FIELDS = [(file, spot) for file in SOURCES for spot in fields(file)]


def test_every_field_has_its_turn() -> None:
    """Of each field of the format, some example is among them."""
    names = {spot.path.rpartition(".")[2] for _, spot in FIELDS}
    assert {
        "title",
        "do",
        "to",
        "say",
        "challenge",
        "respond",
        "why",
        "reason",
        "words",
        "completion",
        "early",
    } <= names
    assert {"version", "date", "type", "operator", "status", "effectivity", "about", "name", "unit", "choices"} <= names
    assert {"?AAL", "AAL", "?own_light", "when", "seen", "value", "cue", "tells", "?captain", "captain"} <= names
    assert len(FIELDS) > 300


@pytest.mark.parametrize("file", some(SOURCES, ["deck.yaml", "approach.yaml"]))
def test_no_field_takes_a_character_that_acts(file: str, folder: Path) -> None:
    """Written as an escape: refused with its name, or gone by the time that it is a text of the deck."""
    wrong = []
    for at, spot in enumerate(fields(file)):
        characters = f"{ACTING[at % len(ACTING)]}\u202e\x1b[2J"
        found = verdict(file, put(file, spot, characters, raw=False), folder)
        if found.faults or not (found.accepted or named(found, characters)):
            wrong.append((spot.path, found.faults or tuple(map(str, found.findings))))
    assert wrong == []


@pytest.mark.parametrize(
    ("file", "text"),
    [
        ("deck.yaml", "Small deck"),
        ("deck.yaml", "Invented twin"),
        ("deck.yaml", "Cleared to land"),
        ("deck.yaml", "AAL"),
        ("deck.yaml", "above aerodrome level"),
        ("approach.yaml", "Flap"),
        ("approach.yaml", "One thousand to go"),
        ("approach.yaml", "DOWN"),
        ("approach.yaml", "Landing checklist complete"),
        ("approach.yaml", "The doors do not stand more."),
        ("approach.yaml", "gear == 'down'"),
        (sources.SCENARIO_FILE, "Small scenario"),
        (sources.SCENARIO_FILE, "Nowhere"),
        (sources.SCENARIO_FILE, "Expect another runway, four miles."),
        (sources.SCENARIO_FILE, "rain"),
        (sources.KEYS_FILE, "d"),
        (sources.KEYS_FILE, "captain"),
    ],
)
def test_no_character_that_acts_is_taken(file: str, text: str, folder: Path) -> None:
    """Each of them, raw and as an escape: refused with its name, or gone (a raw line end of YAML is a blank)."""
    spot = next(spot for spot in spots(yaml.compose(SOURCES[file], Loader=yaml.CBaseLoader)) if spot.text == text)
    wrong = []
    for characters in ACTING:
        for raw in (True, False):
            found = verdict(file, put(file, spot, characters, raw=raw), folder)
            if found.faults or not (found.accepted or named(found, characters)):
                wrong.append((characters, raw, found.faults or tuple(map(str, found.findings))))
    assert wrong == []


@pytest.mark.parametrize(
    ("file", "text"), [("deck.yaml", "Small deck"), ("approach.yaml", "Flap"), (sources.SCENARIO_FILE, "Nowhere")]
)
def test_no_character_that_is_not_seen_is_taken(file: str, text: str, folder: Path) -> None:
    """Two texts that look alike are alike: no soft hyphens, fillers, tags or blanks that are no space."""
    spot = next(spot for spot in spots(yaml.compose(SOURCES[file], Loader=yaml.CBaseLoader)) if spot.text == text)
    found = {c: verdict(file, put(file, spot, c, raw=False), folder) for c in SUBTLE}
    assert [ascii(c) for c, one in found.items() if one.faults or one.accepted or not named(one, c)] == []


@pytest.mark.parametrize("text", ["Ærøskøbing", "東京", "می\u200cآید", "क्\u200dष", "✈\ufe0e", "e\u0301", "Œuvre ½ °"])
def test_letters_of_any_script_are_taken(text: str, folder: Path) -> None:
    """And what they need to be written: joiners, combining marks, a choice of shape."""
    raw = SOURCES["deck.yaml"].replace("Small deck", text).encode()
    assert verdict("deck.yaml", raw, folder)[:3] == (True, (), ())
