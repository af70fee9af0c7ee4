"""A whole brief, path integrated, beside importing the modules that make it."""

import time
from collections.abc import Iterator
from statistics import median

from flowdeck.arrival.brief import make_brief
from flowdeck.live.bundled import read_arrival
from tests.bench.measure import Figure, cpu_ms

AIM_MS = 20.0
_ROUNDS = 15


def briefing() -> Iterator[Figure]:
    """CPU time. The aim is 20 ms after the import, told as a ratio to it."""
    arrival = read_arrival("skarn-fell")
    spent = []
    for _ in range(_ROUNDS):
        begun = time.process_time()
        make_brief(arrival)
        spent.append(time.process_time() - begun)
    imported = cpu_ms("-c", "import flowdeck.arrival.brief") - cpu_ms("-c", "pass")
    yield Figure(
        "a full brief from 24,000 ft, path integrated",
        median(spent) * 1e6,
        "us",
        "importing its modules alone",
        imported * 1e3,
        round(AIM_MS / imported, 2),
    )
