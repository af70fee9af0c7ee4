"""Pages of a card side by side as one drawing of its own, for documents that show what a card looks like."""

from collections.abc import Sequence

from flowdeck.card.page import Page, Words
from flowdeck.card.paper import Paper
from flowdeck.view.card.page import shape
from flowdeck.view.html import text

_GAP = 6.0


def standalone_svg(pages: Sequence[Page], paper: Paper) -> str:
    """An SVG file: dark on light, in millimetres, a frame around each page."""
    width = len(pages) * (paper.width + _GAP) - _GAP
    sheets = "".join(
        f'<g transform="translate({n * (paper.width + _GAP):g} 0)"><rect x=".2" y=".2" width="{paper.width - 0.4:g}" '
        f'height="{paper.height - 0.4:g}" fill="#fff" stroke="#d4d8dd" stroke-width=".4"/>{_drawn(page)}</g>'
        for n, page in enumerate(pages)
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:g} {paper.height:g}" color="#111" fill="#111" '
        f'font-family="Liberation Sans,Arial,sans-serif">{sheets}</svg>'
    )


def _drawn(page: Page) -> str:
    parts = [part for row in page.rows for part in row.parts]
    return "".join(_words(part) if isinstance(part, Words) else shape(part) for part in parts)


def _words(part: Words) -> str:
    weight = ' font-weight="700"' if part.bold else ""
    size = f'x="{part.x:.2f}" y="{part.y:.2f}" font-size="{part.size:.2f}"'
    return f'<text {size}{weight} textLength="{part.width:.2f}">{text(part.text)}</text>'
