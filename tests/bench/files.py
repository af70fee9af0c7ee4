"""Reading files and writing them: decks beside the YAML library alone, an action beside one fdatasync."""

import os
import tempfile
import time
from collections.abc import Iterator

import yaml

from flowdeck.live.bundled import read_deck, read_scenario
from flowdeck.live.journal import Journal
from flowdeck.trial.rehearse import rehearse
from tests.bench.measure import ROOT, Figure, beside, p99
from tests.support.large import large_files

ITEMS = 5000


def loading() -> Iterator[Figure]:
    """Decks with validation and the place of every value."""
    folder = ROOT / "phases" / "twinjet"
    whole, floor = _loaded(str(folder), calls=2)
    yield Figure("the bundled deck, loaded and checked", whole, "us", "yaml.CSafeLoader alone", floor, 2)
    with tempfile.TemporaryDirectory() as large:
        for name, text in large_files(ITEMS).items():
            with open(f"{large}/{name}", "w", encoding="utf-8") as file:
                file.write(text)
        whole, floor = _loaded(large, calls=1, rounds=3)
    yield Figure(f"a deck of {ITEMS:,} items, loaded and checked", whole, "us", "yaml.CSafeLoader alone", floor, 2)


def _loaded(folder: str, calls: int, rounds: int = 9) -> tuple[float, float]:
    texts = []
    for name in sorted(os.listdir(folder)):
        with open(f"{folder}/{name}", encoding="utf-8") as file:
            texts += [file.read()] if name.endswith(".yaml") else []
    return beside(
        lambda: read_deck(folder), lambda: [yaml.load(text, Loader=yaml.CSafeLoader) for text in texts], calls, rounds
    )


def acknowledged() -> Iterator[Figure]:
    """Wall time, since it is the disk that is waited for."""
    deck, scenario, _ = read_scenario("clean")
    events = next(iter(rehearse(deck, scenario))).events[-1:]
    with tempfile.TemporaryDirectory(dir=ROOT) as folder:
        bare_file = os.open(f"{folder}/bare", os.O_CREAT | os.O_WRONLY)
        journal = Journal.create(f"{folder}/a.journal", deck, scenario, solo=True)
        ours, bare = [], []
        for _ in range(1000):
            begun = time.perf_counter()
            journal.append(events, sure=True)
            ours.append(time.perf_counter() - begun)
            begun = time.perf_counter()
            os.write(bare_file, b"x" * 150)
            os.fdatasync(bare_file)
            bare.append(time.perf_counter() - begun)
        journal.close()
        os.close(bare_file)
    yield Figure("an acknowledged action, p99", p99(ours) * 1e6, "us", "one fdatasync, p99", p99(bare) * 1e6, 2)
