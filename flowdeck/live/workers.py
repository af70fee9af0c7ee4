"""A trial shared out over processes.

The law: outcomes come back in the order of their runs, whoever flew them; what was begun and is not needed is dropped.
"""

import os
import signal
from collections import deque
from collections.abc import Generator
from concurrent.futures import Future, ProcessPoolExecutor
from multiprocessing import get_context

from flowdeck.model.deck import Deck
from flowdeck.model.scenario import Scenario
from flowdeck.trial.batch.outcome import Outcome, fly_once
from flowdeck.trial.batch.variation import applied, varied

_AHEAD = 3
"""Runs that wait for each process, so that none is idle."""
_flown: tuple[Deck, Scenario, int] | None = None


def usable_cores() -> int:
    """Cores that this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def fly_runs(deck: Deck, scenario: Scenario, seed: int, runs: int, workers: int) -> Generator[Outcome]:
    """Outcomes of runs 0 to *runs*. Closing the iterator ends all work."""
    if workers <= 1:
        for run in range(runs):
            yield _one(deck, scenario, seed, run)
        return
    context = get_context("spawn")  # a forked process would inherit threads and terminals
    pool = ProcessPoolExecutor(workers, mp_context=context, initializer=_begin, initargs=(deck, scenario, seed))
    try:
        yield from _in_order(pool, runs, workers)
    finally:
        pool.shutdown(wait=False, cancel_futures=True)


def _in_order(pool: ProcessPoolExecutor, runs: int, workers: int) -> Generator[Outcome]:
    waiting: deque[Future[Outcome]] = deque()
    for run in range(runs):
        waiting.append(pool.submit(_fly, run))
        if len(waiting) == workers * _AHEAD:
            yield waiting.popleft().result()
    while waiting:
        yield waiting.popleft().result()


def _begin(deck: Deck, scenario: Scenario, seed: int) -> None:
    """In each process, once. An interruption from the keyboard is the first process's to answer."""
    global _flown
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    _flown = deck, scenario, seed


def _fly(run: int) -> Outcome:
    assert _flown is not None
    return _one(*_flown, run)


def _one(deck: Deck, scenario: Scenario, seed: int, run: int) -> Outcome:
    return fly_once(deck, applied(deck, scenario, varied(scenario, seed, run)), run)
