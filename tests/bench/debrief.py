"""A debrief beside reading its journal."""

import time
from collections.abc import Iterator
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

from flowdeck.debrief.study import study
from flowdeck.live.journal import Journal, read_file
from flowdeck.view.debrief.page import debrief_page
from tests.bench.measure import Figure
from tests.scenarios.flown import flown
from tests.support.long_flight import long_flight

EVENTS = 100_000
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
