"""The table of widths is that of the face, and lines that are broken by it are no wider than asked."""

import string

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flowdeck.card import widths
from flowdeck.card.content import Entry
from flowdeck.card.face import broken, lacking, measure, on_one_line, printable
from flowdeck.card.page import Kind
from flowdeck.card.paper import A4, A5, Paper
from flowdeck.card.rows import Columns, pair
from flowdeck.card.strips import number_room
from tests.card.make_widths import made, weighed

texts = st.text(st.sampled_from(list("aeiltWM G\u017d-\u4e2d5 < ft NM")), max_size=120).map(printable)


@pytest.mark.soak
def test_the_table_is_made_anew_the_same() -> None:
    """By running what it was made by, against the face as it is installed."""
    fresh: dict[str, object] = {}
    exec(made(), fresh)  # our own text, just made
    for name in ("UNITS", "X_HEIGHT", "ASCENT", "DESCENT", "REGULAR", "BOLD"):
        assert fresh[name] == getattr(widths, name), f"{name}: run python -m tests.card.make_widths"


@pytest.mark.parametrize(("weight", "bold"), [(400, False), (700, True)])
def test_a_word_is_as_wide_as_the_face_says(weight: int, bold: bool) -> None:
    """Added up from the face itself, letter by letter: no other rule (kerning) is in it."""
    font = weighed(weight)
    known, advances = font.getBestCmap(), font["hmtx"]
    for word in ("Parking brake", "APPLIED, \u2265 5 \u0161", string.printable[:94]):
        units = sum(advances[known[ord(letter)]][0] for letter in word)
        assert measure(word, 4.75, bold=bold) == pytest.approx(units * 4.75 / 2048)


def test_by_hand() -> None:
    """0 is 1139 of 2048 wide, in both weights (read from the face): ten of them at 10 mm are 55.6 mm."""
    assert measure("0" * 10, 10) == pytest.approx(55.615, abs=0.001)
    assert measure("0" * 10, 10, bold=True) == measure("0" * 10, 10)


@given(texts, st.floats(6, 80), st.booleans(), st.none() | st.floats(6, 80))
def test_no_line_is_wider_than_asked_and_nothing_is_lost(
    text: str, width: float, bold: bool, first: float | None
) -> None:
    lines = broken(text, width, 4.75, bold=bold, first=first)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")
    for i, line in enumerate(lines):
        room = first if i == 0 and first is not None else width
        assert measure(line, 4.75, bold=bold) <= room + 1e-9 and line == line.strip()


def test_what_belongs_together_is_not_parted() -> None:
    """A number stays with its unit, a bound with what it bounds."""
    for width in range(10, 60):
        lines = broken("when alt \u2264 1000 ft and v/s > 300", width, 4.75)
        if measure("alt \u2264 1000 ft", 4.75) <= width:
            assert any("alt \u2264 1000 ft" in line for line in lines)
        if measure("v/s > 300", 4.75) <= width:
            assert any("v/s > 300" in line for line in lines)


@given(texts, st.floats(30, 80))
def test_one_line_keeps_its_end(text: str, width: float) -> None:
    line = on_one_line(text, ", continued", width, 4.75)
    assert line.endswith(", continued")
    assert measure(line, 4.75) <= width or len(text) < 2 or line == f"{text[:1]}..., continued"


@given(texts.filter(bool), texts, st.booleans(), st.sampled_from([A5, A4]))
def test_a_challenge_leaves_room_for_the_number_of_its_note(text: str, answer: str, noted: bool, paper: Paper) -> None:
    c = Columns(paper.prompt_x + 40, 38, 50)
    prompt, said = pair(Entry(kind=Kind.ITEM, ref="x", prompt=text, answer=answer, note="n" * noted), c, paper)
    assert all(measure(line, paper.read) <= 38 - noted * number_room(paper) + 1e-9 for line in prompt)
    assert all(measure(line, paper.read, bold=True) <= 50 + 1e-9 for line in said)


def test_letters_that_the_face_lacks() -> None:
    assert lacking("\u017dluva \u2265 5 \u00b0 \u20ac") == ""
    assert lacking("\u4e2d\u0301 \u4e2d") == "\u4e2d\u0301"
    assert measure("\u4e2d", 5) == 5, "as wide as it is high"
    assert printable("e\u0301 \u202e\n x\x1b") == "\u00e9 <U+202E> x<U+001B>"
