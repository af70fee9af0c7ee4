"""What a printed card of a deck would violate: values for whoever vets the deck; nothing is printed here."""

from collections.abc import Iterator, Sequence
from typing import Literal

from msgspec import Struct

from flowdeck.card.capitals import MOST_CAPITALS, longest_run
from flowdeck.card.content import Card
from flowdeck.card.face import FACES, lacking, printable
from flowdeck.card.layout import MOST_LINES, cards_of, identity_lines, pages_of
from flowdeck.card.page import Kind, Sheets
from flowdeck.card.paper import A5, LEAST_GAP, LEAST_X_HEIGHT_MM, Paper
from flowdeck.card.rows import columns, pair
from flowdeck.model.deck import Deck

MOST_LINES_OF_A_PAIR = 2
"""Lines that a challenge or an answer takes up; our proposal."""

Rule = Literal["line-too-wide", "card-page-break", "card-type-face", "capitals-run", "no-identity", "card-letters"]


class Violation(Struct, frozen=True, kw_only=True):
    """*ref* is the item, list or flow; `deck` for the whole."""

    rule: Rule
    ref: str
    message: str


def violations(deck: Deck, paper: Paper = A5, faces: Sequence[str] = FACES) -> tuple[Violation, ...]:
    """All that is found on the cards of lists and of seats: of each rule and thing the first."""
    lists, seats = cards_of(deck, "checklist"), cards_of(deck, "seat")
    found = [*_type(paper, faces), *_identity(lists[0], paper)]
    for card in lists:
        found += _breaks(card, pages_of(card, paper), paper)  # on the card of a seat a list is never longer
    for card in (*lists, *seats):
        found += [*_wide(card, paper), *_capitals(card), *_letters(card)]
    return tuple({(each.rule, each.ref): each for each in reversed(found)}.values())[::-1]


def _type(paper: Paper, faces: Sequence[str]) -> Iterator[Violation]:
    def wrong(message: str) -> Violation:
        return Violation(rule="card-type-face", ref="deck", message=message)

    if paper.x_height < LEAST_X_HEIGHT_MM:
        yield wrong(f"on {paper.name} the x-height is {paper.x_height:.2f} mm, less than {LEAST_X_HEIGHT_MM} mm")
    if paper.gap < LEAST_GAP:
        yield wrong(
            f"on {paper.name} the gap between lines is {paper.gap:.0%} of the letters, less than {LEAST_GAP:.0%}"
        )
    if len(faces) > 2:
        yield wrong(f"{len(faces)} faces on one card: {', '.join(faces)}; at most 2")


def _identity(card: Card, paper: Paper) -> Iterator[Violation]:
    who = card.identity
    fields = ("title", "version", "date", "type", "operator", "status")
    missing = [name for name in fields if not printable(getattr(who, name))]
    if missing:
        yield Violation(rule="no-identity", ref="deck", message=f"the card does not say its {', '.join(missing)}")
    if len(identity_lines(card, paper)) > MOST_LINES:
        message = f"title, type, operator and effectivity together take more than {MOST_LINES} lines of a card's head"
        yield Violation(rule="no-identity", ref="deck", message=f"{message} on {paper.name} and are cut")


def _wide(card: Card, paper: Paper) -> Iterator[Violation]:
    split = columns(card, paper)
    for block in card.blocks:
        for entry in block.entries:
            if entry.kind is not Kind.ITEM or not entry.answer:
                continue
            for name, lines in zip(("challenge", "answer"), pair(entry, split[block.kind], paper), strict=True):
                if len(lines) > MOST_LINES_OF_A_PAIR:
                    said = " / ".join(lines)
                    message = f"its {name} takes {len(lines)} lines on a card of {paper.name}, more than 2: {said}"
                    yield Violation(rule="line-too-wide", ref=entry.ref, message=message)


def _breaks(card: Card, sheets: Sheets, paper: Paper) -> Iterator[Violation]:
    titles = {block.ref: block.title for block in card.blocks if block.kind == "list"}
    for page in sheets.pages:
        for row in page.rows:
            if row.kind is Kind.CONTINUES and row.ref in titles:
                message = f"'{titles[row.ref]}' does not fit on one page of {paper.name}"
                yield Violation(rule="card-page-break", ref=row.ref, message=message)


def _capitals(card: Card) -> Iterator[Violation]:
    for block in card.blocks:
        for entry in block.entries:
            for text in (entry.prompt, entry.answer):
                run = longest_run(text)
                if len(run) > MOST_CAPITALS:
                    message = f"{len(run)} words in capitals in a run, more than {MOST_CAPITALS}: {' '.join(run)}"
                    yield Violation(rule="capitals-run", ref=entry.ref, message=message)


def _letters(card: Card) -> Iterator[Violation]:
    who = card.identity
    letters = lacking("".join(getattr(who, name) for name in who.__struct_fields__))
    if letters:
        yield Violation(rule="card-letters", ref="deck", message=f"the face of a printed card has no '{letters}'")
    for block in card.blocks:
        for ref, texts in (
            (block.ref, (block.title, block.about, block.note)),
            *((e.ref, (e.prompt, e.answer, e.note, *e.under)) for e in block.entries),
        ):
            letters = lacking("".join(texts))
            if letters:
                yield Violation(rule="card-letters", ref=ref, message=f"the face of a printed card has no '{letters}'")
