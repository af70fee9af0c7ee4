"""`flowdeck debrief JOURNAL`: what slipped in a flight, when, and who trapped it."""

import argparse
import json
import sys

from flowdeck.cli.pages import write_page
from flowdeck.cli.terminal import columns
from flowdeck.debrief.study import Debrief, study
from flowdeck.live.journal import read_flight

EXAMPLE = (
    "examples:\n  flowdeck debrief today.journal\n  flowdeck debrief today.journal --html debrief.html\n"
    "  flowdeck debrief today.journal --lesson lesson.html\n"
    "  flowdeck debrief today.journal --json"
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.description = (parser.description or "") + "\n\n" + EXAMPLE
    parser.add_argument("journal", metavar="JOURNAL", help="the journal of a flight")
    parser.add_argument("--timeline", action="store_true", help="with the timeline of both seats, in text")
    parser.add_argument("--salvage", action="store_true", help="of a damaged journal, what is sound")
    parser.add_argument("--json", action="store_true", help="print the debrief as JSON")
    parser.add_argument("--html", metavar="FILE", help="write the debrief as a page to FILE as well")
    parser.add_argument("--lesson", metavar="FILE", help="write a lesson sheet to FILE: what each pilot does, and why")


def run(options: argparse.Namespace) -> int:
    opened = read_flight(options.journal, salvage=options.salvage)
    for note in opened.notes:
        print(note, file=sys.stderr)
    found = study(opened.deck, opened.scenario, opened.events)
    begun = opened.header.begun
    print(_printed(options, found, begun), end="")
    if options.html:
        from flowdeck.view.debrief.page import debrief_page

        if not write_page(options.html, debrief_page(found, begun)):
            return 2
    if options.lesson:
        from flowdeck.view.debrief.lesson import lesson_page

        if not write_page(options.lesson, lesson_page(found, begun)):
            return 2
    return 1 if any(s.deviation.severity.is_weighty for s in found.slips) else 0


def _printed(options: argparse.Namespace, found: Debrief, begun: str) -> str:
    if options.json:
        from flowdeck.view.debrief.data import debrief_data

        return json.dumps(debrief_data(found, begun), indent=2) + "\n"
    from flowdeck.view.debrief.text import WIDTH, debrief_text

    return debrief_text(found, begun, columns(WIDTH), timeline=options.timeline)
