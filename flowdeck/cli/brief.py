"""`flowdeck brief ARRIVAL`: all that a crew must know before the approach."""

import argparse
import json

from flowdeck.arrival.brief import Brief, make_brief
from flowdeck.cli.pages import write_page
from flowdeck.cli.terminal import columns
from flowdeck.live.bundled import read_arrival

EXAMPLE = "example:\n  flowdeck brief tarn-holm\n  flowdeck brief scenarios/arrivals/port-ennis.yaml --html brief.html"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.description = (parser.description or "") + "\n\n" + EXAMPLE
    parser.add_argument("arrival", metavar="ARRIVAL", help="an arrival's file, or the name of a bundled one")
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="print the brief as JSON")
    form.add_argument("--markdown", action="store_true", help="print the brief as Markdown")
    parser.add_argument("--html", metavar="FILE", help="write the brief as a page to FILE as well")


def run(options: argparse.Namespace) -> int:
    brief = make_brief(read_arrival(options.arrival))
    print(_printed(brief, options), end="")
    if options.html:
        from flowdeck.view.brief.page import brief_page

        if not write_page(options.html, brief_page(brief)):
            return 2
    return 0 if brief.lands else 1


def _printed(brief: Brief, options: argparse.Namespace) -> str:
    if options.json:
        from flowdeck.view.brief.data import brief_data

        return json.dumps(brief_data(brief), indent=2) + "\n"
    if options.markdown:
        from flowdeck.view.brief.markdown import brief_markdown

        return brief_markdown(brief)
    from flowdeck.view.brief.text import WIDTH, brief_text

    return brief_text(brief, columns(WIDTH))
