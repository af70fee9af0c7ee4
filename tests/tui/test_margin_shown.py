"""The margin and its page as text: two lines for one thing, how many more there are, all of it in full on the page."""

from msgspec.structs import replace

from flowdeck.engine import fold
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.tui.keys import BY_NAME
from flowdeck.tui.screens.pages import slips_text
from flowdeck.tui.widgets.bars import margin
from flowdeck.view.board import Board, make_board
from flowdeck.view.margin import Notice
from tests.engine.test_slips import configured, flight
from tests.support.bench import FO, BenchFlight

LONG = "The wind on the runway is two five zero at one eight, gusting three one, and the one before you went around."


def board(*notices: Notice, held_back: int = 0) -> Board:
    f = flight()
    return replace(make_board(f.deck, f.session, f.readings, f.now), margin=notices, held_back=held_back, tabs=())


def drawn(b: Board, width: int = 80, height: int = 4, mapped: dict[str, str] | None = None) -> list[str]:
    keys = {name: action.shown for name, action in BY_NAME.items()} | (mapped or {})
    return margin(b, width, height, keys.__getitem__).plain.split("\n")


def said(text: str, at: int = 65_000) -> Notice:
    return Notice(weight="note", label="heard", text=text, at=at, said=True)


def test_long_words_go_over_two_lines_and_none_is_lost() -> None:
    first, second = drawn(board(said(LONG)))
    assert first.startswith(" 01:05 heard  The wind")
    assert " ".join(f"{first} {second}".split()) == f"01:05 heard {LONG}"


def test_longer_ones_show_that_they_are_cut() -> None:
    first, second = drawn(board(said(f"{LONG} {LONG}")))
    assert second.endswith("\u2026") and len(second) <= 80 and len(first) <= 80


def test_an_hour_is_shown_once_it_is_over() -> None:
    [row] = drawn(board(said("Hold.", at=3_723_000)))
    assert row.startswith(" 01:02:03 heard")


def test_alike_ones_show_their_count() -> None:
    [row] = drawn(board(Notice(weight="caution", label="repeated", text="Gear was done already.", times=3, at=5000)))
    assert row == " 00:05 repeated x3  Gear was done already."


def test_what_is_answered_by_a_key_names_it() -> None:
    """As the key is mapped; with long words it stands at their end, on the second line."""
    asks = Notice(weight="note", label="asks", text='First officer: "Gear?"', answer="reply")
    assert drawn(board(asks)) == [' 00:00 asks  First officer: "Gear?" [l]']
    assert drawn(board(asks), mapped={"reply": "F3"}) == [' 00:00 asks  First officer: "Gear?" [F3]']
    assert drawn(board(replace(asks, text=LONG)))[1].endswith("went around. [l]")


def test_what_has_no_room_is_counted_with_the_key_of_its_page() -> None:
    many = board(*(said(f"Word {i}.", at=i * 1000) for i in range(7)))
    assert [line[-6:] for line in drawn(many)] == ["ord 0.", "ord 1.", "ord 2.", "on [b]"]
    assert drawn(many)[-1] == " and 4 more, on [b]"
    assert drawn(many, height=7)[-1].endswith("Word 6.")  # all have room
    long = board(said("One."), said("Two."), said(LONG), said("Four."))
    assert drawn(long, height=4, mapped={"slips": "z"})[-1] == " and 1 more, on [z]"


def test_one_remark_and_several() -> None:
    assert drawn(board(held_back=1)) == [" 1 remark held back while the flight deck is sterile"]
    assert drawn(board(held_back=2)) == [" 2 remarks held back while the flight deck is sterile"]


def page(f: BenchFlight) -> str:
    return slips_text(f.deck, f.session).plain


def test_the_page_shows_all_that_was_heard_in_full_with_its_time() -> None:
    f = configured(flight()).wait(5)
    f.session = fold(f.session, (ev.Heard(at=61_000, words=LONG), ev.Heard(at=62_000, words="Cleared to land.")))
    f.send(inp.Interrupt(at=f.now, words="Cabin to flight deck", length_s=5))
    text = page(f)
    assert f"00:01:01  {LONG}\n00:01:02  Cleared to land.\n" in text and "Cabin to flight deck" in text


def test_the_page_shows_what_is_due_with_its_time() -> None:
    text = page(flight().wait(35))
    assert "Due now\n00:00:30  Captain: Speed is due.\n" in text


def test_in_a_drill_and_after_the_end_nothing_is_due() -> None:
    f = flight().wait(35)
    f.send(inp.SetAid(at=f.now, aid="drill"))
    assert "Due now" not in page(f)


def test_withheld_the_page_still_shows_what_was_heard() -> None:
    """Words from outside are no prompts; what slipped and what is due is kept back."""
    f = configured(flight()).wait(5).does(FO, "gear-down")
    f.session = fold(f.session, (ev.Heard(at=61_000, words=LONG),))
    f.send(inp.SetAid(at=f.now, aid="guided", withhold=True))
    text = page(f)
    assert LONG in text and "repeated" not in text and "Due now" not in text
