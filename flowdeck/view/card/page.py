"""Cards as a document: each page a sheet of its own size, everything on it in millimetres, dark on light always.

On a screen the sheets lie below one another; on paper there is nothing but them.
"""

from typing import assert_never

from flowdeck.card.face import ASCENT, DESCENT
from flowdeck.card.layout import Layout
from flowdeck.card.page import Bar, Fork, Kind, Page, Part, Row, Rule, Target, Words
from flowdeck.card.paper import Paper
from flowdeck.model.deck import Deck
from flowdeck.view.html import document, scrolled, text
from flowdeck.view.words import deck_line

_UNSEEN = {Bar: "critical, ", Fork: "under a condition, ", Target: "point at it, "}
"""What a shape says to whoever hears the page."""


def _style(paper: Paper) -> str:
    return f"""
body{{max-width:none}}h1,body>main>p{{max-width:60rem;margin-left:auto;margin-right:auto}}
@page{{size:{paper.width}mm {paper.height}mm;margin:0}}
.card{{color-scheme:light;position:relative;width:{paper.width}mm;height:{paper.height}mm;margin:0 auto;background:#fff;
color:#111;overflow:hidden;font-kerning:none;font-variant-ligatures:none;text-rendering:geometricPrecision}}
.card *{{margin:0;padding:0;border:0;font-weight:400}}
.card span{{position:absolute;white-space:pre;line-height:1}}.card b{{font-weight:700}}
.card svg{{position:absolute;left:0;top:0;width:100%;height:100%;color:#111}}
.card small{{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}}
.wide{{margin:0 0 6mm}}
@media screen{{.card{{outline:1px solid #d4d8dd;outline-offset:-1px}}}}
@media print{{body,main{{margin:0;padding:0;max-width:none;background:#fff}}h1,body>main>p,.notice{{display:none}}
.wide{{margin:0;overflow:hidden}}.card{{break-after:page;break-inside:avoid}}
.wide:last-child .card{{break-after:auto}}}}
"""


def cards_page(deck: Deck, layout: Layout) -> str:
    """All cards of *layout* as one HTML document."""
    rows = [row for card in layout.cards for page in card.pages for row in page.rows]
    sections = any(row.kind is Kind.SECTION for row in rows)
    titles = ", ".join(card.title for card in layout.cards)
    sheets = [
        scrolled(_sheet(page, layout.paper, sections=sections), f"{card.title}, page {page.number} of {page.of}")
        for card in layout.cards
        for page in card.pages
    ]
    who = deck.identity
    about = (f"{titles}, {layout.paper.name.upper()}", deck_line(deck), f"{who.type}, {who.operator}")
    return document(f"Cards: {who.title}", about, sheets, _style(layout.paper))


def _sheet(page: Page, paper: Paper, *, sections: bool) -> str:
    """*sections*: the card goes by phases, so that names of blocks stand one level deeper."""
    shapes = "".join(shape(part) for row in page.rows for part in row.parts if not isinstance(part, Words))
    drawn = f'<svg viewBox="0 0 {paper.width} {paper.height}" aria-hidden="true">{shapes}</svg>'
    block = "h3" if sections else "h2"
    tags = {Kind.SECTION: "h2", Kind.HEADING: block, Kind.CONTINUED: block}
    return f'<div class="card">{drawn}{"".join(_row(row, tags.get(row.kind, "div")) for row in page.rows)}</div>'


def _row(row: Row, tag: str) -> str:
    """Words in reading order; what a shape says goes before them."""
    kinds = dict.fromkeys(type(part) for part in row.parts)
    unseen = "".join(f"<small>{words}</small>" for kind, words in _UNSEEN.items() if kind in kinds)
    words = "".join(_words(part) for part in row.parts if isinstance(part, Words))
    return f"<{tag}>{unseen}{words}</{tag}>" if words else ""


def _words(part: Words) -> str:
    """Letters stand in the middle of their line: from its upper edge to the line they stand on, by the face."""
    top = part.y - part.size * (1 + ASCENT - DESCENT) / 2
    place = f"left:{part.x:.2f}mm;top:{top:.2f}mm;font-size:{part.size:.2f}mm"
    said = f"<b>{text(part.text)}</b>" if part.bold else text(part.text)
    return f'<span style="{place}">{said} </span>'


def shape(part: Part) -> str:
    """What is no word of a page, drawn."""
    match part:
        case Words():
            return ""
        case Rule():
            dashes = ' stroke-dasharray="5 1.6 1.2 1.6"' if part.broken else ""
            return (
                f'<path d="M{part.x:.2f} {part.y:.2f}H{part.to_x:.2f}" stroke="currentColor" '
                f'stroke-width="{part.thick:.2f}"{dashes} fill="none"/>'
            )
        case Bar():
            return (
                f'<rect x="{part.x:.2f}" y="{part.y:.2f}" width="{part.width:.2f}" height="{part.height:.2f}" '
                'fill="currentColor"/>'
            )
        case Fork():
            middle, reach = part.y + part.size / 2, part.size / 2 * 0.82
            return (
                f'<path d="M{part.x:.2f} {middle:.2f}h{part.size * 0.42:.2f}l{part.size * 0.55:.2f} {-reach:.2f}'
                f'm{-part.size * 0.55:.2f} {reach:.2f}l{part.size * 0.55:.2f} {reach:.2f}" stroke="currentColor" '
                'stroke-width=".55" stroke-linecap="round" stroke-linejoin="round" fill="none"/>'
            )
        case Target():
            x, y, r = part.x + part.size / 2, part.y + part.size / 2, part.size / 2 - 0.25
            return (
                f'<circle cx="{x:.2f}" cy="{y:.2f}" r="{r:.2f}" stroke="currentColor" stroke-width=".45" fill="none"/>'
                f'<circle cx="{x:.2f}" cy="{y:.2f}" r="{r * 0.38:.2f}" fill="currentColor"/>'
            )
        case _:
            assert_never(part)
