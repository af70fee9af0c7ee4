"""A debrief as text, data and page: word for word, nothing lost between them, safe whatever stands in a journal."""

import json
import re
from functools import cache
from html.parser import HTMLParser
from pathlib import Path

import html5lib
import pytest

from flowdeck import DISCLAIMER
from flowdeck.debrief.study import Debrief, study
from flowdeck.model import events as ev
from flowdeck.model.deviation import MEANING
from flowdeck.view.debrief.data import debrief_data
from flowdeck.view.debrief.page import debrief_page
from flowdeck.view.debrief.text import debrief_text
from flowdeck.view.debrief.words import glance, slip_words, tables
from tests.scenarios.flown import flown
from tests.support.expected import expected
from tests.support.hostile_events import HOSTILE, hostile_events

HERE = Path(__file__).parent / "debrief"
BEGUN = "2026-01-05T12:30:00+00:00"
SHOWN = ("slips", "interrupted", "go-around", "cold")


@cache
def debriefed(name: str) -> Debrief:
    done = flown(name)
    return study(done.deck, done.scenario, done.events)


@cache
def hostile() -> Debrief:
    done = flown("slips")
    return study(done.deck, done.scenario, hostile_events(done.events))


@pytest.mark.parametrize("name", SHOWN)
def test_word_for_word(name: str) -> None:
    d, path = debriefed(name), HERE / f"{name}.txt"
    text = debrief_text(d, BEGUN).replace(d.deck.hash[:12], "HASH")
    assert text == expected(path, text)


@pytest.mark.parametrize("name", SHOWN)
@pytest.mark.parametrize("width", [60, 80, 100])
def test_no_line_is_wider_than_asked(name: str, width: int) -> None:
    text = debrief_text(debriefed(name), BEGUN, width)
    head = text[: text.index("\nWhat slipped, by class")]
    assert max(len(line) for line in head.splitlines()) <= width


@pytest.mark.parametrize("name", SHOWN)
def test_each_form_says_what_it_is_for_and_of_which_deck(name: str) -> None:
    d = debriefed(name)
    for shown in (debrief_text(d, BEGUN), debrief_page(d, BEGUN), json.dumps(debrief_data(d, BEGUN))):
        flat = re.sub(r"\s+", " ", shown)
        assert DISCLAIMER in flat
        assert d.deck.hash[:12] in flat and d.deck.identity.status in flat and d.deck.identity.effectivity in flat


def test_every_deviation_stands_in_every_form() -> None:
    """With its class, seat, what was expected and found, its reason, and who put it right."""
    d = debriefed("slips")
    text = re.sub(r"\s+", " ", debrief_text(d, BEGUN))
    page = "".join(html5lib.parse(debrief_page(d, BEGUN), namespaceHTMLElements=False).itertext())
    data = {found["number"]: found for found in debrief_data(d, BEGUN)["deviations"]}
    assert len(data) == len(d.slips) == 31
    for slipped in d.slips:
        words = slip_words(d, slipped)
        for each in (words.at, words.kind, words.sentence, words.reason, words.trapped):
            assert re.sub(r"\s+", " ", each) in text and each in page
        for each in (words.expected, words.actual):
            assert each in text and each in page
        found = data[slipped.deviation.number]
        assert found["class"].replace("_", " ") == words.kind
        assert found["expected"] == slipped.deviation.expected and found["why"] == slipped.why


def test_every_count_of_the_glance_stands_in_text_and_page() -> None:
    d = debriefed("interrupted")
    text = re.sub(r"\s+", " ", debrief_text(d, BEGUN))
    page = "".join(html5lib.parse(debrief_page(d, BEGUN), namespaceHTMLElements=False).itertext())
    for title, value in glance(d):
        assert f"{title} {value}" in text
        assert f"{title}{value}" in page
    for table in tables(d):
        for cell in (cell for row in table.rows for cell in row):
            assert cell in page


def test_one_person_in_both_seats() -> None:
    """What he cannot give is not applicable, and says so; it is null in JSON, never 0."""
    d = debriefed("cold")
    assert d.solo
    assert "one person in both seats" in debrief_text(d, BEGUN)
    assert dict(glance(d))["Replies to lines"].startswith("n/a")
    data = debrief_data(d, BEGUN)
    assert data["replies"] is None and data["one_person"] is True
    by_class = {found["class"]: found for found in data["classes"]}
    for name in ("rote", "chunked"):
        assert by_class[name]["opportunities"] is None
    assert {found["trapped_by_other_seat"] for found in data["classes"]} == {None}


def test_no_share_is_given_and_nobody_graded() -> None:
    """Counts with opportunities; no percentage, no score."""
    for name in SHOWN:
        shown = debrief_text(debriefed(name), BEGUN, timeline=True)
        assert "%" not in shown.replace("%g", "")
        assert not re.search(r"\b(score|grade[ds]?\b(?! by)|rating|percent)", shown.casefold())


class _Page(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.tags: set[str] = set()
        self.attributes: set[str] = set()
        self.ids: list[str] = []
        self.links: list[str] = []
        self.addresses: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        for name, value in attrs:
            self.attributes.add(name)
            if name == "id":
                self.ids.append(value or "")
            if name == "href":
                self.links.append(value or "")
            if name in ("src", "action", "data", "srcset", "poster"):
                self.addresses.append(value or "")


def test_no_text_of_an_event_becomes_markup() -> None:
    """The page of a hostile flight has the elements and attributes of any other, and shows the texts as they are."""
    page = debrief_page(hostile(), BEGUN)
    plain, bad = _Page(), _Page()
    plain.feed(debrief_page(debriefed("slips"), BEGUN))
    bad.feed(page)
    assert bad.tags == plain.tags and bad.attributes == plain.attributes
    assert "script" not in bad.tags and not bad.addresses
    assert "\x1b" not in page and "\u202e" not in page
    shown = "".join(html5lib.parse(page, namespaceHTMLElements=False).itertext())
    assert "<script>alert(1)</script>" in shown and "<U+202E>" in shown


def test_no_text_of_an_event_acts_on_a_terminal() -> None:
    text = debrief_text(hostile(), BEGUN, timeline=True)
    assert "\x1b" not in text and "\u202e" not in text and "<U+001B>" in text
    assert HOSTILE[:25] in text


@pytest.mark.parametrize("name", SHOWN)
def test_the_page_stands_alone(name: str) -> None:
    """No address of anything outside, every link has its place, every id is one."""
    page = debrief_page(debriefed(name), BEGUN)
    html5lib.HTMLParser(strict=True).parse(page)
    found = _Page()
    found.feed(page)
    assert len(found.ids) == len(set(found.ids))
    assert all(link.startswith("#") and link[1:] in found.ids for link in found.links)
    assert not found.addresses and "@import" not in page and "url(" not in page


def test_every_class_has_its_meaning_beside_it() -> None:
    d = debriefed("slips")
    assert {slip_words(d, s).meaning for s in d.slips} == set(MEANING.values())


def test_notes_and_the_watch_stand_in_every_form() -> None:
    """An instructor's note at its moment; who monitored when a slip was trapped, by the raw events."""
    done = flown("slips")
    note = ev.Noted(at=done.events[-1].at, about=628_000, words="Who had the radio here?")
    d = study(done.deck, done.scenario, (*done.events, note))
    text, page = debrief_text(d, BEGUN), debrief_page(d, BEGUN)
    assert "00:10:28  Who had the radio here?" in text and "Who had the radio here?" in page
    assert debrief_data(d, BEGUN)["notes"] == [{"at_ms": 628_000, "words": "Who had the radio here?"}]
    trapped = len(done.of(ev.DeviationTrapped))
    assert done.scenario.flying == "captain" and not done.of(ev.ControlConfirmed)
    assert dict(glance(d))["Trapped, by watch"] == f"{trapped} of 31 while the first officer monitored"
    [spoken] = [table for table in tables(d) if table.title == "Spoken up"]
    assert spoken.rows[0][3] == "0 s", "the list was challenged in the moment in which it was late"
