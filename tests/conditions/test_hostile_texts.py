"""Whatever the text, the answer is findings; nothing is run and nothing is raised."""

from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flowdeck.conditions import Names, Table, compile_truths
from flowdeck.conditions.compile import written
from flowdeck.model.catalogue import by_name
from flowdeck.model.condition import Compare, Condition, Const, SignalRef
from flowdeck.model.diagnostic import Diagnostic

Find = Callable[[str], list[Diagnostic]]

NOT_ALLOWED = [
    ("().__class__", "a dot after a name"),
    ("gear.upper() == 'UP'", "is not the name of a function"),
    ("on_ground[0]", "square brackets after a value"),
    ("(lambda: 1)() > 0", "is not the name of a function"),
    ("lambda: on_ground", "lambda"),
    ("[x for x in (1, 2)] == 1", "a comprehension"),
    ("{x for x in (1, 2)} == 1", "a comprehension"),
    ("f'{gear}' == 'up'", "an f-string"),
    ("(x := 1) > 0", "the operator :="),
    ("tat_c ** 9 > 1", "the operator **"),
    ("tat_c % 9 > 1", "the operator %"),
    ("tat_c // 9 > 1", "the operator //"),
    ("on_ground & visual", "the operator & (write and)"),
    ("on_ground | visual", "the operator | (write or)"),
    ("tat_c << 2 > 1", "the operator <<"),
    ("~tat_c > 1", "the operator ~ (write not)"),
    ("+tat_c > 1", "a plus sign before a value"),
    ("gear is 'up'", "is (write ==)"),
    ("gear is not 'up'", "is not (write !=)"),
    ("min(1, *(1, 2)) > 1", "a star before a value"),
    ("held(on_ground, seconds=3)", "held takes no named arguments"),
    ("held(**{})", "held takes no named arguments"),
    ("tat_c if on_ground else sat_c", "if ... else"),
    ("{} == 1", "curly brackets"),
    ("3j > 1", "is neither a number nor a word"),
    ("None", "is neither a number nor a word"),
    ("... == 1", "is neither a number nor a word"),
    ("b'x' == 1", "is neither a number nor a word"),
    ("tat_c < 1e999", "is too large"),
    ("tat_c < 99999999999999999999", "is too large"),
    ("tat_c < " + "9" * 1900, "is too large"),
    ("gear == 'u\\x70'", "the character '\\\\' cannot stand"),
    ("on_ground\x00", "the character '\\x00' cannot stand"),
    ("gear == '\x1b[31m'", "the character '\\x1b' cannot stand"),
    ("\ud800 > 1", "the character '\\ud800' cannot stand"),
    ("\uff54at_c > 1", "letters that only look like others"),
    ("not " * 60 + "on_ground", "nested more than 50 deep"),
    ("-" * 1900 + "1 > 0", "nested more than 50 deep"),
    ("not " * 490 + "on_ground", "nested more than 50 deep"),
    ("tat_c" + " + tat_c" * 60 + " > 1", "nested more than 50 deep"),
]


@pytest.mark.parametrize(("text", "words"), NOT_ALLOWED, ids=range(len(NOT_ALLOWED)))
def test_what_is_outside_the_language_is_not_allowed(find: Find, text: str, words: str) -> None:
    found = find(text)
    assert found[0].kind == "not-allowed"
    assert words in found[0].message


SYNTAX = ["(" * 900, "(" * 250 + "1" + ")" * 250, "on_ground;", "x = 1", "import os", "1in (1, 2)", "on_ground)", "'",
          "a) or (b", "yield 1 +", "min(x for x in (1, 2), 3) > 1", "on ground", "\\"]  # fmt: skip


@pytest.mark.parametrize("text", SYNTAX, ids=range(len(SYNTAX)))
def test_what_does_not_parse_is_one_finding(find: Find, text: str) -> None:
    (finding,) = find(text)
    assert finding.kind in {"syntax", "not-allowed"}


def test_brackets_alone_are_no_nesting(find: Find) -> None:
    assert find("(" * 60 + "on_ground" + ")" * 60) == []


@settings(max_examples=200, deadline=None)
@given(st.text(max_size=60) | st.text("abs()[]{}'\"<>=!+-*/.,:@ \n\t019ejnotadrihl_", max_size=80))
def test_any_text_gives_a_row_and_the_table_still_compiles(text: str) -> None:
    table = Table(Names(signals=by_name(), facts=frozenset({"a"})))
    row = table.add(text)
    truths = compile_truths(table.conditions)
    answer = truths(
        {}, {}, "x", frozenset(), {}, 0, {}, truths.nothing_known,
        (0,) * len(table.conditions),
    )  # fmt: skip
    assert len(answer) == len(table.conditions) > row
    if any(finding.level == "error" for finding in table.findings):
        assert answer[row] is None


def test_words_enter_the_code_only_as_quoted_constants() -> None:
    word = "');__import__('os').abort();('\n"
    rows = (Condition(text="", tree=Compare((SignalRef("word"), Const(word)), ("==",))),)
    assert repr(word) in written(rows)
    truths = compile_truths(rows)
    assert truths({"word": word}, {}, "", frozenset(), {}, 0, {}, (None,), (0,)) == (True,)
    assert truths({"word": "other"}, {}, "", frozenset(), {}, 0, {}, (None,), (0,)) == (False,)
