"""The screen with a large deck and many samples, for benchmarks to press keys on: `python -m tests.bench.loaded N`."""

import sys
import time

from flowdeck.live.host import Host
from flowdeck.trial.flight import take_off
from flowdeck.tui.app import FlowdeckApp
from tests.support.large import large_deck
from tests.support.small import small_scenario

SAMPLES_PER_S = 60


def loaded_host(items: int) -> Host:
    """A flight of a deck of *items* items, sampled sixty times a second."""
    deck = large_deck(items)
    flight, _ = take_off(deck, small_scenario(deck), solo=True)
    return Host(flight, None, time.monotonic, step_ms=round(1000 / SAMPLES_PER_S))


if __name__ == "__main__":
    FlowdeckApp(loaded_host(int(sys.argv[1]))).run()
