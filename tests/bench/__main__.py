"""`make bench`: prints a table of ratios, and what machine they were measured on."""

import os
import platform
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from statistics import median

import yaml

from flowdeck.engine import decide
from flowdeck.engine.program import program
from flowdeck.live.bundled import read_deck, read_scenario
from flowdeck.live.journal import Journal
from flowdeck.model import inputs as inp
from flowdeck.trial.rehearse import rehearse
from flowdeck.tui.paint import Options, changed_rows, paint
from flowdeck.view.board import make_board
from tests.support.moments import flown_until

ROOT = Path(__file__).resolve().parents[2]


def per_call(work: Callable[[], object], calls: int, rounds: int = 7) -> float:
    """Microseconds of CPU time a call, the median of some rounds."""
    times = []
    for _ in range(rounds):
        begun = time.process_time()
        for _ in range(calls):
            work()
        times.append((time.process_time() - begun) / calls * 1e6)
    return median(times)


def line(what: str, value: float, unit: str, floor: float, floor_name: str) -> None:
    print(f"{what:44} {value:10.1f} {unit:3}  {value / floor:8.2f} x  {floor_name} ({floor:.1f} {unit})")


def quiet_sample() -> None:
    """A sample that changes nothing, beside the compiled comparisons alone."""
    flight = flown_until("clean", lambda f: f.plane.distance_nm < 30)
    p = program(flight.deck)
    now = flight.session.at
    sample = inp.Sample(at=now)
    s, readings = flight.session, flight.readings
    values, heard = readings.values, readings.at
    bare = per_call(lambda: p.truths(values, s.facts, s.phase, s.done, s.times, now, heard, s.truths, s.truth_at), 3000)
    whole = per_call(lambda: decide(flight.deck, s, readings, sample), 3000)
    line(f"quiet sample, {len(flight.deck.conditions)} conditions", whole, "us", bare, "the compiled conditions alone")


def end_to_end() -> None:
    """A whole rehearsal, with and without a journal, beside one look at the conditions for each of its samples."""
    deck, scenario, _ = read_scenario("clean")
    begun = time.process_time()
    flown_ms = [step.flight.now for step in rehearse(deck, scenario)][-1]
    without = (time.process_time() - begun) * 1e3
    with tempfile.TemporaryDirectory() as folder:
        begun = time.process_time()
        with Journal.create(f"{folder}/a.journal", deck, scenario, solo=True) as journal:
            for step in rehearse(deck, scenario):
                journal.append(step.events, sure=False)
        kept = (time.process_time() - begun) * 1e3
    line("rehearsal of 'clean', with a journal", kept, "ms", without, "the same without a journal")
    print(f"{'':44} {flown_ms / 1000 / (without / 1000):10.0f} times faster than the flight itself")


def loading() -> None:
    """The bundled deck with validation and places, beside the YAML library's safe C loader alone."""
    texts = [path.read_text(encoding="utf-8") for path in sorted((ROOT / "phases" / "twinjet").glob("*.yaml"))]
    bare = per_call(lambda: [yaml.load(text, Loader=yaml.CSafeLoader) for text in texts], 1)
    whole = per_call(lambda: read_deck("twinjet"), 1)
    line("bundled deck, loaded and checked", whole / 1e3, "ms", bare / 1e3, "yaml.CSafeLoader alone")


def acknowledged() -> None:
    """p99 of a pilot's action made durable, beside one bare fdatasync of as many bytes."""
    deck, scenario, _ = read_scenario("clean")
    events = next(iter(rehearse(deck, scenario))).events[-1:]
    with tempfile.TemporaryDirectory(dir=ROOT) as folder:
        bare_file = os.open(f"{folder}/bare", os.O_CREAT | os.O_WRONLY)
        journal = Journal.create(f"{folder}/a.journal", deck, scenario, solo=True)
        ours, bare = [], []
        for _ in range(400):
            begun = time.perf_counter()
            journal.append(events, sure=True)
            ours.append(time.perf_counter() - begun)
            begun = time.perf_counter()
            os.write(bare_file, b"x" * 150)
            os.fdatasync(bare_file)
            bare.append(time.perf_counter() - begun)
        journal.close()
        os.close(bare_file)
    line("acknowledged action, p99", _p99(ours) * 1e6, "us", _p99(bare) * 1e6, "one fdatasync, p99")


def _p99(times: list[float]) -> float:
    return sorted(times)[int(len(times) * 0.99)]


def starting() -> None:
    def cpu(*arguments: str) -> float:
        times = []
        for _ in range(7):
            before = os.times()
            subprocess.run([sys.executable, *arguments], check=True, capture_output=True)
            after = os.times()
            spent = after.children_user + after.children_system
            times.append(spent - before.children_user - before.children_system)
        return median(times) * 1e3

    line("flowdeck --help", cpu("-m", "flowdeck", "--help"), "ms", cpu("-c", "pass"), "python -c pass")


def painting() -> None:
    """One frame of the lanes in which one row changes: rows that are repainted."""
    flight = flown_until("clean", lambda f: f.plane.distance_nm < 30)
    board = make_board(flight.deck, flight.session, flight.readings, flight.now)
    rows = paint(board, 200, 56, Options())
    frame = per_call(
        lambda: paint(make_board(flight.deck, flight.session, flight.readings, flight.now), 200, 56, Options()), 50
    )
    compare = per_call(lambda: changed_rows(rows, list(rows)), 500)
    line("a frame of the lanes at 200x56", frame, "us", compare, "comparing its rows")


def main() -> None:
    cpu = platform.processor() or platform.machine()
    print(f"{platform.system()}, {cpu}, {os.cpu_count()} cores, Python {platform.python_version()}")
    for measure in (quiet_sample, end_to_end, loading, acknowledged, starting, painting):
        measure()


if __name__ == "__main__":
    main()
