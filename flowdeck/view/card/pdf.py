"""Cards as PDF, by the extra `cards`: the same pages, the face embedded, the same bytes for the same deck.

The law: a letter that the face has not is never printed as another; `missing_in` says which, before anything is drawn.
"""

from itertools import cycle
from typing import Any, assert_never

from fpdf import FPDF

from flowdeck import DISCLAIMER
from flowdeck.card.face import lacking
from flowdeck.card.layout import Layout
from flowdeck.card.page import Bar, Fork, Kind, Part, Role, Row, Rule, Target, Words
from flowdeck.model.deck import Deck
from flowdeck.view.words import safe

_FACE = "card"
_MM_TO_PT = 72 / 25.4


def missing_in(layout: Layout) -> str:
    """The letters of *layout* that the face has not, each once."""
    texts = (
        p.text for c in layout.cards for page in c.pages for row in page.rows for p in row.parts if isinstance(p, Words)
    )
    return lacking("".join(texts))


def cards_pdf(deck: Deck, layout: Layout, face: str, made: Any) -> bytes:
    """*face*: the file of the face, with a weight that varies. *made*: the `datetime` that the PDF bears."""
    paper = layout.paper
    pdf = FPDF(unit="mm", format=(paper.width, paper.height))
    pdf.set_auto_page_break(False)
    pdf.set_margin(0)
    pdf.add_font(_FACE, fname=face, variations={"": {"wght": 400.0}, "B": {"wght": 700.0}})
    pdf.set_title(safe(f"Cards: {deck.identity.title}"))
    pdf.set_author(safe(deck.identity.operator))
    pdf.set_subject(DISCLAIMER)
    pdf.set_creator("flowdeck")
    pdf.set_lang("en")
    pdf.set_creation_date(made)
    pdf.set_draw_color(17)
    pdf.set_fill_color(17)
    pdf.set_text_color(17)
    for card in layout.cards:
        for page in card.pages:
            pdf.add_page()
            if page.number == 1:
                pdf.start_section(card.title, level=0)
            for row in page.rows:
                if row.kind is Kind.HEADING:
                    pdf.start_section(_heading(row), level=1)
                for part in row.parts:
                    _draw(pdf, part)
    return bytes(pdf.output())


def _heading(row: Row) -> str:
    return " ".join(part.text for part in row.parts if isinstance(part, Words) and part.role is Role.TITLE)


def _draw(pdf: FPDF, part: Part) -> None:
    match part:
        case Words():
            pdf.set_font(_FACE, "B" if part.bold else "", part.size * _MM_TO_PT)
            pdf.text(part.x, part.y, part.text)
        case Rule():
            pdf.set_line_width(part.thick)
            if part.broken:
                _dashes(pdf, part)
            else:
                pdf.line(part.x, part.y, part.to_x, part.y)
        case Bar():
            pdf.rect(part.x, part.y, part.width, part.height, style="F")
        case Fork():
            pdf.set_line_width(0.55)
            x, y, reach = part.x + part.size * 0.42, part.y + part.size / 2, part.size * 0.41
            pdf.line(part.x, y, x, y)
            pdf.line(x, y, part.x + part.size * 0.97, y - reach)
            pdf.line(x, y, part.x + part.size * 0.97, y + reach)
        case Target():
            pdf.set_line_width(0.45)
            radius = part.size / 2 - 0.25
            x, y = part.x + part.size / 2, part.y + part.size / 2
            pdf.circle(x, y, radius, style="D")
            pdf.circle(x, y, radius * 0.38, style="F")
        case _:
            assert_never(part)


def _dashes(pdf: FPDF, rule: Rule) -> None:
    """Long and short strokes in turn, as in every form."""
    x, lengths = rule.x, cycle((5.0, 1.2))
    while x < rule.to_x:
        length = next(lengths)
        pdf.line(x, rule.y, min(x + length, rule.to_x), rule.y)
        x += length + 1.6
