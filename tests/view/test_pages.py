"""Every page in a real browser, through a validator and an accessibility check, whatever stands in a journal."""

import re
from collections.abc import Iterator
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
from tests.support.browser import Browser, invalid_in, needs_chromium, needs_java
from tests.support.daily import some
from tests.support.hostile_events import hostile_events
from tests.support.small import small_deck

PAGES = (
    *("debrief slips", "debrief cold", "debrief hostile", "brief skarn-fell", "lesson slips", "lesson hostile"),
    *("compare revision", "compare hostile", "card checklist", "card seat", "trial 2"),
)
LOOKS = ((False, 1000), (True, 1000), (False, 390), (True, 390))
"""In the dark or not, and how wide (px): a desk and a phone, each in light and dark."""
EVERY_DAY = [
    (name, *LOOKS[number % 2 * 3]) for number, name in enumerate(PAGES) if name not in ("lesson slips", "debrief cold")
]
"""Nearly each page once, every second one as on a phone in the dark."""


@pytest.fixture(scope="session")
def browser(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Browser]:
    with Browser(tmp_path_factory.mktemp("browser")) as one:
        yield one


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
@pytest.mark.parametrize(
    ("name", "dark"),
    some([(name, dark) for name in PAGES for dark in (False, True)], [each[:2] for each in EVERY_DAY]),
)
def test_the_console_is_clean(name: str, dark: bool, browser: Browser) -> None:
    assert browser.console_of(page(name), dark=dark) == []


@needs_chromium
@pytest.mark.parametrize(
    ("markup", "says"),
    [
        ("<script>console.error('no')</script>", '"value": "no"'),
        ("<script>nowhere()</script>", "ReferenceError"),
        ('<link rel="stylesheet" href="elsewhere.css">', "ERR_FILE_NOT_FOUND"),
    ],
)
def test_the_console_is_heard(markup: str, says: str, browser: Browser) -> None:
    """What the check above is for: a page that complains, one that fails, one that asks for what is not in it."""
    said = browser.console_of(f"<html><body>{markup}</body></html>")
    assert len(said) == 1 and says in said[0]


@needs_chromium
@pytest.mark.parametrize(
    ("name", "dark", "width"), some([(name, *look) for name in PAGES for look in LOOKS], EVERY_DAY)
)
def test_contrast_headings_names(name: str, dark: bool, width: int, browser: Browser) -> None:
    """axe-core 4.4, all its rules, for a desk and for a phone, in light and dark."""
    assert browser.accessibility_of(page(name), dark=dark, width=width) == []


@needs_chromium
@pytest.mark.parametrize(
    ("media", "seen"),
    [("all", (True, True, True)), ("(prefers-color-scheme: dark)", (False, True, False)),
     ("(max-width: 400px)", (False, False, True))],
)  # fmt: skip
def test_the_accessibility_check_sees(media: str, seen: tuple[bool, ...], browser: Browser) -> None:
    """Pale words, also those that are pale only in the dark or only on a phone."""
    pale = f'<!DOCTYPE html><html lang="en"><head><title>x</title><style>@media {media}{{p{{color:#ccc}}}}</style>'
    pale += '</head><body style="background:#fff"><main><h1>x</h1><p>pale</p></main></body></html>'
    found = [browser.accessibility_of(pale, dark=dark, width=width) for dark, width in LOOKS[:3]]
    assert [[each["id"] for each in one] for one in found] == [["color-contrast"] * here for here in seen]


@needs_java
def test_valid(tmp_path: Path) -> None:
    """Every page, and one that is not valid, of which the validator says so."""
    stray = "<!DOCTYPE html><title>x</title></b>"
    found = invalid_in({**{name: page(name) for name in PAGES}, "stray": stray}, tmp_path)
    assert any("stray" in line.casefold() for line in found.pop("stray"))
    assert found == {name: [] for name in PAGES}
