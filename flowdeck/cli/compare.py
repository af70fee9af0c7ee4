"""`flowdeck compare OLD NEW`: what a reviser must sign between two decks."""

import argparse
import json

from flowdeck.cli.pages import write_page
from flowdeck.cli.terminal import columns
from flowdeck.compare.comparison import Comparison, compare
from flowdeck.live.revisions import read_deck_at

EXAMPLE = (
    "examples:\n  flowdeck compare phases/twinjet phases/twinjet-revised\n"
    "  flowdeck compare HEAD~3:phases/twinjet phases/twinjet\n"
    "  flowdeck compare v1.0:phases/twinjet twinjet --html sign.html"
)
_DECK = "a deck's folder, the name of a bundled deck, or REVISION:FOLDER of the git repository here"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.description = (parser.description or "") + "\n\n" + EXAMPLE
    parser.add_argument("old", metavar="OLD", help=_DECK)
    parser.add_argument("new", metavar="NEW", help="the same, of the deck that is to take its place")
    parser.add_argument("--json", action="store_true", help="print the comparison as JSON")
    parser.add_argument("--html", metavar="FILE", help="write a page to sign to FILE as well, the decks side by side")


def run(options: argparse.Namespace) -> int:
    """0: no difference, 1: differences."""
    found = compare(read_deck_at(options.old), read_deck_at(options.new))
    print(_printed(options, found), end="")
    if options.html:
        from flowdeck.view.compare.page import compare_page

        if not write_page(options.html, compare_page(found)):
            return 2
    return 1 if found.changes else 0


def _printed(options: argparse.Namespace, found: Comparison) -> str:
    if options.json:
        from flowdeck.view.compare.data import compare_data

        return json.dumps(compare_data(found), indent=2) + "\n"
    from flowdeck.view.compare.text import WIDTH, compare_text

    return compare_text(found, columns(WIDTH))
