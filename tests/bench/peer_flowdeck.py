"""flowdeck itself: the table of conditions, compiled once, called as the engine calls it."""

from collections.abc import Callable, Sequence

from flowdeck.conditions import Names, Table, Truths, changed_at, compile_truths
from flowdeck.model.catalogue import by_name
from flowdeck.model.condition import Truth
from tests.bench.workload import SIGNALS, TEXTS, Run, Sample, Trace

_Look = Callable[[Sample, int, tuple[Truth, ...], tuple[int, ...]], tuple[Truth, ...]]


def compiled() -> Run:
    catalogue = by_name()
    table = Table(Names(signals={name: catalogue[name] for name in SIGNALS}))
    rows = [table.add(text) for text in TEXTS]
    if table.findings or rows != list(range(len(table.conditions))):
        raise ValueError(f"flowdeck does not take the workload as it stands: {table.findings}")
    return _run(_adapted(compile_truths(table.conditions)))


def _adapted(truths: Truths) -> _Look:
    """The one place that knows how a compiled table is called. No condition of the workload asks for an age."""
    heard = dict.fromkeys(SIGNALS, 0)
    return lambda sample, now, prev, since: truths(sample, {}, "", frozenset(), {}, now, heard, prev, since)


def _run(look: _Look) -> Run:
    def run(flight: Sequence[Sample]) -> Trace:
        trace: Trace = []
        prev: tuple[Truth, ...] = (False,) * len(TEXTS)
        since = (0,) * len(TEXTS)
        for at, sample in enumerate(flight):
            now = look(sample, at, prev, since)
            if now != prev:
                for n, (new, old) in enumerate(zip(now, prev, strict=True)):
                    if new is None:
                        raise ValueError(f"sample {at}: {TEXTS[n]} is unknown, and the peers know two values only")
                    if new is not old:
                        trace.append((at, n, new))
                since = changed_at(now, prev, since, at)
                prev = now
        return trace

    return run
