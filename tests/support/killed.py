"""Flights killed by SIGKILL while they write their journal.

A forge, one process that has flown a scenario by its scripted crew, forks a flight for each kill: it journals that
from its start and acknowledges each step, by the number of its last event, once it is on disk. Nothing is flown anew
for a kill: what writes a journal is all that a kill can break, and so it falls in the writing.
"""

import contextlib
import os
import signal
import subprocess
import sys
from pathlib import Path
from types import TracebackType

ROOT = Path(__file__).resolve().parents[2]

FURTHER = 100
"""Steps that a flight goes on at the most without being killed: a signal that comes late still breaks it off."""

FORGE = """
import os, signal, sys
from flowdeck.live.bundled import read_scenario
from flowdeck.live.journal import Journal
from flowdeck.trial.rehearse import rehearse
deck, scenario, _ = read_scenario(sys.argv[1])
flown = [step.events for step in rehearse(deck, scenario)]
for line in sys.stdin:
    path, last = line.rsplit(maxsplit=1)
    flight = os.fork()
    if flight == 0:
        os.write(1, b"begun %d\\n" % os.getpid())
        journal = Journal.create(path, deck, scenario, solo=True)
        number = 0
        for step, events in enumerate(flown, start=1):
            journal.append(events, sure=True)
            number += len(events)
            os.write(1, b"%d\\n" % number)   # the acknowledgement
            if step == int(last):
                signal.pause()
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

        The flight does not wait for the signal, so that it falls anywhere in the next `FURTHER` steps.
        """
        assert self._process.stdin is not None and self._process.stdout is not None
        self._process.stdin.write(f"{path} {after + FURTHER}\n".encode())
        self._process.stdin.flush()
        word, pid = self._process.stdout.readline().split()
        assert word == b"begun"
        last = count = 0
        for line in self._process.stdout:
            if line == b"gone\n":
                return last
            last, count = int(line), count + 1
            if count == after:
                with contextlib.suppress(ProcessLookupError):  # a late moment: the flight had ended by itself
                    os.kill(int(pid), signal.SIGKILL)
        raise AssertionError("the forge ended")

    def __enter__(self) -> "Forge":
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, tb: TracebackType | None) -> None:
        self._process.communicate(timeout=60)
