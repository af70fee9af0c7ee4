"""Each kind of finding: its message, its level and the column that it points to."""

from collections.abc import Callable

import pytest

from flowdeck.conditions import Names, Table
from flowdeck.model.diagnostic import Diagnostic, Level, Place

Find = Callable[[str], list[Diagnostic]]

FINE = [
    "on_ground",
    "true",
    "True",
    "in_cloud and not visual",
    "1000 < altitude_ft <= 2000.5",
    "altitude_ft - height_aal_ft > 2 * terrain_height_ft / 3",
    "flap_deg in (19, 31)",
    "gear in ['down', 'moving']",
    "gear not in ('up',)",
    "phase == 'approach' and done('landing-list')",
    "since('touchdown') > 60 or since('gear-down') >= 0",
    "age(tat_c) > 30 or age(tat_c) >= 0",
    "held(not in_cloud, 60) or tat_c > 12",
    "rising(falling(on_ground))",
    "turn(heading_deg, selected_heading_deg) <= 5",
    "turn(heading_deg, 360) <= 5",
    "abs(pressure_left_hpa - pressure_right_hpa) <= 1",
    "min(n2_1_pct, n2_2_pct, 50) < 20",
    "altitude_ft / terrain_height_ft > trim_units",
    "visual == false",
    "in_cloud != (tat_c < 3)",
    "tat_c > -40",
    "fd_left == fd_right",
    " \n on_ground\n  and visual ",
]


@pytest.mark.parametrize("text", FINE)
def test_a_well_formed_condition_has_no_finding(find: Find, text: str) -> None:
    assert find(text) == []


ERRORS = [
    ("unknown-signal", "flap_dge == 0", 9, "'flap_dge' is not a signal; did you mean 'flap_deg'?"),
    ("unknown-signal", "in_cloud and visul", 22, "'visul' is not a fact; did you mean 'visual'?"),
    ("unknown-signal", "zzqq > 1", 9, "'zzqq' is neither a signal nor a fact of this deck"),
    ("unknown-signal", "approach", 9, "'approach' is a phase, not a signal; write phase == 'approach'"),
    ("unknown-signal", "gear == down", 17, "a word to compare with stands in quotes: 'down'"),
    ("unknown-signal", "touchdown", 9, "write since('touchdown') with a number of seconds"),
    ("unknown-signal", "age(visual) > 3", 13, "'visual' is a fact; only a signal has an age"),
    ("unknown-signal", "age(tat_f) > 3", 13, "'tat_f' is not a signal; did you mean 'tat_c'?"),
    ("unknown-function", "hold(in_cloud, 3)", 9, "'hold' is not a function; did you mean 'held'?"),
    ("unknown-function", "print('x')", 9, "'print' is not a function; there are done, since, held"),
    ("wrong-type", "altitude_ft", 9, "'altitude_ft' is a number, not a condition; compare it with something"),
    ("wrong-type", "1", 9, "'1' is a number, not a condition; expected a comparison, a flag or a fact"),
    ("wrong-type", "phase", 9, "'phase' is one of 'approach' or 'landing', not a condition"),
    (
        "wrong-type",
        "gear == 'up' or 'down'",
        25,
        "write the comparison out: gear == 'down', or use gear in (..., 'down')",
    ),
    ("wrong-type", "in_cloud == 'on'", 9, "'in_cloud' stands by itself: write in_cloud, or not in_cloud"),
    ("wrong-type", "beacon == true", 9, "write beacon == 'on', or beacon == 'off'"),
    ("wrong-type", "flap_deg == '0'", 9, "'flap_deg' is a number and '0' is a word; expected a number without quotes"),
    (
        "wrong-type",
        "gear > 'up'",
        9,
        "'gear' is one of 'up', 'moving' or 'down', and has no order; compare it with == or !=",
    ),
    ("wrong-type", "gear == beacon", 9, "they share no word"),
    ("wrong-type", "gear + 1 > 2", 9, "'gear' is one of 'up', 'moving' or 'down'; the operator + needs a number"),
    ("wrong-type", "-on_ground > 2", 10, "'on_ground' is true or false; a minus sign needs a number"),
    ("wrong-type", "abs(visual) > 2", 13, "'visual' is true or false; abs needs a number"),
    ("wrong-type", "beacon in ('on')", 20, "in needs a list such as ('a', 'b'), found \"'on'\"; for one value use =="),
    ("wrong-type", "tat_c in (1, sat_c)", 18, "the list after in may hold only numbers, or words in quotes"),
    ("wrong-type", "held(in_cloud, 0)", 24, "held needs a number of seconds above 0, found '0'"),
    ("wrong-type", "held(in_cloud, -3)", 24, "held needs a number of seconds above 0, found '-3'"),
    ("wrong-type", "held(in_cloud, tat_c)", 24, "held needs a number of seconds above 0, found 'tat_c'"),
    ("wrong-type", "held(tat_c, 3)", 14, "'tat_c' is a number, not a condition"),
    ("wrong-type", "held(in_cloud)", 9, "held was given 1 value; write held(condition, seconds)"),
    ("wrong-type", "min(1) > tat_c", 9, "min was given 1 value; write min(a, b)"),
    ("wrong-type", "done(gear)", 14, "done needs a name in quotes, found 'gear'; write done('item')"),
    ("wrong-type", "age('tat_c') > 3", 13, "age needs a signal, found \"'tat_c'\""),
    (
        "unit-clash",
        "altitude_ft < ias_kt",
        9,
        "'altitude_ft' is in ft and 'ias_kt' in kt; unlike units cannot be compared",
    ),
    ("unit-clash", "altitude_ft < 2 * ias_kt", 9, "'2 * ias_kt' in kt; unlike units cannot be compared"),
    ("unit-clash", "altitude_ft + tat_c > 3", 9, "'tat_c' in c; unlike units cannot be put together"),
    ("unit-clash", "max(1, altitude_ft, tat_c) > 3", 9, "unlike units cannot be put together"),
    ("unit-clash", "altitude_ft < trim_units", 9, "'trim_units' without a unit"),
    ("unit-clash", "vertical_speed_fpm / ias_kt > tat_c", 9, "is in fpm per kt and 'tat_c' in c"),
    ("unit-clash", "since('touchdown') > ias_kt", 9, "is in s and 'ias_kt' in kt"),
    ("unit-clash", "turn(heading_deg, ias_kt) > 3", 9, "'ias_kt' is in kt; turn needs two headings in deg"),
    ("not-allowed", "tat_c / 0 > 1", 9, "'tat_c / 0' divides by nothing"),
    ("not-allowed", "gear in ('up',) == true", 9, "in cannot be part of a chain; join the two comparisons with and"),
    ("not-allowed", "tat_c < (1, 2)", 17, "a list of values may only stand after in"),
    ("not-allowed", "on_ground # said", 19, "a comment cannot stand in a condition"),
    ("syntax", "", 9, "the condition is empty; expected a comparison, a flag or a fact"),
    ("syntax", "gear = 'up'", 14, "write == to compare, not ="),
    ("syntax", "on_ground && visual", 19, "write and, not &&"),
    ("syntax", "!visual", 9, "write not, not !"),
    ("syntax", "tat_c < 07", 17, "write numbers without a leading zero"),
    ("syntax", "(on_ground", 9, "this does not read as a condition near '(on_ground'"),
    ("too-long", "on_ground" + " and visual" * 200, 9, "the condition is 2209 characters long; 2000 is the most"),
    ("unknown-ref", "done('gear-dwn')", 14, "'gear-dwn' is not an item, call, list or gate; did you mean 'gear-down'?"),
    (
        "unknown-ref",
        "done('touchdown')",
        14,
        "'touchdown' is a mark, which is never done; write since('touchdown') >= 0",
    ),
    (
        "unknown-ref",
        "since('tuchdown') > 3",
        15,
        "is neither a mark nor an item, call, list or gate; did you mean 'touchdown'?",
    ),
    ("unknown-phase", "phase == 'aproach'", 18, "'aproach' is not a phase; did you mean 'approach'?"),
    ("unknown-phase", "phase in ('landing', 'xx')", 30, "'xx' is not a phase; expected 'approach' or 'landing'"),
    ("unknown-choice", "gear == 'dwn'", 17, "'dwn' is not what gear can be; did you mean 'down'?"),
    ("unknown-choice", "'DOWN' == gear", 9, "'DOWN' is not what gear can be; did you mean 'down'?"),
    ("unknown-choice", "gear in ('up', 'xx')", 24, "'xx' is not what gear can be; expected 'up', 'moving' or 'down'"),
]


@pytest.mark.parametrize(("kind", "text", "column", "words"), ERRORS)
def test_an_error_says_what_was_found_and_what_was_expected(
    find: Find, kind: str, text: str, column: int, words: str
) -> None:
    (finding,) = find(text)
    assert (finding.kind, finding.level) == (kind, Level.ERROR)
    assert finding.place == Place("a.yaml", 14, column)
    assert words in finding.message


WARNINGS = [
    ("never-true", "altitude_ft < -9000", "'altitude_ft < -9000' can never hold; altitude_ft runs from -1500 to 45000"),
    ("never-true", "flap_deg == 61", "flap_deg runs from 0 to 60"),
    ("never-true", "flap_deg in (70, 80)", "flap_deg runs from 0 to 60"),
    ("never-true", "abs(pitch_deg) > 91", "abs(pitch_deg) runs from 0 to 90"),
    ("never-true", "turn(heading_deg, 5) > 180", "runs from 0 to 180"),
    ("never-true", "-flap_deg > 1", "-flap_deg runs from -60 to 0"),
    ("never-true", "since('touchdown') < 0", "since('touchdown') runs from 0 upwards"),
    ("never-true", "max(flap_deg, 20) < 10", "max(flap_deg, 20) runs from 20 to 60"),
    ("never-true", "tat_c < tat_c", "can never hold"),
    ("never-true", "1 > 2", "both sides are plain numbers"),
    ("never-true", "'a' == 'b'", "can never hold"),
    ("always-true", "min(flap_deg, 20) <= 20", "min(flap_deg, 20) runs from 0 to 20"),
    ("always-true", "n1_1_pct <= 120", "'n1_1_pct <= 120' always holds; n1_1_pct runs from 0 to 120"),
    ("always-true", "flap_deg != 61", "always holds"),
    ("always-true", "beacon in ('on', 'off')", "it names all that 'beacon' can be"),
    ("always-true", "flap_deg not in (70, 80)", "always holds"),
    ("always-true", "gear == gear", "always holds"),
]


@pytest.mark.parametrize(("kind", "text", "words"), WARNINGS)
def test_a_comparison_that_cannot_change_is_a_warning(find: Find, kind: str, text: str, words: str) -> None:
    (finding,) = find(text)
    assert (finding.kind, finding.level) == (kind, Level.WARNING)
    assert words in finding.message


def test_all_slips_of_one_text_are_found_in_reading_order(find: Find) -> None:
    found = find("flap_dge == 0 and gear == 'dwn' and altitude_ft > ias_kt")
    assert [finding.kind for finding in found] == ["unknown-signal", "unknown-choice", "unit-clash"]
    assert [finding.place.column for finding in found] == [9, 35, 45]


def test_a_finding_reads_as_one_line(find: Find) -> None:
    (finding,) = find("flap_dge == 0")
    assert str(finding) == "a.yaml:14:9 error unknown-signal: 'flap_dge' is not a signal; did you mean 'flap_deg'?"


def test_characters_are_counted_not_bytes(find: Find) -> None:
    (finding,) = find("'éé' == 'éé' and flap_dge == 0")[1:]
    assert finding.place.column == 9 + 17


def test_a_row_that_failed_is_never_known_and_reading_goes_on(names: Names) -> None:
    table = Table(names)
    rows = [table.add("flap_dge == 0"), table.add("on_ground"), table.add("gear = 'up'")]
    assert rows == [0, 1, 2]
    assert [finding.kind for finding in table.findings] == ["unknown-signal", "syntax"]
    assert len(table.conditions) == 3


def test_the_same_slip_in_two_places_is_found_at_both(names: Names) -> None:
    table = Table(names)
    assert table.add("flap_dge == 0", Place("a.yaml", 1)) == table.add("flap_dge == 0", Place("a.yaml", 2))
    table.add("flap_dge == 0", Place("a.yaml", 2))
    assert [finding.place.line for finding in table.findings] == [1, 2]
