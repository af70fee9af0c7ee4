"""A comparison as text, data and page: word for word, nothing lost between them, safe whatever stands in a deck."""

import json
import re
from collections.abc import Callable
from html.parser import HTMLParser
from pathlib import Path

import html5lib
import pytest
from hypothesis import given
from hypothesis import strategies as st

from flowdeck import DISCLAIMER
from flowdeck.compare.aspects import Aspect, Thing
from flowdeck.compare.comparison import Comparison, compare
from flowdeck.compare.weight import Weight
from flowdeck.view.compare.data import compare_data
from flowdeck.view.compare.labels import ASPECTS, THINGS
from flowdeck.view.compare.page import compare_page
from flowdeck.view.compare.tables import tables, windows
from flowdeck.view.compare.text import compare_text
from flowdeck.view.compare.words import entries
from flowdeck.view.compare.wordwise import marked
from tests.compare.revised import HOSTILE, hostile, other_comment, revision, together, windows_revised
from tests.support.expected import expected
from tests.support.small import small_deck

HERE = Path(__file__).parent / "compare"
SHOWN: dict[str, Callable[[], Comparison]] = {
    "revision": revision,
    "back": lambda: compare(revision().new, revision().old),
    "windows": windows_revised,
    "same": lambda: compare(small_deck(), small_deck()),
    "comment": lambda: compare(small_deck(), other_comment()),
}


@pytest.mark.parametrize("name", SHOWN)
@pytest.mark.parametrize("width", [80, 120])
def test_word_for_word(name: str, width: int) -> None:
    c, path = SHOWN[name](), HERE / f"{name}-{width}.txt"
    text = compare_text(c, width).replace(c.old.hash[:12], "HASH OF OLD.").replace(c.new.hash[:12], "HASH OF NEW.")
    assert text == expected(path, text)


@pytest.mark.parametrize("name", SHOWN)
@pytest.mark.parametrize("width", [60, 80, 120])
def test_no_line_is_wider_than_asked(name: str, width: int) -> None:
    assert max(map(len, compare_text(SHOWN[name](), width).splitlines())) <= width


@pytest.mark.parametrize("name", SHOWN)
def test_each_form_says_what_it_is_for_and_of_which_decks(name: str) -> None:
    """With status, version, date, effectivity and hash of both."""
    c = SHOWN[name]()
    for shown in (compare_text(c), compare_page(c), json.dumps(compare_data(c))):
        flat = re.sub(r"\s+", " ", shown)
        assert DISCLAIMER in flat
        for deck in (c.old, c.new):
            who = deck.identity
            for each in (who.status, who.version, who.date, who.effectivity, deck.hash[:12]):
                assert each in flat


def test_a_revision_of_almost_everything() -> None:
    """What the tests here look at: nearly every kind of thing and respect, so that each has its words."""
    c = revision()
    assert len(together()) > 55
    assert {change.thing for change in c.changes} == set(Thing)
    assert len({change.aspect for change in c.changes}) > 35


def test_every_change_stands_in_every_form() -> None:
    c = revision()
    text = re.sub(r"\s+", " ", compare_text(c))
    page = _text(compare_page(c))
    data = compare_data(c)["changes"]
    number = 0
    for stage in entries(c):
        assert stage.title in text and stage.title in page
        for entry in stage.entries:
            number += 1
            assert entry.number == number
            head = f"{entry.thing}: {entry.what}"
            assert re.sub(r"\s+", " ", head) in text and head in page
            assert data[number - 1]["number"] == number and data[number - 1]["words"] == head
            for words in (*entry.was, *entry.now, entry.alike):
                assert re.sub(r"\s+", " ", words) in text and words in page
    assert number == len(c.changes) == len(data)


def test_every_thing_and_respect_has_words() -> None:
    assert set(THINGS) == set(Thing) and set(ASPECTS) == set(Aspect)
    assert all(words.strip() and "_" not in words for words in (*THINGS.values(), *ASPECTS.values()))


def test_tables_and_windows_stand_in_text_and_page() -> None:
    for c in (revision(), windows_revised()):
        text, page = re.sub(r"\s+", " ", compare_text(c)), _text(compare_page(c))
        for table in tables(c):
            for cell in (cell for row in table.rows for cell in row):
                assert cell in page and cell in text
        for window in windows(c):
            for words in (window.things, *(each for bound in window.bounds for each in bound)):
                assert words in page and re.sub(r"\s+", " ", words) in text


def test_json_has_stable_keys_and_counts() -> None:
    data = compare_data(revision())
    assert list(data) == [
        *("notice", "old", "new", "different", "counts", "changes", "windows", "workload", "checklists"),
        "reading_s_a_line",
    ]
    assert list(data["changes"][0]) == [
        *("number", "weight", "old_phase", "new_phase", "thing", "aspect", "old", "new", "before", "after", "tendency"),
        *("with", "words"),
    ]
    weights = [change["weight"] for change in data["changes"]]
    assert data["counts"] == {str(weight): weights.count(str(weight)) for weight in Weight}
    assert data["different"] is True and compare_data(SHOWN["same"]())["different"] is False
    json.dumps(data)


def test_json_of_a_limit_an_edge_and_a_whole_item() -> None:
    changes = {(x["aspect"], (x["new"] or x["old"])["id"]): x for x in compare_data(revision())["changes"]}
    late = changes["late", "gear-down"]
    assert (late["before"], late["tendency"]) == ({"condition": "height_aal_ft < 1500"}, "later")
    assert changes["due", "speed"]["after"] == {"after_s": 40.0, "from": None}
    edge = changes["edge", "cut"]
    assert (edge["before"]["hard"], edge["after"]["hard"]) == (True, False)
    came = changes["whole", "extra"]
    assert came["before"] is None and [part["id"] for part in came["after"]["parts"]] == ["extra-one", "extra-two"]


def test_each_change_has_a_box_and_the_sheet_a_line_to_sign() -> None:
    c = revision()
    page = compare_page(c)
    assert page.count('<span class="box">initials</span>') == len(c.changes)
    signed = _text(page[page.index(">Signed<") :])
    for words in ("Name", "Date", "Signature", c.old.hash, c.new.hash, f"each of the {len(c.changes)} changes"):
        assert words in signed


def test_old_stands_left_of_new() -> None:
    page = compare_page(windows_revised())
    old, new = page.index("distance_nm &lt;= <del>8</del>"), page.index("distance_nm &lt;= <ins>7</ins>")
    assert old < new


_words = st.lists(st.sampled_from(["gear", "down", "220", "<", "ias_kt", "&", ".", "1500", "not"]), max_size=12)


@given(_words, _words)
def test_marks_show_both_texts_whole(old: list[str], new: list[str]) -> None:
    """Without what is marked as new the old text is left, and the other way round; what is the same is not marked."""
    was, now = " ".join(old), " ".join(new)
    left, right = marked(was, now)
    assert _text(left) == was and _text(right) == now
    kept = [re.sub(r"<(del|ins)>.*?</\1>", "", side) for side in (left, right)]
    assert kept[0] == kept[1]
    assert ("<del>" in left or "<ins>" in right) == (was != now)


def test_only_the_word_that_changed_is_marked() -> None:
    left, right = marked("height_aal_ft < 1500 and not wet", "height_aal_ft < 1300 and not wet")
    assert left == "height_aal_ft &lt; <del>1500</del> and not wet"
    assert right == "height_aal_ft &lt; <ins>1300</ins> and not wet"


class _Page(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.tags: set[str] = set()
        self.attributes: set[str] = set()
        self.ids: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        self.attributes |= {name for name, _ in attrs}
        self.ids += [value or "" for name, value in attrs if name == "id"]


def test_no_text_of_a_deck_becomes_markup() -> None:
    page = compare_page(hostile())
    plain, bad = _Page(), _Page()
    plain.feed(compare_page(revision()))
    bad.feed(page)
    assert bad.tags <= plain.tags and bad.attributes <= plain.attributes
    assert HOSTILE in _text(page) and "<script>" not in page


@pytest.mark.parametrize("name", SHOWN)
def test_the_page_stands_alone(name: str) -> None:
    page = compare_page(SHOWN[name]())
    html5lib.HTMLParser(strict=True).parse(page)
    found = _Page()
    found.feed(page)
    assert len(found.ids) == len(set(found.ids))
    assert not {"src", "href", "action"} & found.attributes and "@import" not in page and "url(" not in page


def _text(markup: str) -> str:
    return "".join(html5lib.parseFragment(markup, namespaceHTMLElements=False).itertext())
