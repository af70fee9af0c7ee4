"""Bytes in, a located file or `Rejected` out: never another exception, whatever the bytes."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flowdeck.model.diagnostic import Diagnostic, Rejected
from flowdeck.phasefile.loaddeck import load_deck
from flowdeck.phasefile.loadscenario import load_scenario
from flowdeck.phasefile.read import DEEPEST, LARGEST, read
from tests.support.small import APPROACH, FILES, SCENARIO, small_deck

DECK = small_deck()


def findings(raw: bytes) -> list[str]:
    try:
        read("x.yaml", raw)
    except Rejected as rejected:
        assert rejected.findings
        return [str(finding) for finding in rejected.findings]
    return []


@pytest.mark.parametrize(
    ("raw", "said"),
    [
        (
            b"",
            "x.yaml:1:1 error empty: the file is empty; a deck's first line is 'deck: NAME', a phase's 'phase: NAME'",
        ),
        ("a: ü".encode("latin-1"), "x.yaml:1:4 error encoding: byte 0xfc is not UTF-8 text; save the file as UTF-8"),
        (
            "ä: 1\nü".encode() + b"\xff",
            "x.yaml:2:2 error encoding: byte 0xff is not UTF-8 text; save the file as UTF-8",
        ),
        ("a: 1".encode("utf-16"), "x.yaml:1:1 error encoding: the file is in UTF-16; save it as UTF-8"),
        (
            "a: 1".encode("utf-16-be"),
            "x.yaml:1:1 error encoding: the character U+0000 is not shown on any screen; remove it",
        ),
        (b"a: 1\nb: \x1b[2J", "x.yaml:2:4 error encoding: the character U+001B is not shown on any screen; remove it"),
        (b"a: 1\0", "x.yaml:1:5 error encoding: the character U+0000 is not shown on any screen; remove it"),
        (
            b"a" * (LARGEST + 1),
            f"x.yaml:1:1 error too-large: the file has {LARGEST + 1:,} bytes; at most {LARGEST:,} are read",
        ),
    ],
)
def test_files_that_are_no_text(raw: bytes, said: str) -> None:
    assert findings(raw) == [said]


def test_what_is_no_fault() -> None:
    """A byte-order mark in front, line ends of either kind, and letters of any script."""
    assert read("x.yaml", b"\xef\xbb\xbfa: 1\r\nb: 2\r\n").data == {"a": "1", "b": "2"}
    assert read("x.yaml", "name: Ærø, Œuvre, 東京 ✈".encode()).data == {"name": "Ærø, Œuvre, 東京 ✈"}


@pytest.mark.parametrize(
    "text",
    ["[" * 100_000, "{a: " * 100_000, "- " * 3000 + "x", "a:\n" + "".join(" " * i + "- \n" for i in range(1, 900))],
)
def test_depth_is_a_finding(text: str) -> None:
    [said] = findings(text.encode())
    assert f"nested too deeply; at most {DEEPEST} levels are read" in said or "not valid YAML" in said


def test_many_aliases_cost_nothing() -> None:
    """Nine levels of ten aliases would be a thousand million values if they were written out."""
    rows = ["a0: &a0 [x]", *(f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 10)}]" for n in range(1, 10))]
    said = findings("\n".join(rows).encode())
    assert len(said) == 10 + 90
    assert (
        said[1] == "x.yaml:2:5 error alias: '&a1' is an anchor; remove it, or put a text that begins with '&' in quotes"
    )


def outcome(action: object, *arguments: object) -> tuple[Diagnostic, ...]:
    """The findings of a loader; any other exception than `Rejected` fails the test."""
    try:
        return action(*arguments)[1]  # type: ignore[operator,no-any-return]
    except Rejected as rejected:
        assert rejected.findings
        for finding in rejected.findings:
            assert str(finding).isprintable() and "\n" not in str(finding)
        return rejected.findings


def with_approach(raw: bytes) -> tuple[Diagnostic, ...]:
    files = {name: text.encode() for name, text in FILES.items()}
    return outcome(load_deck, "small", {**files, "approach.yaml": raw})


@given(st.binary(max_size=200))
def test_no_bytes_break_the_reader(raw: bytes) -> None:
    findings(raw)


LIKELY = st.text(alphabet=st.sampled_from("abkey:-[]{},&*!|>'\"#%@`\\ \t\n01.~<\u202e\x1b"), max_size=80)


@given(LIKELY)
def test_no_yaml_like_text_breaks_the_loaders(text: str) -> None:
    assert with_approach(text.encode())
    assert outcome(load_scenario, "s.yaml", text.encode(), DECK)


@given(st.data())
def test_no_change_of_a_good_file_breaks_the_loaders(data: st.DataObject) -> None:
    """A piece of a good file cut out, doubled or overwritten: a deck or findings, nothing else."""
    source = data.draw(st.sampled_from([APPROACH, SCENARIO]))
    start = data.draw(st.integers(0, len(source)))
    end = data.draw(st.integers(start, min(len(source), start + 60)))
    put = data.draw(st.one_of(LIKELY, st.just(source[start:end] * 2), st.just("")))
    raw = (source[:start] + put + source[end:]).encode("utf-8", "replace")
    if source is APPROACH:
        with_approach(raw)
    else:
        outcome(load_scenario, "s.yaml", raw, DECK)
