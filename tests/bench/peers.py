"""`python -m tests.bench.peers`: one workload on flowdeck, on general-purpose libraries, and on bare Python.

Each peer says which of 40 conditions have become true or false in each sample of a flight. Its answer is compared
with flowdeck's, and a run in which one differs ends with `UnequalTrace`. A peer that takes long is timed over a
stretch of the flight, and compared over samples from all of it besides; its ratio is to flowdeck over the same
stretch. CPU time, median of the rounds; making the peer, and compiling what it compiles, are not timed.
"""

import gc
import os
import platform
import time
from collections import Counter
from collections.abc import Callable, Sequence
from importlib import import_module
from importlib.metadata import PackageNotFoundError, version
from statistics import median
from typing import NamedTuple

from tests.bench.workload import TEXTS, Run, Sample, Trace, samples, stretch, thinned

ROUNDS = 5
THINNED = 1000
"""Samples from all of the flight over which the trace of a slow peer is compared too."""


class Peer(NamedTuple):
    """A way to follow the workload. *make* gives a fresh one; *package*: its distribution; *slow*: a stretch only."""

    name: str
    way: str
    make: Callable[[], Run]
    package: str = ""
    slow: bool = False


class Row(NamedTuple):
    """A line of the table. *us*: microseconds of CPU time a sample, and all figures None when *installed* is false.

    *ratio* is *us* to flowdeck's over the same *timed* samples; *equal_over*: samples whose trace was compared.
    """

    peer: str
    way: str
    version: str
    installed: bool
    us: float | None = None
    ratio: float | None = None
    timed: int | None = None
    equal_over: int | None = None


class UnequalTrace(AssertionError):
    """A peer says otherwise than flowdeck which conditions changed, so its time means nothing."""


def _later(module: str, function: str) -> Callable[[], Run]:
    """The maker of a peer, imported when it is called: its library may not be there."""
    return lambda: getattr(import_module(f"tests.bench.{module}"), function)()


FLOWDECK = Peer("flowdeck", "compiled table", _later("peer_flowdeck", "compiled"), "flowdeck")

PEERS: tuple[Peer, ...] = (
    Peer("bare Python", "one function", _later("peer_python", "function")),
    Peer("eval()", "compiled code", _later("peer_python", "eval_code")),
    Peer("eval()", "text each time", _later("peer_python", "eval_text"), slow=True),
    Peer("zen-engine", "one compiled expression", _later("peer_zen", "expression"), "zen-engine"),
    Peer("zen-engine", "decision graph", _later("peer_zen", "graph"), "zen-engine", slow=True),
    Peer("simpleeval", "one parsed list", _later("peer_simpleeval", "parsed"), "simpleeval", slow=True),
    Peer("py-trees", "parallel, shared object", _later("peer_py_trees", "shared_object"), "py-trees", slow=True),
    Peer("py-trees", "tree, blackboard", _later("peer_py_trees", "blackboard"), "py-trees", slow=True),
    Peer("transitions", "light Machine, 40 models", _later("peer_transitions", "machine"), "transitions", slow=True),
    Peer("sismic", "40 regions, text guards", _later("peer_sismic", "statechart"), "sismic", slow=True),
    Peer(
        "python-statemachine",
        "40 regions, cond=",
        _later("peer_statemachine", "statechart"),
        "python-statemachine",
        slow=True,
    ),
)


def check(name: str, trace: Trace, expected: Trace) -> None:
    """Raises `UnequalTrace` unless both hold the same changes; within a sample their order is free."""
    if not expected:
        raise ValueError("nothing changes in these samples, so that they compare nothing")
    found, wanted = Counter(trace), Counter(expected)
    if found == wanted:
        return
    extra, missing = found - wanted, wanted - found
    at, number, state = min(extra | missing)
    raise UnequalTrace(
        f"{name}: {extra.total()} changes too many and {missing.total()} missing; the first in sample {at}, "
        f"condition {number} ({TEXTS[number]}) to {state}"
    )


def installed(peer: Peer) -> str | None:
    """Its version, Python's own where it needs no package; None when the package is not there."""
    if not peer.package:
        return platform.python_version()
    try:
        return version(peer.package)
    except PackageNotFoundError:
        return None


def timed(peer: Peer, flight: Sequence[Sample], expected: Trace, rounds: int = ROUNDS) -> float:
    """Microseconds of CPU time a sample. Every round starts afresh, and its trace is checked."""
    spent = []
    for _ in range(rounds):
        run = peer.make()
        gc.collect()
        gc.freeze()  # the samples themselves are not to be searched again and again
        begun = time.process_time()
        trace = run(flight)
        spent.append((time.process_time() - begun) / len(flight) * 1e6)
        gc.unfreeze()
        check(f"{peer.name}, {peer.way}", trace, expected)
    return median(spent)


def measure(peers: Sequence[Peer] = PEERS, rounds: int = ROUNDS) -> list[Row]:
    """flowdeck's row and one for each of *peers*. Raises `UnequalTrace`."""
    whole, part, spread = samples(), stretch(), thinned(THINNED)
    known = {id(flight): FLOWDECK.make()(flight) for flight in (whole, part, spread)}
    ours = {id(flight): timed(FLOWDECK, flight, known[id(flight)], rounds) for flight in (whole, part)}
    rows = [
        Row(
            FLOWDECK.name,
            FLOWDECK.way,
            installed(FLOWDECK) or "",
            installed=True,
            us=ours[id(whole)],
            ratio=1.0,
            timed=len(whole),
            equal_over=len(whole),
        )
    ]
    for peer in peers:
        there = installed(peer)
        if there is None:
            rows.append(Row(peer.name, peer.way, "", installed=False))
            continue
        flight = part if peer.slow else whole
        us = timed(peer, flight, known[id(flight)], rounds)
        compared = len(flight)
        if peer.slow:
            check(f"{peer.name}, {peer.way}", peer.make()(spread), known[id(spread)])
            compared += len(spread)
        rows.append(Row(peer.name, peer.way, there, True, us, us / ours[id(flight)], len(flight), compared))
    return rows


def table(rows: Sequence[Row]) -> str:
    """The rows as a table of Markdown."""
    lines = ["| peer | way | us a sample | times flowdeck | trace equal over |", "|---|---|---:|---:|---:|"]
    for row in rows:
        begun = f"| {row.peer} {row.version} | {row.way} |"
        if row.installed:
            lines.append(f"{begun} {row.us:.1f} | {row.ratio:.1f} | {row.equal_over:,} |")
        else:
            lines.append(f"{begun} not installed | | |")
    return "\n".join(lines)


def main() -> None:
    whole = samples()
    trace = FLOWDECK.make()(whole)
    quiet = len(whole) - len({at for at, _, _ in trace})
    cpu = platform.processor() or platform.machine()
    print(f"{platform.system()}, {cpu}, {os.cpu_count()} cores, Python {platform.python_version()}")
    print(f"{len(TEXTS)} conditions, {len(whole):,} samples, {quiet:,} of them change none, {len(trace)} changes")
    print(table(measure()))


if __name__ == "__main__":
    main()
