"""What a card would violate: each rule with a deck that breaks it and one that keeps it."""

import pytest
from msgspec.structs import replace

from flowdeck.card.capitals import longest_run
from flowdeck.card.check import violations
from flowdeck.card.paper import A4, A5, PAPERS, Paper
from flowdeck.model.deck import Deck, Item
from tests.support.small import small_deck


def changed(ref: str, **fields: object) -> Deck:
    small = small_deck()
    return replace(small, items=small.items | {ref: replace(small.items[ref], **fields)})


def found(deck: Deck, rule: str, paper: Paper = A5) -> list[tuple[str, str]]:
    return [(v.ref, v.message) for v in violations(deck, paper) if v.rule == rule]


@pytest.mark.parametrize("paper", PAPERS.values(), ids=list(PAPERS))
def test_the_small_deck_is_clean(paper: Paper) -> None:
    assert violations(small_deck(), paper) == ()


def test_line_too_wide() -> None:
    deck = changed("ll-gear", to="down and locked with three lights seen by both pilots and the lever down")
    [(ref, message)] = found(deck, "line-too-wide")
    assert ref == "ll-gear" and message.startswith("its answer takes 3 lines on a card of a5, more than 2: down and")
    assert message.count(" / ") == 2
    assert found(changed("ll-gear", to="down and locked with three lights seen"), "line-too-wide") == []


def test_card_page_break() -> None:
    """A list that no page holds; on a larger page it fits."""
    small = small_deck()
    first = small.items["ll-gear"]

    def with_lines(number: int) -> Deck:
        more: dict[str, Item] = {f"more-{i}": replace(first, id=f"more-{i}") for i in range(number)}
        long = replace(small.checklists["landing-list"], lines=(*more,), holds=())
        return replace(small, items=small.items | more, checklists=small.checklists | {"landing-list": long})

    assert found(with_lines(15), "card-page-break") == []
    [(ref, message)] = found(with_lines(25), "card-page-break")
    assert ref == "landing-list" and message == "'Landing checklist' does not fit on one page of a5"
    assert found(with_lines(25), "card-page-break", A4) == []


def test_card_type_face() -> None:
    """x-height of 2.5 mm and a gap of 25 %: NASA CR-177605, from memory."""
    [(_, message)] = found(small_deck(), "card-type-face", replace(A5, read=4.7, pitch=6.3))
    assert message == "on a5 the x-height is 2.48 mm, less than 2.5 mm"
    [(_, message)] = found(small_deck(), "card-type-face", replace(A5, pitch=5.9))
    assert message == "on a5 the gap between lines is 24% of the letters, less than 25%"
    three = [v for v in violations(small_deck(), A5, faces=("One", "Two", "Three")) if v.rule == "card-type-face"]
    assert [v.message for v in three] == ["3 faces on one card: One, Two, Three; at most 2"]


def test_capitals_run() -> None:
    assert found(changed("ll-gear", to="DOWN WITH THREE GREENS"), "capitals-run") == []
    [(ref, message)] = found(changed("ll-gear", to="DOWN WITH ALL THREE GREENS"), "capitals-run")
    assert ref == "ll-gear" and message == "5 words in capitals in a run, more than 4: DOWN WITH ALL THREE GREENS"


@pytest.mark.parametrize(
    ("text", "run"),
    [
        ("", []),
        ("Gear DOWN", ["DOWN"]),
        ("OFF BUT NUMBER 1", ["OFF", "BUT", "NUMBER"]),
        ("ON 1 OFF 2 then ON", ["ON", "OFF"]),
        ("\u2039alt\u203a, IDENTIFIED", ["IDENTIFIED"]),
        ("nothing", []),
    ],
)
def test_runs_of_capitals(text: str, run: list[str]) -> None:
    assert longest_run(text) == run


@pytest.mark.parametrize("field", ["title", "version", "date", "type", "operator", "status"])
def test_no_identity(field: str) -> None:
    small = small_deck()
    deck = replace(small, identity=replace(small.identity, **{field: " "}))
    assert found(deck, "no-identity") == [("deck", f"the card does not say its {field}")]


def test_an_identity_that_is_cut() -> None:
    small = small_deck()
    deck = replace(small, identity=replace(small.identity, effectivity="all of the fleet, " * 30))
    [(ref, message)] = found(deck, "no-identity")
    assert ref == "deck" and "more than 6 lines" in message


def test_card_letters() -> None:
    [(ref, message)] = found(changed("ll-gear", do="\u8d77\u843d"), "card-letters")
    assert ref == "ll-gear" and "'\u8d77\u843d'" in message


def test_a_thing_is_said_once() -> None:
    """A line stands on three cards; what is wrong with it is said once."""
    deck = changed("ll-altimeters", to="SET AND AGREED AND READ ALOUD")
    assert len(found(deck, "capitals-run")) == 1
