"""`flowdeck trial DECK`: many arrivals at random, and what they show of a deck."""

import argparse
import json
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from flowdeck.cli.pages import write_page
from flowdeck.cli.terminal import columns
from flowdeck.live.bundled import find_deck, read_deck, read_scenario, scenario_of, scenario_text
from flowdeck.live.workers import fly_runs, usable_cores
from flowdeck.model.deck import Deck
from flowdeck.model.scenario import Scenario
from flowdeck.trial.batch import script
from flowdeck.trial.batch.findings import COUNTS, findings_of
from flowdeck.trial.batch.outcome import Outcome, fly_once
from flowdeck.trial.batch.stop import Stop
from flowdeck.trial.batch.total import Total, total_of
from flowdeck.trial.batch.variation import Variation, applied, varied

EXAMPLE = """example:
  flowdeck trial twinjet --runs 200 --seed 7
  flowdeck trial phases/mine --until dead-end --save dead-ends"""
MOST_RUNS = 100_000
SHORTENED = 3
"""Dead ends for which the shortest script is looked for, one of each phase; each takes some flights more."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.description = (parser.description or "") + "\n\n" + EXAMPLE
    parser.add_argument("deck", metavar="DECK", help="a deck's folder, or the name of a bundled deck")
    parser.add_argument("--scenario", metavar="NAME", help="the scenario to vary; else the deck's first one")
    parser.add_argument("--runs", metavar="N", type=_whole, default=100, help="arrivals to fly (100)")
    parser.add_argument("--seed", metavar="S", type=int, default=1, help="the number that all chance is drawn from (1)")
    parser.add_argument("--workers", metavar="N", type=_whole, help="processes to share the work (all cores)")
    parser.add_argument(
        "--until",
        choices=("end", "dead-end", "nothing-new"),
        default="end",
        help="stop early: at the first dead end, or when 50 flights in a row show nothing new",
    )
    parser.add_argument("--save", metavar="DIR", help="write the shortest scenario of each dead end into DIR")
    parser.add_argument("--json", action="store_true", help="print the result as JSON")
    parser.add_argument("--html", metavar="FILE", help="write the result as a page")


def _whole(text: str) -> int:
    if not text.isdecimal() or not 1 <= int(text) <= MOST_RUNS:
        raise argparse.ArgumentTypeError(f"expected a number from 1 to {MOST_RUNS:,}, found '{text}'")
    return int(text)


def run(options: argparse.Namespace) -> int:
    deck, notes = read_deck(options.deck)
    name = options.scenario or scenario_of(deck, find_deck(options.deck))
    deck, scenario, more = read_scenario(name, deck)
    for note in (*notes, *more):
        print(note, file=sys.stderr)
    workers = min(options.workers or usable_cores(), options.runs)
    begun = time.perf_counter()
    outcomes = _fly(deck, scenario, options, workers)
    took = time.perf_counter() - begun
    if not outcomes:
        return 130
    total = total_of(deck, scenario.title, options.seed, outcomes)
    if options.json:
        from flowdeck.trial.batch.data import trial_data

        timing = {"elapsed_s": round(took, 3), "runs_per_s": round(len(outcomes) / took, 3), "workers": workers}
        print(json.dumps(trial_data(total, timing), indent=2))
    else:
        from flowdeck.trial.batch.text import trial_text

        print(trial_text(total, columns(100)), end="")
        print(f"{took:.1f} s, {len(outcomes) / took:.1f} arrivals a second, {workers} processes", file=sys.stderr)
    written = True
    if options.html:
        from flowdeck.trial.batch.page import trial_page

        written = write_page(options.html, trial_page(total), "trial")
    if options.save and total.stuck:
        written = _save(deck, scenario, total, name, options) and written
    if not written:
        return 2
    return 1 if any(finding.kind in COUNTS for finding in findings_of(total)) else 0


def _fly(deck: Deck, scenario: Scenario, options: argparse.Namespace, workers: int) -> list[Outcome]:
    """In order, up to the end or the last that was needed; what was flown counts when it is interrupted."""
    outcomes: list[Outcome] = []
    stop = Stop(options.until)
    flown = fly_runs(deck, scenario, options.seed, options.runs, workers)
    try:
        with _progress(options.runs) as tell:
            for outcome in flown:
                outcomes.append(outcome)
                tell(len(outcomes))
                if stop.after(outcome):
                    break
    except KeyboardInterrupt:
        print(f"stopped after {len(outcomes)} of {options.runs}", file=sys.stderr)
    finally:
        flown.close()
    return outcomes


@contextmanager
def _progress(whole: int) -> Iterator[Callable[[int], None]]:
    """A bar on a terminal's stderr; nothing where nobody looks."""
    if not sys.stderr.isatty():
        yield lambda number: None
        return
    from rich.console import Console
    from rich.progress import Progress

    with Progress(console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task("arrivals", total=whole)

        def tell(number: int) -> None:
            bar.update(task, completed=number)

        yield tell


def _save(deck: Deck, scenario: Scenario, total: Total, name: str, options: argparse.Namespace) -> bool:
    base = scenario_text(name)
    folder = Path(options.save)
    folder.mkdir(parents=True, exist_ok=True)
    first = {each.stuck: each for each in reversed(total.stuck)}
    for each in list(first.values())[:SHORTENED]:
        long = varied(scenario, options.seed, each.run)

        def still(variation: Variation, phase: str = each.stuck) -> bool:
            outcome = fly_once(deck, applied(deck, scenario, variation))
            return not outcome.end and outcome.stuck == phase

        short = script.shortest(long, still)
        about = f"Run {each.run} of seed {options.seed}: it comes to no end in the phase {each.stuck}."
        id_ = f"dead-end-{each.stuck.replace('_', '-')}"
        words = script.scenario_text(base, scenario, short, id_, about)
        if not write_page(str(folder / f"{id_}.yaml"), words, "scenario"):
            return False
        print(f"fly it again: flowdeck rehearse {folder / id_}.yaml --deck {options.deck}", file=sys.stderr)
    return True
