"""A lesson sheet: all that the deck asks for in the phases flown, with its reason, and where the flight differed."""

import re

import html5lib
import pytest

from flowdeck import DISCLAIMER
from flowdeck.debrief.study import study
from flowdeck.model.deck import PLACEHOLDER, ItemKind
from flowdeck.view.debrief.lesson import lesson_page
from flowdeck.view.sentences import sentence
from tests.scenarios.flown import flown
from tests.support.hostile_events import hostile_events


def sheet(name: str) -> str:
    done = flown(name)
    return lesson_page(study(done.deck, done.scenario, done.events), "")


def words_of(page: str) -> str:
    return re.sub(r"\s+", " ", "".join(html5lib.parse(page, namespaceHTMLElements=False).itertext()))


@pytest.mark.parametrize("name", ["clean", "go-around"])
def test_every_item_of_the_phases_flown_stands_on_it_with_its_reason(name: str) -> None:
    done, words = flown(name), words_of(sheet(name))
    phases = {phase for phase, _ in done.flight.session.visited}
    missing = []
    for item in done.deck.items.values():
        if not phases & set(item.phases) or item.kind is ItemKind.STANDING_OFF:
            continue
        shown = PLACEHOLDER.sub("...", item.do)
        if shown not in words or re.sub(r"\s+", " ", item.why) not in words:
            missing.append(item.id)
    assert missing == []
    for gate in done.deck.gates.values():
        if phases & set(gate.phases):
            assert gate.title in words and all(must.words in words for must in gate.must)


@pytest.mark.parametrize("name", ["slips", "interrupted", "go-around"])
def test_where_the_flight_differed_stands_with_the_item(name: str) -> None:
    """Every deviation once or, where its item stands in two groups, more often; a failed gate as what became of it."""
    done = flown(name)
    d = study(done.deck, done.scenario, done.events)
    words = words_of(lesson_page(d, ""))
    for slipped in d.slips:
        if slipped.deviation.item not in d.deck.gates:
            assert sentence(d.deck, slipped.deviation) in words
    for gate in d.crew.gates:
        if gate.answer != "passed":
            assert f"({', '.join(gate.failing)})" in words


def test_a_flight_without_a_slip_differs_nowhere() -> None:
    page = sheet("clean")
    assert 'class="differed"' not in page and "not owed in this flight" in page


def test_what_was_not_flown_is_named() -> None:
    assert "Not flown: Turnaround, Go-around." in words_of(sheet("clean"))
    assert "Not flown: Turnaround." in words_of(sheet("go-around"))


def test_what_it_is_for_and_no_markup_from_a_journal() -> None:
    assert DISCLAIMER in sheet("clean")
    done = flown("slips")
    page = lesson_page(study(done.deck, done.scenario, hostile_events(done.events)), "")
    html5lib.HTMLParser(strict=True).parse(page)
    assert "<script" not in page and "<img" not in page and "\x1b" not in page
