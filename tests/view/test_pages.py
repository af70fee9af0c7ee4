"""Every page in a real browser, through a validator and an accessibility check, whatever stands in a journal."""

import re
from functools import cache
from pathlib import Path

import pytest

from flowdeck.arrival.brief import make_brief
from flowdeck.card.layout import lay_out
from flowdeck.debrief.study import study
from flowdeck.live.bundled import read_arrival, read_deck, read_scenario
from flowdeck.live.workers import fly_runs
from flowdeck.trial.batch.page import trial_page
from flowdeck.trial.batch.total import total_of
from flowdeck.view.brief.page import brief_page
from flowdeck.view.card.page import cards_page
from flowdeck.view.compare.page import compare_page
from flowdeck.view.debrief.lesson import lesson_page
from flowdeck.view.debrief.page import debrief_page
from tests.compare.revised import hostile, revision
from tests.scenarios.flown import flown
from tests.support.browser import accessibility_of, console_of, invalid_in, needs_chromium, needs_java
from tests.support.hostile_events import hostile_events
from tests.support.small import small_deck

PAGES = (
    *("debrief slips", "debrief cold", "debrief hostile", "brief skarn-fell", "lesson slips", "lesson hostile"),
    *("compare revision", "compare hostile", "card checklist", "card seat", "trial 2"),
)


@cache
def page(name: str) -> str:
    kind, of = name.split()
    if kind == "brief":
        return brief_page(make_brief(read_arrival(of)))
    if kind == "trial":
        deck, scenario, _ = read_scenario("clean")
        return trial_page(total_of(deck, scenario.title, 1, list(fly_runs(deck, scenario, 1, int(of), 1))))
    if kind == "compare":
        return compare_page(revision() if of == "revision" else hostile())
    if kind == "card":
        deck = small_deck() if of == "seat" else read_deck("twinjet")[0]
        return cards_page(deck, lay_out(deck, "seat" if of == "seat" else "checklist"))
    done = flown("slips" if of == "hostile" else of)
    events = hostile_events(done.events) if of == "hostile" else done.events
    render = lesson_page if kind == "lesson" else debrief_page
    return render(study(done.deck, done.scenario, events), "2026-01-05T12:30:00")


def test_a_small_card_has_every_kind_of_mark_up_that_a_large_one_has() -> None:
    """Why the cards of both seats are looked at below with a tenth of the words: each element, with its class."""
    deck = read_deck("twinjet")[0]
    large, small = (set(re.findall(r'<\w+(?: class="[^"]*")?', each)) for each in (
        cards_page(deck, lay_out(deck, "seat")),
        page("card seat"),
    ))  # fmt: skip
    assert large <= small and len(large) > 5


@needs_chromium
@pytest.mark.parametrize("name", PAGES)
@pytest.mark.parametrize("dark", [False, True])
def test_the_console_is_clean(name: str, dark: bool, tmp_path: Path) -> None:
    assert console_of(page(name), tmp_path, dark=dark) == []


@needs_chromium
def test_the_console_is_heard(tmp_path: Path) -> None:
    """What the check above is for: a page that asks the network, and one that complains."""
    said = console_of("<html><body><script>console.error('no')</script></body></html>", tmp_path)
    assert len(said) == 1 and "no" in said[0]


@needs_chromium
@pytest.mark.parametrize("name", PAGES)
@pytest.mark.parametrize(("dark", "width"), [(False, 1000), (True, 1000), (False, 390)])
def test_contrast_headings_names(name: str, dark: bool, width: int, tmp_path: Path) -> None:
    """axe-core 4.4, all its rules, for a desk in light and dark and for a phone."""
    assert accessibility_of(page(name), tmp_path, dark=dark, width=width) == []


@needs_chromium
def test_the_accessibility_check_sees(tmp_path: Path) -> None:
    pale = '<!DOCTYPE html><html lang="en"><head><title>x</title></head><body><main><h1>x</h1>'
    pale += '<p style="color:#ccc;background:#fff">pale</p></main></body></html>'
    assert [found["id"] for found in accessibility_of(pale, tmp_path)] == ["color-contrast"]


@needs_java
@pytest.mark.parametrize("name", PAGES)
def test_valid(name: str, tmp_path: Path) -> None:
    assert invalid_in(page(name), tmp_path) == []


@needs_java
def test_the_validator_sees(tmp_path: Path) -> None:
    assert any("stray" in line.casefold() for line in invalid_in("<!DOCTYPE html><title>x</title></b>", tmp_path))
