"""The program in a real terminal: it is stopped, resized, killed, fed with noise, and left unread; it flies on."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from flowdeck.live.journal import read_file
from flowdeck.model import events as ev
from tests.support.daily import some
from tests.support.terminal import Terminal

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="pseudo-terminals as Linux has them")
FLY = ("-m", "flowdeck", "fly")


def flying(terminal: Terminal) -> None:
    terminal.until("training and simulation only")
    terminal.until("x1")


def test_a_stopped_program_goes_on_where_it_was(tmp_path: Path) -> None:
    """Stopped for three seconds with a key pressed meanwhile: the key counts, the time does not run on."""
    path = tmp_path / "a.journal"
    with Terminal(*FLY, "--journal", str(path)) as t:
        flying(t)
        t.process.send_signal(signal.SIGSTOP)
        t.read_for(0.2)
        stopped = time.monotonic()
        t.press("f")
        t.read_for(3.0)  # nobody writes: this passes the time of the stop
        assert time.monotonic() - stopped >= 3.0
        t.process.send_signal(signal.SIGCONT)
        t.press(" ")
        t.until("paused")
        t.press("q")
        t.until("Leave the flight?")
        t.process.send_signal(signal.SIGKILL)
        t.process.wait(timeout=30)
    events = read_file(str(path)).events
    assert any(isinstance(event, (ev.ItemDone, ev.ItemPartly)) for event in events), "the key was lost"
    paused = next(event for event in events if isinstance(event, ev.Paused))
    assert paused.at < 3000, "the flight went on unseen"


def test_every_size_is_taken() -> None:
    """Down to a size in which nothing can be shown, and back: no size ends the flight."""
    with Terminal(*FLY) as t:
        flying(t)
        for columns, rows in ((80, 24), (200, 60), (40, 10), (12, 4), (1, 1), (100, 30)):
            t.resize(columns, rows)
            os.kill(t.process.pid, signal.SIGWINCH)
            t.read_for(0.2)
            assert t.process.poll() is None
        t.press(" ")
        t.until("paused")


def test_a_terminal_that_nobody_reads() -> None:
    """For seconds its output is held up while keys open and close pages; when it is read again the flight answers."""
    with Terminal(*FLY, "--pace", "16") as t:
        t.until("training and simulation only")
        for _ in range(30):
            t.press("?\x1b")
        with pytest.raises(subprocess.TimeoutExpired):
            t.process.wait(timeout=2)
        t.press(" ")
        t.until("paused")


NOISE = {
    "half a sequence": b"\x1b[",
    "a report": b"\x1b[999;999R",
    "a paste": b"\x1b[200~f j\x1b[201~",
    "controls": b"\x00\x01\x02",
    "no text": b"\xff\xfe\x80",
    "latin-1": b"\xe9",
    "half a letter": b"\xc3",
}


@pytest.mark.parametrize("what", some(NOISE, ["half a sequence", "a paste", "half a letter"]))
def test_noise_on_the_keyboard(what: str) -> None:
    """None of it ends the flight, and the next keys count."""
    with Terminal(*FLY) as t:
        flying(t)
        t.press(NOISE[what])
        t.read_for(0.3)
        t.press("\x1b")  # half a letter takes the next key with it
        t.read_for(0.3)
        t.press(" ")
        t.until("paused")


def test_killed_and_taken_up_again(tmp_path: Path) -> None:
    """`kill -9` in flight; with --resume the flight waits at the same phase, a torn end is said on the screen."""
    path = tmp_path / "a.journal"
    with Terminal(*FLY, "--journal", str(path)) as t:
        flying(t)
        t.press("f")
        t.read_for(0.3)
        t.process.send_signal(signal.SIGKILL)
        t.process.wait(timeout=30)
    with path.open("ab") as file:
        file.write(b'{"n":9999,"c":"00')
    with Terminal(*FLY, "--resume", str(path)) as t:
        t.until("The flight waits: space goes on. The last line was torn (17 bytes of event 9999)")
        t.press(" ")
        t.until("x1")
