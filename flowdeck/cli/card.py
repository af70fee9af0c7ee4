"""`flowdeck card DECK`: printable cards of a deck, one a seat or all checklists."""

import argparse
import json
import sys
from datetime import UTC, datetime
from pathlib import Path

from flowdeck.card.layout import Layout, lay_out
from flowdeck.card.paper import PAPERS
from flowdeck.cli.pages import write_page
from flowdeck.live.bundled import read_deck
from flowdeck.model.deck import Deck
from flowdeck.model.seats import Seat

EXAMPLE = (
    "examples:\n  flowdeck card twinjet\n  flowdeck card twinjet --by checklist --html lists.html\n"
    "  flowdeck card twinjet --flying captain --size a4 --pdf cards.pdf"
)
EXTRA = "a PDF needs the extra `cards`: pip install 'flowdeck[cards]'"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.description = (parser.description or "") + "\n\n" + EXAMPLE
    parser.add_argument("deck", metavar="DECK", help="a deck's folder, or the name of a bundled deck")
    parser.add_argument(
        "--by", choices=["seat", "checklist"], default="seat", help="one card a seat (default), or all checklists"
    )
    parser.add_argument("--size", choices=sorted(PAPERS), default="a5", help="of the paper; a5 by default")
    parser.add_argument(
        "--flying", choices=[str(seat) for seat in Seat], help="only what each seat owes while this one flies"
    )
    parser.add_argument("--reasons", action="store_true", help="on cards of seats: why one thing comes before another")
    parser.add_argument("--html", metavar="FILE", help="write the cards as a page to FILE")
    parser.add_argument("--pdf", metavar="FILE", help="write the cards as PDF to FILE; needs the extra `cards`")
    parser.add_argument("--json", action="store_true", help="print the layout as JSON, in millimetres")


def run(options: argparse.Namespace) -> int:
    deck, notes = read_deck(options.deck)
    for note in notes:
        print(note, file=sys.stderr)
    flying = Seat(options.flying) if options.flying else None
    layout = lay_out(deck, options.by, PAPERS[options.size], flying, reasons=options.reasons)
    if options.html:
        from flowdeck.view.card.page import cards_page

        if not write_page(options.html, cards_page(deck, layout)):
            return 2
    if options.pdf and not _write_pdf(options.pdf, deck, layout):
        return 2
    if options.json:
        from flowdeck.view.card.data import cards_data

        print(json.dumps(cards_data(deck, layout), indent=2, ensure_ascii=False))
    elif not (options.html or options.pdf):
        from flowdeck.view.card.text import cards_text

        print(cards_text(deck, layout), end="")
    return 0


def _write_pdf(path: str, deck: Deck, layout: Layout) -> bool:
    """False when there is no PDF; why is said on stderr."""
    try:
        import fontpkg_arimo

        from flowdeck.view.card.pdf import cards_pdf, missing_in
    except ImportError:
        print(EXTRA, file=sys.stderr)
        return False
    missing = missing_in(layout)
    if missing:
        listed = ", ".join(f"'{letter}' (U+{ord(letter):04X})" for letter in missing[:10])
        more = f" and {len(missing) - 10} more" if len(missing) > 10 else ""
        print(f"{path}: not written: the face of the PDF has no {listed}{more}; --html shows them", file=sys.stderr)
        return False
    face = str(Path(fontpkg_arimo.ROOT) / "files" / "Arimo[wght].ttf")
    try:
        Path(path).write_bytes(cards_pdf(deck, layout, face, _made(deck)))
    except OSError as error:
        print(f"{path}: cannot be written: {error.strerror or error}", file=sys.stderr)
        return False
    print(f"cards: {path}", file=sys.stderr)
    return True


def _made(deck: Deck) -> datetime:
    """The date of the deck, so that the same deck gives the same bytes; the beginning of 1970 when it is no date."""
    try:
        found = datetime.fromisoformat(deck.identity.date)
    except ValueError:
        found = datetime(1970, 1, 1, tzinfo=UTC)  # a PDF must bear one, and today would change the bytes
    return found if found.tzinfo else found.replace(tzinfo=UTC)
