"""What holds of the pages of any deck: all of it there once, within the margins, nothing over anything else."""

from collections import Counter
from collections.abc import Iterator
from functools import cache
from itertools import combinations, pairwise

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from flowdeck import DISCLAIMER
from flowdeck.card.layout import By, Layout, cards_of, lay_out
from flowdeck.card.page import Kind, Page, Role, Row, Rule, Sheets, Words, extent
from flowdeck.card.paper import A4, A5, PAPERS, Paper
from flowdeck.card.seats import owes
from flowdeck.live.bundled import read_deck
from flowdeck.model.deck import Deck, ItemKind
from flowdeck.model.seats import Seat
from tests.card.decks import decks
from tests.support.small import small_deck

CLOSE = 1e-6
MARGINAL = {Kind.HEAD, Kind.FOOT, Kind.NOTE}
asked = st.tuples(decks(), st.sampled_from(["seat", "checklist"]), st.sampled_from([A5, A4]), st.booleans())
slow = settings(deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])


@cache
def bundled() -> Deck:
    return read_deck("twinjet")[0]


def laid(deck: Deck, by: By, paper: Paper, reasons: bool = False) -> Layout:
    return lay_out(deck, by, paper, reasons=reasons)


def body(page: Page) -> list[Row]:
    return [row for row in page.rows if row.kind not in MARGINAL]


def rows_of(sheets: Sheets) -> Iterator[Row]:
    for page in sheets.pages:
        yield from page.rows


def check_places(layout: Layout) -> None:
    """Every part within the margins and within its row; no row and no words over others."""
    paper = layout.paper
    for page in (page for card in layout.cards for page in card.pages):
        rows = sorted(page.rows, key=lambda row: row.y)
        for above, below in pairwise(rows):
            assert above.y + above.height <= below.y + CLOSE, (above, below)
        for row in rows:
            for part in row.parts:
                left, top, right, bottom = extent(part)
                assert paper.left - CLOSE <= left and right <= paper.right + CLOSE, (part, row.kind)
                assert paper.top - CLOSE <= top and bottom <= paper.height - paper.bottom + CLOSE, part
                assert row.y - CLOSE <= top and bottom <= row.y + row.height + CLOSE, (part, row)
            check_joined(row)
            boxes = [extent(part) for part in row.parts if isinstance(part, Words)]
            for one, two in combinations(boxes, 2):
                beside = one[2] <= two[0] + CLOSE or two[2] <= one[0] + CLOSE
                assert beside or one[3] <= two[1] + CLOSE or two[3] <= one[1] + CLOSE, (one, two, row)


def check_joined(row: Row) -> None:
    """A thin rule leads from the last words of a challenge to the first of its answer, and touches neither."""
    words = [part for part in row.parts if isinstance(part, Words)]
    answers = [part for part in words if part.role is Role.ANSWER]
    if row.kind is Kind.ITEM and answers and row.first and (prompts := [p for p in words if p.role is Role.PROMPT]):
        if abs(prompts[-1].y - answers[0].y) < CLOSE:  # else it goes on over the page
            [rule] = [part for part in row.parts if isinstance(part, Rule)]
            assert prompts[-1].x + prompts[-1].width + 1 <= rule.x <= rule.to_x - 2 + CLOSE
            assert rule.to_x + 1 <= answers[0].x and prompts[-1].y - prompts[-1].size < rule.y < prompts[-1].y


def check_counts(layout: Layout) -> None:
    for card in layout.cards:
        assert [page.number for page in card.pages] == list(range(1, len(card.pages) + 1))
        for page in card.pages:
            head, foot = page.rows[0], page.rows[-1]
            assert (head.kind, foot.kind) == (Kind.HEAD, Kind.FOOT)
            assert f"page {page.number} of {len(card.pages)}" in [p.text for p in head.parts if isinstance(p, Words)]
            assert " ".join(p.text for p in foot.parts if isinstance(p, Words)) == DISCLAIMER


def check_marks(layout: Layout) -> None:
    """A block that goes over says so on both pages; nothing else does; each page begins with a block or goes one on."""
    for card in layout.cards:
        expected: Counter[tuple[Kind, str]] = Counter()
        for page, after in pairwise(card.pages):
            last, first = body(page)[-1], body(after)[0]
            if first.kind in (Kind.SECTION, Kind.HEADING):
                assert last.kind is not Kind.CONTINUES
            else:
                assert (last.kind, first.kind) == (Kind.CONTINUES, Kind.CONTINUED) and last.ref == first.ref
                expected[Kind.CONTINUES, last.ref] += 1
                expected[Kind.CONTINUED, last.ref] += 1
        found = Counter((r.kind, r.ref) for r in rows_of(card) if r.kind in (Kind.CONTINUES, Kind.CONTINUED))
        assert found == expected


def check_lists_whole(layout: Layout) -> None:
    """A list is broken only when it is higher than a page has room."""
    for card in layout.cards:
        room = min(card.pages[0].rows[-1].y - page.rows[0].y - page.rows[0].height for page in card.pages)
        for ref in {row.ref for row in rows_of(card) if row.kind is Kind.CONTINUES and row.ref.startswith("list-")}:
            height, inside = 0.0, False
            for page in card.pages:
                touched = False
                for row in body(page):
                    inside = row.ref == ref if row.kind in (Kind.SECTION, Kind.HEADING) else inside
                    touched = touched or inside
                    height += row.height if inside and row.kind not in (Kind.CONTINUES, Kind.CONTINUED) else 0
                height += sum(row.height for row in page.rows if touched and row.kind is Kind.NOTE)
            assert height > room, f"{ref} would have fitted"


def squeezed(text: str) -> str:
    return text.replace(" ", "")


def check_whole(deck: Deck, by: By, layout: Layout, reasons: bool = False) -> None:
    """Each entry begins once; its words stand in their columns in full, its note at the foot or below it."""
    for sheets, card in zip(layout.cards, cards_of(deck, by, reasons=reasons), strict=True):
        begun = Counter(row.ref for row in rows_of(sheets) if row.first and row.kind in (Kind.ITEM, Kind.HOLD))
        entries = [e for block in card.blocks for e in block.entries if e.kind in (Kind.ITEM, Kind.HOLD)]
        assert begun == Counter(entry.ref for entry in entries)
        said: dict[tuple[str, Role], str] = {}
        for row in rows_of(sheets):
            if row.kind in (Kind.ITEM, Kind.NOTE, Kind.HEADING):
                for part in row.parts:
                    if isinstance(part, Words):
                        said[row.ref, part.role] = said.get((row.ref, part.role), "") + squeezed(part.text)
        notes = {text for (ref, role), text in said.items() if role is Role.UNDER and ref.isdecimal()}
        for thing in (*entries, *card.blocks):
            below = said.get((thing.ref, Role.UNDER), "")
            assert squeezed(thing.note) in below or any(squeezed(thing.note) in note for note in notes)
        for entry in entries:
            if entry.kind is Kind.ITEM:
                assert said[entry.ref, Role.PROMPT] == squeezed(entry.prompt)
                assert said.get((entry.ref, Role.ANSWER), "") == squeezed(entry.answer)
                assert said[entry.ref, Role.WHO] == entry.who
                assert squeezed("".join(entry.under)) in said.get((entry.ref, Role.UNDER), "")


@settings(slow, max_examples=20)
@given(asked)
def test_any_deck(given: tuple[Deck, By, Paper, bool]) -> None:
    check_all(*given)


@pytest.mark.soak
@settings(slow, max_examples=150)
@given(asked)
def test_any_of_many_decks(given: tuple[Deck, By, Paper, bool]) -> None:
    check_all(*given)


def check_all(deck: Deck, by: By, paper: Paper, reasons: bool) -> None:
    layout = laid(deck, by, paper, reasons)
    check_places(layout)
    check_counts(layout)
    check_marks(layout)
    check_lists_whole(layout)
    check_whole(deck, by, layout, reasons)


@pytest.mark.parametrize("by", ["seat", "checklist"])
@pytest.mark.parametrize("paper", PAPERS.values(), ids=list(PAPERS))
def test_the_bundled_deck(by: By, paper: Paper) -> None:
    layout = laid(bundled(), by, paper)
    check_places(layout)
    check_counts(layout)
    check_marks(layout)
    check_whole(bundled(), by, layout)
    assert layout == laid(bundled(), by, paper)


def test_every_line_of_every_list_stands_once() -> None:
    deck = bundled()
    [card] = laid(deck, "checklist", A5).cards
    found = Counter(row.ref for row in rows_of(card) if row.kind is Kind.ITEM)
    assert found == Counter(ref for each in deck.checklists.values() for ref in each.lines) and len(found) > 40
    ends = Counter(row.ref for row in rows_of(card) if row.kind is Kind.END)
    assert ends == Counter([*deck.checklists, "card"])
    assert not any(row.kind is Kind.CONTINUES and row.ref in deck.checklists for row in rows_of(card))


@pytest.mark.parametrize("flying", [None, *Seat])
def test_a_seat_has_what_it_may_owe_once_and_nothing_else(flying: Seat | None) -> None:
    deck = bundled()
    grouped = {ref for group in deck.groups.values() for ref in group.items}
    grouped |= {ref for each in deck.checklists.values() for ref in each.lines}
    for card, seat in zip(lay_out(deck, "seat", A5, flying).cards, Seat, strict=True):
        found = Counter(row.ref for row in rows_of(card) if row.kind is Kind.ITEM and row.first)
        owed = [ref for ref in grouped if owes(deck.items[ref].by, seat, flying)]
        here = [ref for ref in owed if any(seat in deck.phases[phase].seats for phase in deck.items[ref].phases)]
        assert found == Counter(here)
        assert {ItemKind.ACTION, ItemKind.CALL, ItemKind.ANSWER, ItemKind.LINE} <= {deck.items[r].kind for r in found}


def test_both_roles_are_on_a_card_and_one_when_it_is_said_who_flies() -> None:
    deck = small_deck()

    def refs(flying: Seat | None) -> set[str]:
        return {row.ref for row in rows_of(lay_out(deck, "seat", A5, flying).cards[0]) if row.kind is Kind.ITEM}

    flying, monitoring = refs(Seat.CAPTAIN), refs(Seat.FIRST_OFFICER)
    assert "speed" in flying - monitoring and "gear-down" in monitoring - flying and "brake" in flying & monitoring
    assert refs(None) == flying | monitoring


def test_who_is_not_in_the_seat_owes_nothing() -> None:
    """The captain alone on the ground: nothing of that phase is on the other card."""
    small = small_deck()
    deck = replace(small, phases=small.phases | {"ground": replace(small.phases["ground"], seats=(Seat.CAPTAIN,))})
    captain, other = lay_out(deck, "seat").cards
    assert "brake" in {row.ref for row in rows_of(captain)}
    assert "cut" in {row.ref for row in rows_of(lay_out(small, "seat").cards[1])}
    assert not {"cut", "papers", "parking", "ground-list"} & {row.ref for row in rows_of(other)}


def test_a_long_identity_is_cut_and_still_tells_the_deck() -> None:
    small = small_deck()
    deck = replace(small, identity=replace(small.identity, effectivity="all of the fleet, " * 30))
    for page in lay_out(deck, "checklist").cards[0].pages:
        fine = [p.text for p in page.rows[0].parts if isinstance(p, Words) and p.role is Role.FINE]
        assert len(fine) == 6 and fine[0].startswith("Small deck") and fine[-1] == f"...; deck {deck.hash[:12]}"


def test_notes_stand_on_the_page_of_what_they_are_about() -> None:
    """A number behind a row has its note at the foot of the same page, and each note is called for."""
    for card in laid(bundled(), "seat", A5, reasons=True).cards:
        for page in card.pages:
            numbers = {
                part.text
                for row in body(page)
                for part in row.parts
                if isinstance(part, Words) and part.role is Role.NUMBER
            }
            notes = [row.ref for row in page.rows if row.kind is Kind.NOTE]
            assert notes == [str(i + 1) for i in range(len(notes))] and numbers == set(notes)
