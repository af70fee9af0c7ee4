"""Cards as text, page, PDF and data: word for word, the same pages in each form, safe whatever stands in a deck."""

import json
import re
from datetime import UTC, datetime
from functools import cache
from io import BytesIO
from pathlib import Path

import fontpkg_arimo
import html5lib
import pytest
from fontTools import subset  # of fpdf2, which embeds by it
from hypothesis import HealthCheck, given, settings
from msgspec.structs import replace
from pypdf import PdfReader

from flowdeck import DISCLAIMER
from flowdeck.card.layout import By, Layout, lay_out
from flowdeck.card.page import Kind, Words
from flowdeck.card.paper import A5, PAPERS, Paper
from flowdeck.live.bundled import read_deck
from flowdeck.model.deck import Deck
from flowdeck.view.card.data import cards_data
from flowdeck.view.card.page import cards_page
from flowdeck.view.card.pdf import cards_pdf, missing_in
from flowdeck.view.card.text import WIDTH, cards_text
from tests.card.decks import decks
from tests.support.expected import expected
from tests.support.small import small_deck

HERE = Path(__file__).parent / "card"
FACE = str(Path(fontpkg_arimo.ROOT) / "files" / "Arimo[wght].ttf")
MADE = datetime(2026, 1, 5, tzinfo=UTC)
slow = settings(deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
HOSTILE = "<script>alert(1)</script> \x1b[31m \u202e {nothing} & \u201cquoted\u201d"


@cache
def bundled(by: By, paper: Paper = A5) -> tuple[Deck, Layout]:
    deck = read_deck("twinjet")[0]
    return deck, lay_out(deck, by, paper)


@pytest.fixture(scope="session")
def face(tmp_path_factory: pytest.TempPathFactory) -> str:
    """The face with the letters of these decks alone, both its weights: a page is drawn in a quarter of the time."""
    options = subset.Options(layout_features=[], notdef_outline=True, name_IDs=["*"])
    subsetter = subset.Subsetter(options)
    subsetter.populate(unicodes=[*range(0x20, 0x180), *range(0x2000, 0x2600)])
    path = str(tmp_path_factory.mktemp("face") / "face.ttf")
    with subset.load_font(FACE, options) as pared:
        subsetter.subset(pared)
        subset.save_font(pared, path, options)
    return path


def told(layout: Layout, kinds: set[Kind] | None = None) -> list[str]:
    """All words of a layout, in order."""
    rows = [row for card in layout.cards for page in card.pages for row in page.rows]
    return [p.text for row in rows if not kinds or row.kind in kinds for p in row.parts if isinstance(p, Words)]


def flat(text: str) -> str:
    return re.sub(r"\s+", "", text)


@pytest.mark.parametrize("by", ["seat", "checklist"])
def test_word_for_word(by: By) -> None:
    """Challenges, rule, answers, who answers, marks, notes and their numbers, each list with its end."""
    deck, path = replace(small_deck(), hash="0123456789abcdef"), HERE / f"{by}.txt"
    text = cards_text(deck, lay_out(deck, by, A5, reasons=True))
    assert text == expected(path, text)


@pytest.mark.parametrize("by", ["seat", "checklist"])
@pytest.mark.parametrize("paper", PAPERS.values(), ids=list(PAPERS))
def test_each_form_has_the_same_pages(by: By, paper: Paper, face: str) -> None:
    deck, layout = bundled(by, paper)
    pages = [f"page {page.number} of {page.of}" for card in layout.cards for page in card.pages]
    assert len(pages) > 3
    assert re.findall(r"page \d+ of \d+(?=\n)", cards_text(deck, layout)) == pages
    sheets = html5lib.parse(cards_page(deck, layout), namespaceHTMLElements=False).findall(".//div[@class='card']")
    assert [re.findall(r"page \d+ of \d+", "".join(sheet.itertext())) for sheet in sheets] == [[p] for p in pages]
    data = cards_data(deck, layout)
    assert [f"page {p['page']} of {p['of']}" for card in data["cards"] for p in card["pages"]] == pages
    found = PdfReader(BytesIO(cards_pdf(deck, layout, face, MADE))).pages
    assert [re.findall(r"page \d+ of \d+", page.extract_text()) for page in found] == [[p] for p in pages]


@pytest.mark.parametrize("by", ["seat", "checklist"])
def test_the_page_and_the_data_have_every_word(by: By) -> None:
    deck, layout = bundled(by)
    sheets = html5lib.parse(cards_page(deck, layout), namespaceHTMLElements=False).findall(".//div[@class='card']")
    words = [span for sheet in sheets for span in sheet.iter("span")]
    assert [flat("".join(span.itertext())) for span in words] == [flat(text) for text in told(layout)]
    rows = [row for card in cards_data(deck, layout)["cards"] for page in card["pages"] for row in page["rows"]]
    assert [p["text"] for row in rows for p in row["parts"] if p["part"] == "words"] == told(layout)


def test_each_form_says_what_it_is_for_and_of_which_deck(face: str) -> None:
    deck, layout = bundled("checklist")
    pdf = " ".join(page.extract_text() for page in PdfReader(BytesIO(cards_pdf(deck, layout, face, MADE))).pages)
    for shown in (cards_text(deck, layout), cards_page(deck, layout), json.dumps(cards_data(deck, layout)), pdf):
        words, who = re.sub(r"\s+", " ", shown), deck.identity
        for each in (DISCLAIMER, deck.hash[:12], who.title, who.version, who.date, who.status, who.effectivity):
            assert each in words
        assert who.type in words and who.operator in words


def test_every_page_says_which_deck_it_is_of() -> None:
    deck, layout = bundled("seat")
    for card in layout.cards:
        for page in card.pages:
            head = " ".join(part.text for part in page.rows[0].parts if isinstance(part, Words))
            who = deck.identity
            for each in (who.title, who.version, who.date, who.status, who.type, who.operator, deck.hash[:12]):
                assert each in head


@settings(slow, max_examples=12)
@given(decks())
def test_no_line_of_text_is_wider_than_a_terminal(deck: Deck) -> None:
    check_widths(deck)


@pytest.mark.soak
@settings(slow, max_examples=100)
@given(decks())
def test_no_line_of_many_decks_is_wider_than_a_terminal(deck: Deck) -> None:
    check_widths(deck)


def check_widths(deck: Deck) -> None:
    for by in ("seat", "checklist"):
        layout = lay_out(deck, by, A5)
        text = cards_text(deck, layout)
        assert max(map(len, text.splitlines())) <= WIDTH
        kept = flat(re.sub(r"[\u2500\u2504\u2550\u258c\u25ce<\[\]\d]", "", text))
        for words in told(layout, {Kind.ITEM, Kind.HOLD, Kind.COMPLETION}):
            assert flat(re.sub(r"[<\d]", "", words)) in kept or len(words) > 40, words


def test_a_pdf_has_every_challenge_and_answer() -> None:
    """Read back by another library: the words of each page, its size, the face embedded in two weights."""
    deck, layout = bundled("checklist")
    reader = PdfReader(BytesIO(cards_pdf(deck, layout, FACE, MADE)))
    shown = flat("".join(page.extract_text() for page in reader.pages))
    for ref in (ref for each in deck.checklists.values() for ref in each.lines):
        assert flat(deck.items[ref].do) in shown
        if "{" not in deck.items[ref].to:
            assert flat(deck.items[ref].to) in shown
    fonts = [font.get_object() for page in reader.pages for font in page["/Resources"]["/Font"].values()]
    for font in fonts:
        descendant = font["/DescendantFonts"][0].get_object()
        assert "/FontFile2" in descendant["/FontDescriptor"].get_object() and "Arimo" in font["/BaseFont"]
    assert {font["/Subtype"] for font in fonts} == {"/Type0"}
    assert reader.metadata is not None and reader.metadata.creation_date == MADE


@pytest.mark.parametrize(("paper", "size"), [("a5", (148, 210)), ("a4", (210, 297))])
def test_a_pdf_is_of_the_size_asked(paper: str, size: tuple[int, int], face: str) -> None:
    """ISO 216, from memory: A5 is 148 by 210 mm, A4 210 by 297."""
    deck, layout = bundled("checklist", PAPERS[paper])
    for page in PdfReader(BytesIO(cards_pdf(deck, layout, face, MADE))).pages:
        found = (float(page.mediabox.width), float(page.mediabox.height))
        assert found == pytest.approx([mm / 25.4 * 72 for mm in size], abs=0.01)
    assert f"@page{{size:{size[0]}mm {size[1]}mm" in cards_page(deck, layout)


def test_the_same_deck_gives_the_same_bytes(face: str) -> None:
    deck, layout = bundled("checklist")
    first, of_2027 = (cards_pdf(deck, layout, face, made) for made in (MADE, MADE.replace(year=2027)))
    assert first == cards_pdf(deck, lay_out(deck, "checklist"), face, MADE)
    assert first != of_2027


def test_letters_beyond_the_first_table_come_back(face: str) -> None:
    """Each as itself, from the file: a letter that the face lacks is named instead."""
    small = small_deck()
    words = "\u017dluva \u0141\u00f3d\u017a \u2265 5 \u00bd"
    items = small.items | {"ll-gear": replace(small.items["ll-gear"], do=words)}
    deck = replace(small, items=items)
    layout = lay_out(deck, "checklist")
    assert missing_in(layout) == ""
    pages = PdfReader(BytesIO(cards_pdf(deck, layout, face, MADE))).pages
    assert flat(words) in flat("".join(page.extract_text() for page in pages))
    items = small.items | {"ll-gear": replace(small.items["ll-gear"], do="\u4e2d and \u0301")}
    assert missing_in(lay_out(replace(small, items=items), "checklist")) == "\u4e2d\u0301"


def hostile_deck() -> Deck:
    """The small deck with words that would be markup, or act on a terminal, wherever words can stand."""
    small = small_deck()
    identity = replace(small.identity, title=HOSTILE, operator=HOSTILE, type=HOSTILE, effectivity=HOSTILE)
    items = {ref: replace(item, do=HOSTILE, to=HOSTILE) for ref, item in small.items.items()}
    lists = {ref: replace(each, title=HOSTILE, completion=HOSTILE) for ref, each in small.checklists.items()}
    groups = {ref: replace(each, title=HOSTILE) for ref, each in small.groups.items()}
    return replace(small, identity=identity, items=items, checklists=lists, groups=groups, glossary={"gear": HOSTILE})


@pytest.mark.parametrize("by", ["seat", "checklist"])
def test_no_words_become_markup_or_act_on_a_terminal(by: By) -> None:
    deck = hostile_deck()
    layout = lay_out(deck, by)
    page = cards_page(deck, layout)
    tree = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(page)
    plain = html5lib.parse(cards_page(small_deck(), lay_out(small_deck(), by)), namespaceHTMLElements=False)
    tags = {element.tag for element in tree.iter()}
    assert "script" not in tags and tags <= {element.tag for element in plain.iter()}
    for shown in (page, cards_text(deck, layout)):
        assert (
            "\x1b" not in shown
            and "\u202e" not in shown
            and "<U+202E>" in shown.replace("&lt;", "<").replace("&gt;", ">")
        )


def test_the_page_stands_alone_and_stays_light() -> None:
    """No address, no script; dark words on white whatever the reader's screen; nothing but cards on paper."""
    page = cards_page(*bundled("checklist"))
    html5lib.HTMLParser(strict=True).parse(page)
    assert not re.search(r"(src|href|url\(|@import|<script)", page)
    assert ".card{color-scheme:light" in page and "background:#fff;\ncolor:#111" in page
