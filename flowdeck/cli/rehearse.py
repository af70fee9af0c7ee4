"""`flowdeck rehearse SCENARIO`: a flight without a screen, faster than time."""

import argparse
import json
import sys
import time
from collections import Counter

from flowdeck import DISCLAIMER
from flowdeck.live.bundled import read_deck, read_scenario
from flowdeck.live.journal import Journal
from flowdeck.model.deck import Deck
from flowdeck.model.deviation import Deviation
from flowdeck.trial.flight import Flight
from flowdeck.trial.rehearse import Compared, compare, rehearse
from flowdeck.trial.report import Report, Tally, make_report, ways_out
from flowdeck.view.sentences import sentence
from flowdeck.view.words import clock

EXAMPLE = "example:\n  flowdeck rehearse clean\n  flowdeck rehearse slips --json --journal slips.journal"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.description = (parser.description or "") + "\n\n" + EXAMPLE
    parser.add_argument("scenario", metavar="SCENARIO", help="a scenario's file, or the name of a bundled one")
    parser.add_argument("--deck", metavar="DIR", help="another deck than the scenario's own")
    parser.add_argument("--journal", metavar="FILE", help="write the events to FILE")
    parser.add_argument("--json", action="store_true", help="print the report as JSON")


def run(options: argparse.Namespace) -> int:
    begun = time.process_time()
    given = read_deck(options.deck)[0] if options.deck else None
    deck, scenario, notes = read_scenario(options.scenario, given)
    for note in notes:
        print(note, file=sys.stderr)
    loaded = time.process_time()
    journal = Journal.create(options.journal, deck, scenario, solo=scenario.solo) if options.journal else None
    counts: Counter[str] = Counter()
    tally = Tally()
    flight = None
    try:
        for step in rehearse(deck, scenario):
            flight = step.flight
            counts.update(type(event).__name__ for event in step.events)
            tally.add(step)
            if journal is not None:
                journal.append(step.events, sure=False)
    finally:
        if journal is not None:
            journal.close()
    assert flight is not None
    compared = compare(scenario, flight) if scenario.planted else None
    report = make_report(flight, tally, dict(counts), load_s=loaded - begun, fly_s=time.process_time() - loaded)
    if options.json:
        print(json.dumps(report.as_dict(), indent=2))
    else:
        print_report(report, deck, compared)
    if journal is not None and journal.trouble:
        print(journal.trouble, file=sys.stderr)
        return 2
    reached = flight.session.ended == scenario.ends
    if not reached:
        print(f"the flight did not reach its end '{scenario.ends}'{_stuck(deck, flight)}", file=sys.stderr)
    return 0 if reached and not _weighty(report.deviations) else 1


def _stuck(deck: Deck, flight: Flight) -> str:
    """Where it stood then, what leads on from there, and what was still owed."""
    session = flight.session
    if session.ended:
        return f", but '{session.ended}'"
    open_ = [ref for ref, state in session.items.items() if state.is_owed]
    waiting = f"; still owed: {', '.join(open_[:8])}" if open_ else ""
    return f": it stood in '{session.phase}', which leads to {ways_out(deck, session.phase)}{waiting}"


def _weighty(deviations: tuple[Deviation, ...]) -> bool:
    return any(d.severity.is_weighty for d in deviations)


def print_report(report: Report, deck: Deck, compared: Compared | None) -> None:
    print(f"{report.deck_line}\n{DISCLAIMER}\n")
    for phase, entered in report.phases:
        print(f"{clock(entered)}  {deck.phases[phase].title}")
    print()
    for d in report.deviations:
        trapped = f"put right by the {d.trapped_by.replace('_', ' ')}" if d.trapped_by else "not caught"
        print(f"{clock(d.at)}  {d.severity:8} {d.slip.replace('_', ' '):21} {sentence(deck, d)} ({trapped})")
    done, owed = report.done, report.owed
    print(f"\n{done} of {owed} things that were owed were done; {len(report.deviations)} deviations")
    if compared is not None:
        for cause in compared.missing:
            print(f"planted and not found: {cause.slip} of {cause.item}")
        for cause in compared.extra:
            print(f"found and not planted: {cause.slip} of {cause.item} ({cause.seat or 'seat not known'})")
    timing = report.timing
    print(f"{timing['flown_s']:.0f} s flown in {timing['fly_cpu_s']:.2f} s of CPU time")
