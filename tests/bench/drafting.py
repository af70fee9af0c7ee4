"""The drafting bench: vetting beside reading the same deck, and a trial on two processes beside one."""

import time
from collections.abc import Iterator

from flowdeck.live.bundled import deck_files, read_scenario
from flowdeck.live.workers import fly_runs
from flowdeck.phasefile.loaddeck import load_deck
from flowdeck.vet import vet
from tests.bench.measure import Figure, beside
from tests.support.large import large_files

ITEMS = 5000
RUNS = 100


def vetting() -> Iterator[Figure]:
    """All rules and proofs; what they stand beside is the loading alone."""
    _, bundled = deck_files("twinjet")
    whole, floor = beside(lambda: vet("twinjet", bundled), lambda: load_deck("twinjet", bundled), 1)
    yield Figure("the bundled deck, vetted", whole, "us", "loading it alone", floor, 4)
    large = {name: text.encode() for name, text in large_files(ITEMS).items()}
    whole, floor = beside(lambda: vet("large", large), lambda: load_deck("large", large), 1, 3)
    yield Figure(f"a deck of {ITEMS:,} items, vetted", whole, "us", "loading it alone", floor, 4)


def trying() -> Iterator[Figure]:
    """Wall time, with the start of the processes; in turn, so that a busy machine is unfair to both alike."""
    deck, scenario, _ = read_scenario("clean")
    spent = {}
    for workers in (1, 2):
        begun = time.perf_counter()
        for _ in fly_runs(deck, scenario, 1, RUNS, workers):
            pass
        spent[workers] = time.perf_counter() - begun
    what = f"{RUNS} arrivals of a trial, one process ({RUNS / spent[1]:.1f} a second)"
    yield Figure(what, spent[1], "s", "two processes", spent[2], 1.9)
