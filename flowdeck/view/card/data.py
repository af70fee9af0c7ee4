"""The layout of cards as plain data for JSON: stable keys, places and sizes in millimetres."""

from typing import Any, assert_never

from flowdeck import DISCLAIMER
from flowdeck.card.layout import Layout
from flowdeck.card.page import Bar, Fork, Page, Part, Row, Rule, Target, Words
from flowdeck.model.deck import Deck
from flowdeck.view.words import deck_data


def cards_data(deck: Deck, layout: Layout) -> dict[str, Any]:
    paper = layout.paper
    return {
        "notice": DISCLAIMER,
        "deck": deck_data(deck),
        "paper": {
            "name": paper.name,
            "width_mm": paper.width,
            "height_mm": paper.height,
            "letters_mm": paper.read,
            "x_height_mm": round(paper.x_height, 3),
            "line_mm": paper.pitch,
        },
        "cards": [{"title": card.title, "pages": [_page(page) for page in card.pages]} for card in layout.cards],
    }


def _page(page: Page) -> dict[str, Any]:
    return {"page": page.number, "of": page.of, "rows": [_row(row) for row in page.rows]}


def _row(row: Row) -> dict[str, Any]:
    return {
        "kind": str(row.kind),
        "ref": row.ref,
        "begins": row.first,
        **_mm(x=row.x, y=row.y, width=row.width, height=row.height),
        "parts": [_part(part) for part in row.parts],
    }


def _part(part: Part) -> dict[str, Any]:
    match part:
        case Words():
            place = _mm(x=part.x, y=part.y, width=part.width, letters=part.size)
            return {"part": "words", "role": str(part.role), "text": part.text, "bold": part.bold, **place}
        case Rule():
            return {
                "part": "rule", "broken": part.broken, **_mm(x=part.x, to_x=part.to_x, y=part.y, thick=part.thick)
            }  # fmt: skip
        case Bar():
            return {"part": "bar", **_mm(x=part.x, y=part.y, width=part.width, height=part.height)}
        case Fork():
            return {"part": "fork", **_mm(x=part.x, y=part.y, size=part.size)}
        case Target():
            return {"part": "ring", **_mm(x=part.x, y=part.y, size=part.size)}
        case _:
            assert_never(part)


def _mm(**values: float) -> dict[str, float]:
    return {f"{name}_mm": round(value, 3) for name, value in values.items()}
