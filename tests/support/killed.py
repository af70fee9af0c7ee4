"""Flights killed by SIGKILL while they write their journal.

A forge, one process that has loaded a scenario, forks a flight for each kill: a flight of the scripted crew
that acknowledges each step, by the number of its last event, once it is on disk.
"""

import os
import signal
import subprocess
import sys
from pathlib import Path
from types import TracebackType

ROOT = Path(__file__).resolve().parents[2]

FORGE = """
import os, sys
from flowdeck.live.bundled import read_scenario
from flowdeck.live.journal import Journal
from flowdeck.trial.rehearse import rehearse
deck, scenario, _ = read_scenario(sys.argv[1])
for path in sys.stdin:
    flight = os.fork()
    if flight == 0:
        os.write(1, b"begun %d\\n" % os.getpid())
        journal = Journal.create(path.strip(), deck, scenario, solo=True)
        number = 0
        for step in rehearse(deck, scenario):
            journal.append(step.events, sure=True)
            number += len(step.events)
            os.write(1, b"%d\\n" % number)   # the acknowledgement
        os._exit(0)
    os.waitpid(flight, 0)
    os.write(1, b"gone\\n")
"""


class Forge:
    """Flights of one bundled scenario, to be killed."""

    def __init__(self, scenario: str) -> None:
        command = [sys.executable, "-c", FORGE, scenario]
        self._process = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, cwd=ROOT)

    def kill(self, path: Path, after: int) -> int:
        """Fly a journal at *path* and kill it at its *after*th acknowledgement; the last number acknowledged.

        The flight does not wait for the signal, so that it falls anywhere in what comes next.
        """
        assert self._process.stdin is not None and self._process.stdout is not None
        self._process.stdin.write(f"{path}\n".encode())
        self._process.stdin.flush()
        word, pid = self._process.stdout.readline().split()
        assert word == b"begun"
        last = count = 0
        for line in self._process.stdout:
            if line == b"gone\n":
                return last
            last, count = int(line), count + 1
            if count == after:
                os.kill(int(pid), signal.SIGKILL)
        raise AssertionError("the forge ended")

    def __enter__(self) -> "Forge":
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, tb: TracebackType | None) -> None:
        self._process.communicate(timeout=60)
