"""Units as they are said, and the column of a slip that stands behind words in quotes."""

from collections.abc import Callable

import pytest

from flowdeck.conditions import Names, Table
from flowdeck.conditions.units import shown, times, unit
from flowdeck.model.diagnostic import Diagnostic, Place

Find = Callable[[str], list[Diagnostic]]

UNITS = [
    (unit(""), "without a unit"),
    (unit("ft"), "in ft"),
    (times(unit("ft"), unit("kt")), "in ft kt"),
    (times(unit("ft"), unit("ft")), "in ft^2"),
    (times(unit("ft"), unit("nm"), -1), "in ft per nm"),
    (times(times(unit("ft"), unit("kt"), -1), unit("s"), -1), "in ft per kt per s"),
    (times(None, unit("kt"), -1), "in 1 per kt"),
    (times(times(unit("kt"), unit("kt")), unit("kt"), -1), "in kt"),
    (times(unit("ft"), unit("ft"), -1), "without a unit"),
    (times(unit("ft"), None), "in ft"),
]


@pytest.mark.parametrize(("value", "words"), UNITS)
def test_a_unit_in_words(value: tuple[tuple[str, int], ...], words: str) -> None:
    """Products side by side, each divisor with its own 'per'."""
    assert shown(value) == words


def test_plain_numbers_stay_plain() -> None:
    assert times(None, None) is None and times(None, None, -1) is None


@pytest.mark.parametrize(
    "text",
    [
        "turn(heading_deg, 5) > ias_kt",
        "since('touchdown') > ias_kt",
        "age(tat_c) > ias_kt",
        "abs(altitude_ft) > ias_kt",
        "min(altitude_ft, 5) > ias_kt",
        "-altitude_ft > ias_kt",
        "altitude_ft - 5 > ias_kt",
        "5 - altitude_ft > ias_kt",
        "2 * altitude_ft > ias_kt",
    ],
)
def test_the_unit_of_a_figure_is_kept_through_every_operation(find: Find, text: str) -> None:
    """Degrees, seconds and feet are none of them knots."""
    assert [finding.kind for finding in find(text)] == ["unit-clash"]


SYNTAX = [
    ("gear == 'up' && visual", 9 + 13, "write and, not &&"),
    ("gear == 'a=b' && visual", 9 + 14, "write and, not &&"),
    ('gear == "a && b" || visual', 9 + 17, "write or, not ||"),
    ("gear == 'up' and tat_c => 3", 9 + 23, "write >=, not =>"),
    ("gear == 'up' and tat_c =< 3", 9 + 23, "write <=, not =<"),
    ("gear == 'up' and tat_c <> 3", 9 + 23, "write !=, not <>"),
]


@pytest.mark.parametrize(("text", "column", "hint"), SYNTAX)
def test_a_hint_points_behind_words_in_quotes_and_never_into_them(
    find: Find, text: str, column: int, hint: str
) -> None:
    """What stands within quotes is a word, whatever signs it holds."""
    (finding,) = find(text)
    assert (finding.kind, finding.place) == ("syntax", Place("a.yaml", 14, column))
    assert finding.message == f"this does not read as a condition; {hint}"


def test_a_deck_of_nothing_but_slips_is_told_where_reading_ended(names: Names) -> None:
    """After so many findings one more says that the rest was not read, and from which place on."""
    table = Table(names)
    line = 0
    while not table.findings or table.findings[-1].kind != "more":
        line += 1
        table.add(f"zzqq == {line}", Place("a.yaml", line, 7))
        assert line < 100_000
    [more] = [finding for finding in table.findings if finding.kind == "more"]
    assert (more.place, more.message) == (Place("a.yaml", line, 7), "the conditions from here on were not read")
    count = len(table.findings)
    row = table.add("zzqq == 0", Place("a.yaml", line + 1, 7))
    assert len(table.findings) == count and row == len(table.conditions) - 1
