"""A debrief beside reading its journal; trends of a logbook beside reading its file."""

import sqlite3
import time
from collections.abc import Iterator
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

from msgspec.structs import replace

from flowdeck.debrief.study import study
from flowdeck.debrief.summary import Summary, summary_of
from flowdeck.debrief.trends import trends_of
from flowdeck.live.journal import Journal, read_file
from flowdeck.live.store.logbook import Logbook
from flowdeck.view.debrief.page import debrief_page
from tests.bench.measure import Figure
from tests.scenarios.flown import flown
from tests.support.long_flight import long_flight

EVENTS = 100_000
FLIGHTS = 10_000
_ROUNDS = 5


def debriefing() -> Iterator[Figure]:
    """CPU time, the page included, of a journal with 100,000 events against reading that file alone."""
    done = flown("slips")
    with TemporaryDirectory() as folder:
        path = str(Path(folder) / "long.journal")
        with Journal.create(path, done.deck, done.scenario, solo=False) as journal:
            journal.append(long_flight(done.events, EVENTS), sure=False)
        read, studied, shown = [], [], []
        for _ in range(_ROUNDS):
            begun = time.process_time()
            opened = read_file(path)
            read.append(time.process_time() - begun)
            begun = time.process_time()
            found = study(opened.deck, opened.scenario, opened.events)
            studied.append(time.process_time() - begun)
            begun = time.process_time()
            debrief_page(found, "")
            shown.append(time.process_time() - begun)
    what = f"the debrief of a journal of {EVENTS:,} events"
    yield Figure(what, median(studied) * 1e6, "us", "reading it alone", median(read) * 1e6)
    yield Figure("the same as a page", median(shown) * 1e6, "us", "reading it alone", median(read) * 1e6)


def trends() -> Iterator[Figure]:
    """CPU time of the trends over 10,000 generated flights against reading their rows alone."""
    done = flown("slips")
    whole = summary_of(study(done.deck, done.scenario, done.events), "")
    with TemporaryDirectory() as folder, Logbook(Path(folder) / "book.sqlite") as book:
        book.put({f"{n}.journal": _varied(whole, n) for n in range(FLIGHTS)})
        raw = sqlite3.connect(book.path)
        read, told = [], []
        for _ in range(_ROUNDS):
            begun = time.process_time()
            raw.execute("SELECT journal, summary FROM flight ORDER BY begun, journal").fetchall()
            read.append(time.process_time() - begun)
            begun = time.process_time()
            trends_of([kept.summary for kept in book.flights()])
            told.append(time.process_time() - begun)
        raw.close()
    what = f"trends over {FLIGHTS:,} flights, from the file"
    yield Figure(what, median(told) * 1e6, "us", "reading its rows alone", median(read) * 1e6)


def _varied(whole: Summary, n: int) -> Summary:
    """The flight of another day, with other slips of the same."""
    slips = tuple(slip for slip in whole.slips if (n * 7 + slip.number * 13) % 11 < 4)
    return replace(whole, begun=f"{2000 + n // 365:04}-{n % 365:03}T12:00:00", slips=slips)
