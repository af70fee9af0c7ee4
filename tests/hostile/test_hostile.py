"""Whatever stands in a file: a value or findings that can be shown, in bounded time and memory; never anything else."""

import tracemalloc
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from flowdeck.phasefile.loadscenario import load_scenario
from tests.conftest import Measured
from tests.hostile import sources
from tests.hostile.cases import KINDS, Case, judge_deck, make, run
from tests.hostile.holds import SECONDS, USUAL_SIZE, Verdict, judge
from tests.hostile.trees import HOSTILE_TEXT, SOURCES, trees
from tests.support.daily import some
from tests.support.small import SCENARIO

MEGABYTES = 25
"""Memory that reading a file of a usual size may take at its height; the small deck takes one or two."""


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("hostile")


def verdict(name: str, raw: bytes, folder: Path) -> Verdict:
    """What became of the file of that name (see `SOURCES`) with these bytes in it, the others good."""
    kind = {sources.SCENARIO_FILE: "scenario", sources.KEYS_FILE: "keys"}.get(name, "small deck")
    return run(Case(kind, 0, name, raw), folder)


def test_the_good_files_are_good(folder: Path) -> None:
    """All that is broken below is sound before, and the judge finds nothing in it."""
    for name, text in SOURCES.items():
        found = verdict(name, text.encode(), folder)
        assert found.accepted and found.faults == () and found.findings == (), (name, found)


def test_the_judge_sees_faults() -> None:
    """What the judge is for: each of these it must complain of."""

    def raises() -> tuple[Any, tuple[()]]:
        raise KeyError("x")

    def endless() -> tuple[Any, tuple[()]]:
        while True:
            pass

    assert judge(raises, {}).faults == ("KeyError in raises: 'x'",)
    assert "not done" in judge(endless, {}, seconds=0.1).faults[0]
    assert "U+202E" in judge(lambda: ({"a": ["\u202e"]}, ()), {}).faults[0]
    assert "U+001B" in judge(lambda: ({"\x1b": 1}, ()), {}).faults[0]


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
@pytest.mark.parametrize("name", SOURCES)
def test_values_and_names_of_any_kind(name: str, folder: Path, data: st.DataObject) -> None:
    """Any value of any type in the place of any other, any text in the place of any name."""
    found = verdict(name, data.draw(trees(SOURCES[name])), folder)
    assert found.faults == ()


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(raw=st.one_of(st.binary(max_size=300), HOSTILE_TEXT.map(lambda text: text.encode("utf-8", "surrogatepass"))))
@pytest.mark.parametrize("name", ["deck.yaml", "landing.yaml", sources.SCENARIO_FILE, sources.KEYS_FILE])
def test_bytes_and_texts_of_any_kind(name: str, folder: Path, raw: bytes) -> None:
    found = verdict(name, raw, folder)
    assert found.faults == () and (not found.accepted or name == sources.KEYS_FILE)


@pytest.mark.parametrize(("kind", "count"), [*((kind, 80) for kind in KINDS[:-1]), (KINDS[-1], 8)])
def test_broken_files(kind: str, count: int, folder: Path) -> None:
    """The first cases of the soak."""
    found = [(case.again, run(case, folder).faults) for case in (make(kind, seed) for seed in range(count))]
    assert [one for one in found if one[1]] == []


HEAD = "phase: approach\ntitle: Approach\nairborne: true\nleads_to: [{to: landing, when: on_ground}]\n"
FLOW = HEAD + "flows:\n  - flow: f\n    title: F\n    by: captain\n    items:\n"


def rows(row: Callable[[int], str], head: str = "", size: int = USUAL_SIZE) -> str:
    """*head* and as many rows as make a file of that size."""
    lines, total = [head], len(head)
    while total < size:
        lines.append(row(len(lines)))
        total += len(lines[-1])
    return "".join(lines)


def word(number: int) -> str:
    """One of many words of the same letters, each as like the others as can be without being the same."""
    letters, made = list("abcdefghijkl"), ""
    while letters:
        number, at = divmod(number * 7 + 3, len(letters))
        made += letters.pop(at)
    return made


WIDE: dict[str, str] = {
    "braces": "{" * 10_000,
    "tables in a line": "{a: " * 10_000,
    "dashes in a line": "- " * 10_000,
    "questions": "? " * 10_000,
    "indented tables": "".join(" " * i + "a:\n" for i in range(1_900)),
    "indented lists": "".join(" " * i + "-\n" for i in range(1_900)),
    "closed brackets": "a: " + "[" * 10_000 + "]" * 10_000,
    "just too deep, often": rows(lambda i: f"a{i}: {'[' * 41}{']' * 41}\n"),
    "laughs": "".join(f"a{i}: &a{i} [{', '.join([f'*a{i - 1}'] * 9 if i else ['x'] * 9)}]\n" for i in range(40)),
    "an anchor within itself": "a: &a [*a, *a]\n" * 2,
    "merges": rows(lambda i: f"b{i}: {{<<: *a, <<: *a}}\n", "a: &a {x: 1}\n"),
    "tags": rows(lambda i: f"a{i}: !!python/object/apply:os.abort []\n"),
    "one key ten thousand times": "phase: approach\n" * 10_000,
    "one key of a flow table": "{" + "a: 1, " * 10_000 + "}",
    "unknown keys": rows(lambda i: f"key{i}: 1\n", HEAD),
    "keys nearly known": rows(lambda i: f"chekclists{i}: 1\n", HEAD),
    "empty items": rows(lambda i: "      - {}\n", FLOW),
    "items with a key nearly known": rows(lambda i: f"      - {{item: a{i}, dos: x, why: y}}\n", FLOW),
    "items of one name": rows(lambda i: "      - {item: a, do: x, why: y}\n", FLOW),
    "items that wait for one another": rows(
        lambda i: f"      - {{item: a{i}, do: x, why: y, after: [{{item: a{i + 1}, order: flow}}]}}\n", FLOW
    ),
    "items after nothing": rows(
        lambda i: f"      - {{item: {word(i)}, do: x, why: y, after: [{{item: {word(-i)}, order: flow}}]}}\n", FLOW
    ),
    "conditions on nothing": rows(
        lambda i: f"      - {{item: {word(i)}, do: x, why: y, when: done('{word(-i)}')}}\n", FLOW
    ),
    "unknown signals": rows(lambda i: f"      - {{item: a{i}, do: x, why: y, when: altitude_{word(i)}}}\n", FLOW),
    "unknown readings": rows(lambda i: f"      - {{item: a{i}, do: x, why: y, to: '{'{x}' * 190}'}}\n", FLOW),
    "a strip of nothing": rows(lambda i: f"{word(i)}, ", HEAD + "strip: [") + "]\n",
    "conditions of many parts": rows(
        lambda i: (
            f"      - {{item: a{i}, do: x, why: y, when: '{' and '.join(['on_ground'] * 40)} and ias_kt < {i}'}}\n"
        ),
        FLOW,
    ),
    "times within times": rows(
        lambda i: f"      - {{item: a{i}, do: x, why: y, when: '{'held(' * 40}on_ground{f', {i})' * 40}'}}\n", FLOW
    ),
    "a line of fifty thousand": "phase: " + "x" * USUAL_SIZE,
    "a key of fifty thousand": '"' + "x" * USUAL_SIZE + '": 1\n',
    "a name of fifty thousand": HEAD + "? " + "x" * USUAL_SIZE + "\n: 1\n",
    "a text folded ten thousand times": "phase: x\n" + " x\n" * (USUAL_SIZE // 3),
    "a quote never closed": 'phase: "' + "x\n" * (USUAL_SIZE // 2),
    "empty lines": "phase:" + "\n" * USUAL_SIZE + "x",
    "remarks": "#\n" * (USUAL_SIZE // 2),
    "escapes": 'phase: "' + "\\e" * (USUAL_SIZE // 2) + '"\n',
    "empty questions": "?\n" * (USUAL_SIZE // 2),
    "documents": "---\n" * (USUAL_SIZE // 4),
    "commas": "[" + "," * USUAL_SIZE + "]",
    "colons": ":" * USUAL_SIZE,
    "colons and blanks": ": " * (USUAL_SIZE // 2),
}
"""Phase files of a usual size that ask for much: depth, repetition, likeness, length."""


@pytest.mark.parametrize("name", some(WIDE, list(WIDE)[::2]))
def test_time_for_a_file_that_asks_for_much(name: str) -> None:
    """The small deck with this phase file in it: refused or accepted in two seconds of processor time."""
    raw = WIDE[name].encode()
    found = judge_deck("small", {**sources.full_files(), "approach.yaml": raw})
    print(f"{name}: {len(raw):,} bytes, {len(found.findings)} findings, {found.seconds:.2f} s")
    assert found.faults == ()


def test_a_file_indented_ten_thousand_times_is_too_large() -> None:
    raw = "".join(" " * i + "a:\n" for i in range(10_000)).encode()
    found = judge_deck("small", {**sources.full_files(), "approach.yaml": raw}, seconds=1)
    assert found.faults == () and found.findings[0].kind == "too-large"


@pytest.mark.parametrize("name", ["laughs", "closed brackets", "commas", "merges", "items of one name"])
def test_memory_for_a_file_that_asks_for_much(name: str, measured: Measured) -> None:
    raw = WIDE[name].encode()
    files = {**sources.full_files(), "approach.yaml": raw}
    tracemalloc.start()
    try:
        found = judge_deck("small", files, seconds=20)
        peak = tracemalloc.get_traced_memory()[1] / 1e6
    finally:
        tracemalloc.stop()
    measured(f"{len(raw):,} bytes, {len(found.findings)} findings, peak {peak:.1f} MB of {MEGABYTES}")
    assert found.faults == () and peak < MEGABYTES


@pytest.mark.parametrize(
    ("name", "row"),
    [
        ("facts", lambda i: f"  fact_{word(i)}: true\n"),
        ("plan", lambda i: f"  altitude_{word(i)}: 1\n"),
        ("happenings", lambda i: f"  - {{happening: h{i}, when: on_ground, tells: {{{word(i)}: true}}}}\n"),
        ("slips", lambda i: f"  - {{slip: omit, of: {word(i)}, causes: [{{class: late, item: {word(-i)}}}]}}\n"),
    ],
)
def test_time_for_a_scenario_that_asks_for_much(name: str, row: Callable[[int], str]) -> None:
    text = "".join(line for line in SCENARIO.splitlines(keepends=True) if "happening" not in line)
    raw = rows(row, f"{text}{name}:\n").encode()
    deck = sources.full_deck()
    found = judge(lambda: load_scenario("s.yaml", raw, deck), {"s.yaml": raw})
    print(f"{name}: {len(raw):,} bytes, {len(found.findings)} findings, {found.seconds:.2f} s of {SECONDS:.0f}")
    assert found.faults == ()


SEPARATORS = {"LS": "\u2028", "PS": "\u2029", "NEL": "\x85", "CR": "\r"}


@pytest.mark.parametrize("name", SEPARATORS)
def test_a_finding_counts_lines_as_an_editor_does(name: str) -> None:
    """Characters that YAML 1.1 took for line ends (and a lone CR) do not move findings to lines that are not there."""
    raw = f"phase: approach # {SEPARATORS[name] * 9}\nnothing: 1\n".encode()
    found = judge_deck("small", {**sources.full_files(), "approach.yaml": raw})
    assert found.findings and found.faults == ()
    if name != "CR":
        assert {f.place.line for f in found.findings if f.place.file == "small/approach.yaml"} <= {1, 2}


@pytest.mark.parametrize(
    "raw", [b"foo: [", b"a: {b: c\n", b"a: 'b", b'a: "b', b"a: &x\nb: *x\nc: [", b"- a\n- [b", b"a: |\n\tb"]
)
def test_a_file_that_ends_too_early_is_found_where_it_ends(raw: bytes) -> None:
    """The place is one that can be gone to."""
    found = judge_deck("small", {**sources.full_files(), "approach.yaml": raw})
    assert found.findings and found.faults == ()


@pytest.mark.parametrize(
    ("file", "field", "good"),
    [
        ("approach.yaml", "flap_deg", "31"),
        ("approach.yaml", "in_s", "5"),
        ("approach.yaml", "after_s", "30"),
        ("approach.yaml", "within_s", "5"),
        ("deck.yaml", "look_s", "0.8"),
        ("deck.yaml", "burst_lines", "3"),
        ("deck.yaml", "high", "90000"),
        ("deck.yaml", "stale_s", "5"),
        (sources.SCENARIO_FILE, "seed", "7"),
        (sources.SCENARIO_FILE, "value", "170"),
        (sources.SCENARIO_FILE, "headwind_kt", "0"),
        (sources.SCENARIO_FILE, "ias_kt", "140"),
        (sources.SCENARIO_FILE, "own_weight_kg", "41000"),
        (sources.SCENARIO_FILE, "distance_nm", "14"),
        (sources.SCENARIO_FILE, "lines", "2"),
    ],
)
def test_a_number_without_end_is_refused_in_words_of_its_field(file: str, field: str, good: str, folder: Path) -> None:
    """One finding that names the field; nothing of how the file is read inside."""
    assert f"{field}: {good}" in SOURCES[file]
    for number in ("1e999", "-1e999", "1e309", "9" * 400):
        text = SOURCES[file].replace(f"{field}: {good}", f"{field}: {number}", 1)
        found = verdict(file, text.encode(), folder)
        said = [str(finding) for finding in found.findings]
        assert found.faults == () and not found.accepted
        assert len(said) == 1 and field in said[0], said


@pytest.mark.parametrize("seed", ["1e15", "1e18", "9007199254740993", "1e30", "-1e30"])
def test_a_scenario_that_is_accepted_can_be_journalled(seed: str, folder: Path) -> None:
    text = sources.FULL_SCENARIO.replace("seed: 7", f"seed: {seed}")
    assert verdict(sources.SCENARIO_FILE, text.encode(), folder).faults == ()
