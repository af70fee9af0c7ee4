"""The one layout of the cards of a deck: what is printed, shown on a screen or in a terminal is made from its pages."""

from collections.abc import Sequence
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from flowdeck import DISCLAIMER
from flowdeck.card.closing import closing
from flowdeck.card.content import Card
from flowdeck.card.face import broken, measure, printable
from flowdeck.card.lists import lists_card
from flowdeck.card.page import Kind, Page, Role, Row, Rule, Sheets, Words
from flowdeck.card.pager import Pager, placed
from flowdeck.card.paper import A5, Paper
from flowdeck.card.rows import columns
from flowdeck.card.seats import seat_card
from flowdeck.card.strips import GAP, THICK, Draft, Strip, base, words
from flowdeck.card.titles import block_rows, end_of_card
from flowdeck.model.deck import Deck
from flowdeck.model.seats import Seat

By = Literal["seat", "checklist"]
MOST_LINES = 6
"""Of the small print that tells which card this is; longer is cut, and `check` says so."""


class Layout(Struct, frozen=True, kw_only=True):
    paper: Paper
    cards: tuple[Sheets, ...]


def cards_of(deck: Deck, by: By, flying: Seat | None = None, *, reasons: bool = False) -> tuple[Card, ...]:
    """What is to be printed, with the marks and words that occur on it at its end."""
    cards: tuple[Card, ...]
    if by == "checklist":
        cards = (lists_card(deck),)
    else:
        cards = tuple(seat_card(deck, seat, flying, reasons=reasons) for seat in Seat)
    return tuple(replace(card, blocks=(*card.blocks, *closing(deck, card))) for card in cards)


def lay_out(deck: Deck, by: By, paper: Paper = A5, flying: Seat | None = None, *, reasons: bool = False) -> Layout:
    """*flying*: only what is owed while this seat flies; *reasons*: of what must come before.

    Neither matters for checklists: who flies reads as PF, and there is room for reasons.
    """
    cards = cards_of(deck, by, flying, reasons=reasons)
    return Layout(paper=paper, cards=tuple(pages_of(card, paper) for card in cards))


def pages_of(card: Card, paper: Paper) -> Sheets:
    head, foot = _head(card, paper, "page 99 of 99"), _foot(paper)
    pager = Pager(paper, paper.top + head.height, paper.height - paper.bottom - foot.height)
    split = columns(card, paper)
    section = ""
    for i, block in enumerate(card.blocks):
        last = i == len(card.blocks) - 1
        rows = block_rows(block, split[block.kind], paper, section=block.section not in ("", section), last=last)
        section = block.section or section
        pager.add(block, [*rows, end_of_card(card.title, paper)] if last else rows)
    pager.close()
    total = len(pager.pages)
    return Sheets(
        title=card.title,
        pages=tuple(
            _page(card, paper, rows, number, total, phase)
            for number, (rows, phase) in enumerate(zip(pager.pages, pager.sections, strict=True), 1)
        ),
    )


def _page(card: Card, paper: Paper, rows: Sequence[Row], number: int, of: int, phase: str) -> Page:
    head = _head(card, paper, f"page {number} of {of}", phase)
    foot = _foot(paper)
    return Page(
        number=number,
        of=of,
        rows=(
            placed(head, paper.top, paper),
            *rows,
            placed(foot, paper.height - paper.bottom - foot.height, paper),
        ),
    )


def identity(card: Card) -> tuple[str, ...]:
    """Which card this is, in the order in which a reviser asks for it."""
    who = card.identity
    lines = [
        f"{who.title}, version {who.version} of {who.date}, {who.status}",
        f"{who.type}; {who.operator}",
        *([who.effectivity] if who.effectivity else []),
    ]
    return tuple(printable(line) for line in lines)


def identity_lines(card: Card, paper: Paper) -> list[str]:
    """The small print as it is broken, the hash at its end; its first text is bold."""
    room = paper.right - paper.left
    first, *rest = identity(card)
    lines = broken(first, room, paper.fine, bold=True)
    lines += [line for text in rest for line in broken(text, room, paper.fine)]
    mark = f"deck {card.hash[:12]}"
    if measure(f"{lines[-1]}; {mark}", paper.fine) <= room:
        return [*lines[:-1], f"{lines[-1]}; {mark}"]
    return [*lines, mark]


def _head(card: Card, paper: Paper, count: str, phase: str = "") -> Draft:
    """Whose card, in which phase it goes on here, which page; below in small print which deck it is of."""
    pitch = paper.heading * 1.35
    y = base(paper.heading, pitch)
    first: tuple[Words, ...] = (
        words(card.title, paper.left, y, paper.heading, Role.TITLE, bold=True),
        words(count, 0, y, paper.read, Role.WHO, to_the=paper.right),
    )
    after = paper.left + measure(card.title, paper.heading, bold=True) + 3 * GAP
    if phase and after + measure(phase, paper.read) + 3 * GAP <= first[1].x:
        first = (first[0], words(phase, after, y, paper.read, Role.TITLE), first[1])
    strips = [Strip(height=pitch, parts=first)]
    lines = identity_lines(card, paper)
    if len(lines) > MOST_LINES:
        lines = [*lines[: MOST_LINES - 1], f"...; deck {card.hash[:12]}"]
    bold = len(broken(identity(card)[0], paper.right - paper.left, paper.fine, bold=True))
    strips += [_fine(line, paper, bold=i < bold) for i, line in enumerate(lines)]
    strips.append(_line(paper, 0.5))
    return Draft(kind=Kind.HEAD, ref="head", strips=tuple(strips))


def _foot(paper: Paper) -> Draft:
    lines = broken(DISCLAIMER, paper.right - paper.left, paper.fine)
    return Draft(kind=Kind.FOOT, ref="foot", strips=(_line(paper, 0.6), *(_fine(line, paper) for line in lines)))


def _fine(text: str, paper: Paper, *, bold: bool = False) -> Strip:
    part = words(text, paper.left, base(paper.fine, paper.fine_pitch), paper.fine, Role.FINE, bold=bold)
    return Strip(height=paper.fine_pitch, parts=(part,))


def _line(paper: Paper, share: float) -> Strip:
    """A rule over the whole width, with room on both sides."""
    height = paper.pitch * share
    rule = Rule(x=paper.left, to_x=paper.right, y=height / 2, thick=THICK)
    return Strip(height=height, parts=(rule,))
