"""How things are measured: CPU time, medians, each figure beside its floor from the same run."""

import os
import platform
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from statistics import median
from typing import NamedTuple

ROOT = Path(__file__).resolve().parents[2]


class Figure(NamedTuple):
    """A line of the table: *value* and *floor* in *unit*; *aim*: the ratio that it should not exceed, 0 for none."""

    what: str
    value: float
    unit: str
    beside: str
    floor: float
    aim: float = 0.0

    @property
    def ratio(self) -> float:
        return self.value / self.floor


def beside(ours: Callable[[], object], floor: Callable[[], object], calls: int, rounds: int = 9) -> tuple[float, float]:
    """Microseconds of CPU time a call of each, taken in turn, so that a busy machine is unfair to both alike."""
    pairs = [(_once(ours, calls), _once(floor, calls)) for _ in range(rounds)]
    return median(a for a, _ in pairs), median(b for _, b in pairs)


def _once(work: Callable[[], object], calls: int) -> float:
    begun = time.process_time()
    for _ in range(calls):
        work()
    return (time.process_time() - begun) / calls * 1e6


def p99(times: Sequence[float]) -> float:
    return sorted(times)[int(len(times) * 0.99)]


def cpu_ms(*arguments: str, times: int = 9) -> float:
    """CPU time (ms) of a python with these arguments, from its beginning to its end; the median of some runs."""
    spent = []
    for _ in range(times):
        before = os.times()
        subprocess.run([sys.executable, *arguments], check=True, capture_output=True, cwd=ROOT)
        after = os.times()
        spent.append(after.children_user + after.children_system - before.children_user - before.children_system)
    return median(spent) * 1e3


def machine() -> str:
    """What the figures were taken on."""
    cpu = platform.processor() or platform.machine()
    return f"{platform.system()}, {cpu}, {os.cpu_count()} cores, Python {platform.python_version()}"


def table(figures: Sequence[Figure]) -> str:
    """The figures as a table of Markdown, as it stands in the README."""
    lines = ["| what | figure | beside | ratio | aim |", "|---|---:|---|---:|---:|"]
    for f in figures:
        aim = f"{f.aim:g}" if f.aim else ""
        lines.append(
            f"| {f.what} | {_said(f.value, f.unit)} | {f.beside}: {_said(f.floor, f.unit)} | {_ratio(f)} | {aim} |"
        )
    return "\n".join(lines)


def _ratio(f: Figure) -> str:
    return f"{f.ratio:.2f}" if f.ratio < 10 else f"{f.ratio:.0f}"


def _said(value: float, unit: str) -> str:
    if unit == "us" and value >= 1000:
        value, unit = value / 1000, "ms"
    return f"{value:,.0f} {unit}" if value >= 100 else f"{value:.1f} {unit}" if value >= 1 else f"{value:.2f} {unit}"
