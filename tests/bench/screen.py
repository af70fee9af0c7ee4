"""The program and its screen: help, first frame, rows repainted, a key to its repaint in a real terminal."""

import os
from collections.abc import Iterator
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

from rich.console import Console
from rich.segment import Segment

from flowdeck.tui.paint import Options, PaintedRow, changed_rows, paint
from flowdeck.view.board import make_board
from tests.bench.measure import Figure, beside, cpu_ms, p99
from tests.support.moments import flown_until
from tests.support.terminal import Terminal

BARE = """
from textual.app import App
from textual.widgets import Static
class Bare(App):
    BINDINGS = [("space", "turn", "Turn")]
    words = "bare"
    def compose(self):
        yield Static("training and simulation only x1")
    def action_turn(self):
        static = self.query_one(Static)
        self.words = "paused" if self.words != "paused" else "going x1"
        static.update(self.words)
Bare().run()
"""
PRESSES = 150
ITEMS = 5000


def starting() -> Iterator[Figure]:
    helped, nothing = cpu_ms("-m", "flowdeck", "--help"), cpu_ms("-c", "pass")
    yield Figure("`flowdeck --help`", helped, "ms", "`python -c pass`", nothing, 6)
    ours = [_first_frame("-m", "flowdeck", "fly") for _ in range(5)]
    bare = [_first_frame("-c", BARE) for _ in range(5)]
    yield Figure("first frame of `flowdeck fly`, CPU", median(ours), "ms", "a bare Textual app", median(bare), 2.5)


def _first_frame(*program: str) -> float:
    """CPU time (ms) until the first frame stands in a terminal."""
    with Terminal(*program) as terminal:
        terminal.until("training and simulation only")
        return terminal.cpu_s() * 1e3


def painting() -> Iterator[Figure]:
    """A frame of 200 by 56 cells in which one row changes, as text for the terminal."""
    flight = flown_until("clean", lambda f: f.plane.distance_nm < 30)
    console = Console(width=200, color_system="truecolor", force_terminal=True, file=open(os.devnull, "w"))  # noqa: SIM115  # for the process
    board = make_board(flight.deck, flight.session, flight.readings, flight.now)
    before = paint(board, 200, 56, Options())
    after = [*before[:20], [Segment("changed")], *before[21:]]

    def drawn(rows: list[PaintedRow]) -> str:
        return "".join(
            segment.style.render(segment.text) if segment.style else segment.text for row in rows for segment in row
        )

    def changed() -> str:
        return drawn([after[i] for i in changed_rows(before, after)])

    one, all_ = beside(changed, lambda: drawn(after), 300)
    console.file.close()
    yield Figure("one changed row, found and drawn", one, "us", "drawing all 56 rows", all_)


def keys() -> Iterator[Figure]:
    """From a key's byte to the repainted words, in a terminal; wall time."""
    with Terminal("-c", BARE) as terminal:
        bare = _pressed(terminal)
    with Terminal("-m", "flowdeck", "fly") as terminal:
        ours = _pressed(terminal)
    with Terminal("-m", "tests.bench.loaded", str(ITEMS)) as terminal:
        loaded = _pressed(terminal)
    for what, times in (("a key to its repaint, p99", ours), (f"the same, 60 samples/s, {ITEMS:,} items", loaded)):
        yield Figure(what, p99(times) * 1e3, "ms", "a bare Textual app, p99", p99(bare) * 1e3)


def _pressed(terminal: Terminal) -> list[float]:
    terminal.until("x1")
    times = []
    for _ in range(PRESSES):
        for words in ("paused", "x1"):
            pressed = terminal.press(" ")
            times.append(terminal.until(words) - pressed)
    return times


def crew() -> Iterator[Figure]:
    """From one pilot's key to the words on the other's screen: a host and two guests, a process each; wall time."""
    with TemporaryDirectory() as folder, Terminal("-m", "flowdeck", "fly") as alone:
        own = _pressed(alone)
        journal = Path(folder) / "bench.journal"
        with Terminal("-m", "flowdeck", "host", "clean", "--port", "0", "--journal", str(journal)) as host:
            host.until("The flight waits")
            code, port = journal.with_name("bench.journal.code").read_text(encoding="utf-8").split()
            join = ("-m", "flowdeck", "join", f"127.0.0.1:{port}", "--code", code, "--as")
            with Terminal(*join, "captain") as captain, Terminal(*join, "first_officer") as first_officer:
                captain.until("The flight waits")
                first_officer.until("The flight waits")
                captain.press(" ")
                times = _seen(captain, first_officer)
    what = "one pilot's key to the other's screen, three processes, p99"
    yield Figure(f"{what} (aim 50 ms)", p99(times) * 1e3, "ms", "a key to its own repaint, p99", p99(own) * 1e3)


def _seen(captain: Terminal, first_officer: Terminal) -> list[float]:
    for terminal in (captain, first_officer):
        terminal.until("x1")
    times = []
    for _ in range(PRESSES):
        for words in ("paused", "x1"):
            pressed = captain.press(" ")
            times.append(first_officer.until(words) - pressed)
            captain.until(words)
    return times
