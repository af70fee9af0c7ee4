"""Messages word for word, and each slip told once: what stands before and after the part that other tests look for."""

from collections.abc import Callable

import pytest

from flowdeck.conditions import Names, Table
from flowdeck.model.diagnostic import Diagnostic, Level
from flowdeck.model.signals import Signal, SignalKind

Find = Callable[[str], list[Diagnostic]]

EXACT = [
    ("altitude_ft", "'altitude_ft' is a number, not a condition; compare it with something, as in altitude_ft > 0"),
    (
        "gear",
        "'gear' is one of 'up', 'moving' or 'down', not a condition; compare it with something, as in gear == 'word'",
    ),
    ("tat_c < (1, 2)", "a list of values may only stand after in"),
    ("(in_cloud and visual) + 1 > 2", "'in_cloud and visual' is true or false; the operator + needs a number"),
    ("(in_cloud or visual) + 1 > 2", "'in_cloud or visual' is true or false; the operator + needs a number"),
    ("True + 1 > 2", "'True' is true or false; the operator + needs a number"),
    ("(not in_cloud) + 1 > 2", "'not in_cloud' is true or false; the operator + needs a number"),
    (
        "done('gear-down') > 2",
        "\"done('gear-down')\" is true or false and '2' is a number; only like can be compared with like",
    ),
    (
        "altitude_ft == true",
        "'altitude_ft' is a number and 'true' is true or false; only like can be compared with like",
    ),
    (
        "'up' == on_ground",
        "'up' is a word and 'on_ground' is true or false; "
        "'on_ground' stands by itself: write on_ground, or not on_ground",
    ),
    ("on_ground )", "this does not read as a condition near ')'"),
    ("'a' == 'b'", "\"'a' == 'b'\" can never hold"),
    ("'a' != 'b'", "\"'a' != 'b'\" always holds"),
    ("true == false", "'true == false' can never hold"),
    ("true != false", "'true != false' always holds"),
    ("gear == gear", "'gear == gear' always holds"),
    ("gear != gear", "'gear != gear' can never hold"),
    (
        "gear not in ('up', 'moving', 'down')",
        "\"gear not in ('up', 'moving', 'down')\" can never hold; it names all that 'gear' can be",
    ),
    ("flap_deg in (70, 80)", "'flap_deg in (70, 80)' can never hold; flap_deg runs from 0 to 60"),
    ("flap_deg - 10 > 50", "'flap_deg - 10 > 50' can never hold; flap_deg - 10 runs from -10 to 50"),
    ("10 - flap_deg > 10", "'10 - flap_deg > 10' can never hold; 10 - flap_deg runs from -50 to 10"),
    ("2 * flap_deg > 120", "'2 * flap_deg > 120' can never hold; 2 * flap_deg runs from 0 to 120"),
    (
        "(altitude_ft * height_aal_ft) / (ias_kt * ias_kt) > tat_c",
        "'(altitude_ft * height_aal_ft) / (ias_kt * ias_kt)' is in ft^2 per kt^2 and 'tat_c' in c; "
        "unlike units cannot be compared",
    ),
    ("1 / ias_kt > tat_c", "'1 / ias_kt' is in 1 per kt and 'tat_c' in c; unlike units cannot be compared"),
    ("flap_deg / 2 > 30", "'flap_deg / 2 > 30' can never hold; flap_deg / 2 runs from 0 to 30"),
]


@pytest.mark.parametrize(("text", "message"), EXACT)
def test_the_message_is_this_and_no_more(find: Find, text: str, message: str) -> None:
    """The deck writer reads one sentence: what was found, what it is, and what to write."""
    (finding,) = find(text)
    assert finding.message == message


ONCE = [
    ("held(in_cloud, zzqq)", "unknown-signal"),
    ("tat_c in (zzqq, 2)", "unknown-signal"),
    ("gear in ('up', 'xx', 'moving', 'down')", "unknown-choice"),
    ("zzqq + tat_c > 3", "unknown-signal"),
    ("zzqq + tat_c > ias_kt", "unknown-signal"),
    ("(tat_c in (zzqq, 2)) == in_cloud", "unknown-signal"),
    ("abs(zzqq) > 3", "unknown-signal"),
    ("zzqq and tat_c > 3", "unknown-signal"),
    ("held(zzqq, 3)", "unknown-signal"),
    ("zzqq in (1, 2)", "unknown-signal"),
]


@pytest.mark.parametrize(("text", "kind"), ONCE)
def test_a_slip_is_told_once_and_not_again_by_what_stands_around_it(find: Find, text: str, kind: str) -> None:
    """A mistyped name is one finding, not one of each function, list and operator that holds it."""
    assert [(finding.kind, finding.level) for finding in find(text)] == [(kind, Level.ERROR)]


def test_a_no_break_space_from_a_word_processor_is_shown_as_what_it_is(find: Find) -> None:
    """It looks like a blank and is none: the deck writer is told so, also at the ends of the text."""
    for text, column in (("\u00a0on_ground", 9), ("on_ground\u00a0", 18)):
        (finding,) = find(text)
        assert finding.message == "the character '\\xa0' cannot stand in a condition"
        assert finding.place.column == column


@pytest.mark.parametrize("text", ["in_cloud in (true, false)", "in_cloud in (True,)", "visual == true"])
def test_true_and_false_are_words_of_the_language(find: Find, text: str) -> None:
    """They may be compared with and listed, however clumsy: no error."""
    assert [finding for finding in find(text) if finding.level is Level.ERROR] == []


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("done('x')", "unknown-ref"),
        ("since('x') > 3", "unknown-ref"),
        ("phase == 'x'", "unknown-phase"),
        ("x", "unknown-signal"),
        ("age(x) > 3", "unknown-signal"),
    ],
)
def test_of_a_deck_that_names_nothing_everything_is_unknown(text: str, kind: str) -> None:
    """A deck at its very beginning: no items, no marks, no phases, and each text has its one finding."""
    table = Table(Names())
    table.add(text)
    assert [finding.kind for finding in table.findings] == [kind]


@pytest.mark.parametrize(("size", "end"), [(12, "or 'mode_11'"), (13, "'mode_11' ...")])
def test_of_many_choices_twelve_are_listed(size: int, end: str) -> None:
    """A selector with more positions than one line holds: the message is cut, and says that it is."""
    modes = tuple(f"mode_{number:02}" for number in range(size))
    table = Table(Names(signals={"mode": Signal(name="mode", title="Mode", kind=SignalKind.CHOICE, choices=modes)}))
    table.add("mode == 'zzqq'")
    (finding,) = table.findings
    assert finding.message.startswith("'zzqq' is not what mode can be; expected 'mode_00', 'mode_01'")
    assert finding.message.endswith(end)
    assert "mode_12" not in finding.message
