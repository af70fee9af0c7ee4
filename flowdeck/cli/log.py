"""`flowdeck log`: the logbook of flights, and what their trend is."""

import argparse
import csv
import json
import os
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import msgspec

from flowdeck.cli.pages import write_page
from flowdeck.debrief.trends import trends_of
from flowdeck.live.store.logbook import Kept, Logbook
from flowdeck.model.diagnostic import Rejected, refused, visible
from flowdeck.model.seats import Seat
from flowdeck.view.debrief.logbook import COLUMNS, csv_row, flight_row, list_text, trends_data, trends_text

EXAMPLE = (
    "examples:\n  flowdeck log add flights/\n  flowdeck log list icing\n  flowdeck log tag 3 line-check\n"
    "  flowdeck log trends\n  flowdeck log drill mine.yaml\n  flowdeck log export --csv flights.csv"
)
_ENDINGS = (".journal",)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.description = (parser.description or "") + "\n\n" + EXAMPLE
    parser.add_argument(
        "--book", metavar="FILE", help="the logbook (default: logbook.sqlite in the user's data folder)"
    )
    verbs = parser.add_subparsers(dest="verb", metavar="VERB", required=True)
    verb = verbs.add_parser("add", help="add journals, or every journal of a folder")
    verb.add_argument("paths", nargs="+", metavar="PATH")
    verb = verbs.add_parser("list", help="the flights, all or those with these words")
    verb.add_argument("words", nargs="*", metavar="WORD", help="in scenario, end, tags, names, date")
    verb.add_argument("--json", action="store_true")
    for name, about in (("tag", "put tags on a flight"), ("untag", "take tags off a flight")):
        verb = verbs.add_parser(name, help=about)
        verb.add_argument("number", type=int, metavar="NO", help="of the list")
        verb.add_argument("tags", nargs="+", metavar="TAG")
    verb = verbs.add_parser("name", help="note who sat in a seat; kept in the logbook alone")
    verb.add_argument("number", type=int, metavar="NO")
    verb.add_argument("seat", choices=[str(seat) for seat in Seat])
    verb.add_argument("name", metavar="NAME")
    verb = verbs.add_parser("erase", help="forget a name everywhere")
    verb.add_argument("name", metavar="NAME")
    verb = verbs.add_parser("trends", help="over all flights, or those with these words")
    verb.add_argument("words", nargs="*", metavar="WORD")
    verb.add_argument("--json", action="store_true")
    verb = verbs.add_parser("show", help="the debrief of a flight on the screen, and any moment of it")
    verb.add_argument("number", type=int, metavar="NO")
    verb = verbs.add_parser("drill", help="write a scenario that opens what slips most")
    verb.add_argument("file", metavar="FILE")
    verb.add_argument("words", nargs="*", metavar="WORD", help="of flights with these words alone")
    verb.add_argument("--base", metavar="SCENARIO", default="clean", help="the scenario to build on (default: clean)")
    verb = verbs.add_parser("export", help="the flights as CSV or JSON lines")
    form = verb.add_mutually_exclusive_group(required=True)
    form.add_argument("--csv", metavar="FILE")
    form.add_argument("--jsonl", metavar="FILE")
    verbs.add_parser("rebuild", help="read every journal again; tags and names stay")


def default_book() -> Path:
    """In the folder that the user's system keeps for data of programs (XDG Base Directory, from memory)."""
    base = os.environ.get("XDG_DATA_HOME") or str(Path.home() / ".local" / "share")
    return Path(base) / "flowdeck" / "logbook.sqlite"


def run(options: argparse.Namespace) -> int:
    with Logbook(options.book or default_book()) as book:
        match options.verb:
            case "add":
                return _add(book, options.paths)
            case "list":
                return _list(book, options.words, options.json)
            case "tag" | "untag":
                kept = _numbered(book, options.number)
                book.tag(kept.journal, options.tags, remove=options.verb == "untag")
            case "name":
                book.name(_numbered(book, options.number).journal, Seat(options.seat), options.name)
            case "erase":
                print(f"{book.erase(options.name)} flights had that name")
            case "trends":
                found = trends_of([kept.summary for _, kept in _with(book, options.words)])
                print(json.dumps(trends_data(found), indent=2) + "\n" if options.json else trends_text(found), end="")
            case "show":
                from flowdeck.cli.replay import look_again

                return look_again(_numbered(book, options.number).journal, {}, debrief=True)
            case "drill":
                return _drill(book, options)
            case "export":
                return _export(book, options)
            case "rebuild":
                count, findings = book.rebuild()
                for finding in findings:
                    print(finding, file=sys.stderr)
                print(f"{count} flights read again, {len(findings)} left out")
                return 1 if findings else 0
    return 0


def _add(book: Logbook, paths: list[str]) -> int:
    """Every journal that can be read; the others are named. 2 when none could be."""
    added, wrong = 0, 0
    for path in _journals(paths):
        try:
            book.add(path)
            added += 1
        except Rejected as rejected:
            wrong += 1
            print(rejected.findings[0], file=sys.stderr)
    print(f"{added} flights added" + (f", {wrong} could not be read" if wrong else ""))
    return 2 if not added else 1 if wrong else 0


def _journals(paths: list[str]) -> Iterator[Path]:
    for path in map(Path, paths):
        if path.is_dir():
            yield from sorted(each for each in path.iterdir() if each.suffix in _ENDINGS)
        else:
            yield path


def _with(book: Logbook, words: list[str]) -> list[tuple[int, Kept]]:
    """The flights that have every one of these words, with their numbers in the whole list."""
    found = []
    for number, kept in enumerate(book.flights(), start=1):
        s = kept.summary
        told = " ".join((s.begun, s.scenario, s.scenario_title, s.deck, s.end, *kept.tags, *kept.persons.values()))
        if all(word.casefold() in told.casefold() for word in words):
            found.append((number, kept))
    return found


def _numbered(book: Logbook, number: int) -> Kept:
    flights = book.flights()
    if not 1 <= number <= len(flights):
        message = f"there is no flight {number}; it has {len(flights)}: flowdeck log list"
        raise refused(str(book.path), "logbook", message)
    return flights[number - 1]


def _list(book: Logbook, words: list[str], as_json: bool) -> int:
    found = _with(book, words)
    if as_json:
        print(json.dumps([{"number": number, **_whole(kept)} for number, kept in found], indent=2))
        return 0
    print(list_text([flight_row(n, kept.summary, kept.tags, kept.persons) for n, kept in found]), end="")
    return 0


def _whole(kept: Kept) -> dict[str, Any]:
    """All that is known of a flight but names."""
    return {"journal": kept.journal, "tags": kept.tags, **msgspec.to_builtins(kept.summary)}


def _drill(book: Logbook, options: argparse.Namespace) -> int:
    """A scenario of what slips most, checked as any other before it is kept."""
    from flowdeck.live.bundled import find_scenario, read_scenario
    from flowdeck.trial.drill import Undrillable, drill, drilled

    found = trends_of([kept.summary for _, kept in _with(book, options.words)])
    base = find_scenario(options.base)
    deck, _, _ = read_scenario(options.base)
    try:
        text = drill(deck, base.read_text(encoding="utf-8"), found.items)
    except Undrillable as error:
        print(f"no drill: {error}", file=sys.stderr)
        return 2
    path = Path(options.file)
    if path.exists():
        print(f"{visible(options.file)}: is there already", file=sys.stderr)
        return 2
    if not write_page(options.file, text, what="drill"):
        return 2
    try:
        read_scenario(options.file, deck)
    except Rejected:
        path.unlink()
        raise
    for each in drilled(deck, found.items):
        print(f"{visible(each.title)}: {each.slip.replace('_', ' ')} {each.whole.n} of {each.whole.of}")
    print(f"fly it: flowdeck fly {visible(options.file)}")
    return 0


def _export(book: Logbook, options: argparse.Namespace) -> int:
    """Names are not exported."""
    path = options.csv or options.jsonl
    try:
        with open(path, "w", encoding="utf-8", newline="") as file:
            if options.csv:
                writer = csv.writer(file)
                writer.writerow(COLUMNS)
                writer.writerows(csv_row(kept.journal, kept.summary, kept.tags) for kept in book.flights())
            else:
                file.writelines(json.dumps(_whole(kept)) + "\n" for kept in book.flights())
    except OSError as error:
        print(f"{visible(path)}: cannot be written: {error.strerror or error}", file=sys.stderr)
        return 2
    return 0
