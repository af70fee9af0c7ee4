"""A program in a terminal of its own (a pseudo-terminal): what it writes and when, keys, sizes, signals."""

import fcntl
import os
import pty
import re
import select
import signal
import struct
import subprocess
import sys
import termios
import time
from pathlib import Path
from types import TracebackType

ROOT = Path(__file__).resolve().parents[2]


class Terminal:
    """`with Terminal("-m", "flowdeck", "fly") as t: t.until("paused")`: python with these arguments, 100 by 30."""

    def __init__(self, *arguments: str, columns: int = 100, rows: int = 30) -> None:
        self._ours, theirs = pty.openpty()
        self.resize(columns, rows)
        environment = {name: value for name, value in os.environ.items() if name not in ("COLUMNS", "LINES")}
        environment |= {"TERM": "xterm-256color", "COLORTERM": "truecolor"}
        command = [sys.executable, *arguments]
        self.process = subprocess.Popen(
            command, stdin=theirs, stdout=theirs, stderr=theirs, cwd=ROOT, env=environment, start_new_session=True
        )
        os.close(theirs)
        self.written = b""

    def until(self, words: str, limit_s: float = 30.0) -> float:
        """Read until *words* have been written; the moment (monotonic s). What was read is forgotten up to them."""
        wanted = words.encode()
        end = time.monotonic() + limit_s
        while wanted not in self.written:
            left = end - time.monotonic()
            if left <= 0 or not select.select([self._ours], [], [], left)[0]:
                raise AssertionError(f"{words!r} was not written within {limit_s} s; last: {self._plain()}")
            try:
                self.written += os.read(self._ours, 65536)
            except OSError:  # the program has ended
                raise AssertionError(f"the program ended before {words!r}; last: {self._plain()}") from None
        self.written = self.written.partition(wanted)[2]
        return time.monotonic()

    def _plain(self) -> str:
        """The last of what was written, without what only moves and colours."""
        return re.sub(r"\x1b\[[^a-zA-Z]*[a-zA-Z]", "", self.written.decode(errors="replace"))[-4000:]

    def read_for(self, seconds: float) -> bytes:
        """All that is written in this time."""
        end = time.monotonic() + seconds
        read = b""
        while (left := end - time.monotonic()) > 0 and select.select([self._ours], [], [], left)[0]:
            read += os.read(self._ours, 65536)
        return read

    def press(self, keys: str | bytes) -> float:
        """Send keys; the moment (monotonic s)."""
        os.write(self._ours, keys.encode() if isinstance(keys, str) else keys)
        return time.monotonic()

    def resize(self, columns: int, rows: int) -> None:
        fcntl.ioctl(self._ours, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))

    def memory_mb(self) -> float:
        """Resident memory of the program."""
        status = Path(f"/proc/{self.process.pid}/status").read_text(encoding="ascii")
        return int(next(line for line in status.splitlines() if line.startswith("VmRSS")).split()[1]) / 1024

    def cpu_s(self) -> float:
        """CPU time that the program has spent."""
        stat = Path(f"/proc/{self.process.pid}/stat").read_text(encoding="ascii").rpartition(")")[2].split()
        return (int(stat[11]) + int(stat[12])) / os.sysconf("SC_CLK_TCK")

    def __enter__(self) -> "Terminal":
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, tb: TracebackType | None) -> None:
        if self.process.poll() is None:
            self.process.send_signal(signal.SIGKILL)
        self.process.wait(timeout=30)
        os.close(self._ours)
