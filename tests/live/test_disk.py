"""What a disk can do to a flight: full, forbidden, taken away, shared. The flight goes on, and the crew know."""

import os
import resource
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import mkdtemp

import pytest

from flowdeck.live.journal import Journal, read_file
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.diagnostic import Rejected
from flowdeck.model.seats import Seat
from flowdeck.trial.flight import advance, send, take_off
from tests.support.cockpit import bundled, cockpit

ROOT = Path(__file__).resolve().parents[2]


@contextmanager
def files_of_at_most(size: int) -> Iterator[None]:
    """No file of this process grows beyond *size* bytes."""
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    ignored = signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (size, before[1]))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)
        signal.signal(signal.SIGXFSZ, ignored)


async def test_a_full_disk_stands_in_the_title_and_the_flight_goes_on(tmp_path: Path) -> None:
    """In the middle of a line there is no room left: keys work, time passes, the title says that nothing is saved."""
    deck, scenario = bundled("clean")
    path = tmp_path / "full.journal"
    journal = Journal.create(str(path), deck, scenario, solo=True)
    async with cockpit("clean", journal=journal) as c:
        before = len(read_file(str(path)).events)
        with files_of_at_most(path.stat().st_size + 30):
            await c.press("f")
            assert "nothing is being saved: File too large (full.journal)" in c.text("title")
            done, now = len(c.session.done), c.app.host.now
            await c.press("j", "f")
            await c.wait(5)
        assert len(c.session.done) > done and c.app.host.now > now
        assert "nothing is being saved" in c.text("title")
    opened = read_file(str(path))
    assert len(opened.events) == before
    assert "torn (30 bytes" in opened.notes[0].message


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no device that is always full")
def test_no_space_left() -> None:
    journal = Journal(Path("today.journal"), os.open("/dev/full", os.O_WRONLY), 0)
    journal.append([ev.Paused(at=0)], sure=True)
    assert journal.trouble == "nothing is being saved: No space left on device (today.journal)"
    journal.append([ev.Unpaused(at=0)], sure=True)
    journal.close()
    assert journal.trouble == "nothing is being saved: No space left on device (today.journal)"


@pytest.mark.parametrize("taken", ["file", "folder"])
def test_a_journal_that_is_taken_away_is_noticed(tmp_path: Path, taken: str) -> None:
    """Writing to a file without a name succeeds, and nobody would ever find what was written."""
    deck, scenario = bundled("clean")
    folder = tmp_path / "flights"
    folder.mkdir()
    flight, begun = take_off(deck, scenario)
    with Journal.create(str(folder / "gone.journal"), deck, scenario, solo=True) as journal:
        journal.append(begun, sure=True)
        assert not journal.trouble
        if taken == "file":
            (folder / "gone.journal").unlink()
        else:
            shutil.rmtree(folder)
        flight, events = advance(flight, 1000)
        journal.append(events, sure=False)
        journal.commit()
        assert journal.trouble == "nothing is being saved: the journal was removed (gone.journal)"
    _, events = send(flight, inp.Undo(at=1000, seat=Seat.CAPTAIN))
    assert events


def test_a_folder_that_is_only_renamed_still_keeps_it(tmp_path: Path) -> None:
    deck, scenario = bundled("clean")
    (tmp_path / "old").mkdir()
    _, begun = take_off(deck, scenario)
    with Journal.create(str(tmp_path / "old" / "a.journal"), deck, scenario, solo=True) as journal:
        (tmp_path / "old").rename(tmp_path / "new")
        journal.append(begun, sure=True)
        assert not journal.trouble
    assert read_file(str(tmp_path / "new" / "a.journal")).events == begun


@pytest.fixture
def forbidden() -> Iterator[Path]:
    """A folder that may be looked into and not written to, also by who may do everything."""
    folder = Path(mkdtemp())
    (folder / "old.journal").write_bytes(b"")
    (folder / "old.journal").chmod(0o444)
    folder.chmod(0o555)
    root = os.geteuid() == 0
    if root:
        os.seteuid(65534)
    try:
        yield folder
    finally:
        if root:
            os.seteuid(0)
        shutil.rmtree(folder)


def test_a_folder_without_permission(forbidden: Path) -> None:
    """Said before the flight begins: who asks for a journal and gets none should know it."""
    deck, scenario = bundled("clean")
    with pytest.raises(Rejected, match=r"new.journal: error journal: cannot be opened: Permission denied"):
        Journal.create(str(forbidden / "new.journal"), deck, scenario, solo=True)
    with pytest.raises(Rejected, match=r"old.journal: error journal: cannot be opened: Permission denied"):
        Journal.resume(str(forbidden / "old.journal"))


@pytest.mark.parametrize(("name", "why"), [("nowhere/a", "No such file or directory"), ("file/a", "Not a directory")])
def test_a_folder_that_is_not_there(tmp_path: Path, name: str, why: str) -> None:
    (tmp_path / "file").write_text("x", encoding="utf-8")
    deck, scenario = bundled("clean")
    with pytest.raises(Rejected, match=f"cannot be opened: {why}"):
        Journal.create(str(tmp_path / name), deck, scenario, solo=True)


SECOND = """
import sys
from flowdeck.live.journal import Journal
from flowdeck.model.diagnostic import Rejected
try:
    Journal.resume(sys.argv[1])
except Rejected as rejected:
    print(rejected)
else:
    print("opened")
"""


def second(path: Path) -> str:
    """What another process is told that opens the journal."""
    command = [sys.executable, "-c", SECOND, str(path)]
    return subprocess.run(command, cwd=ROOT, check=True, capture_output=True, text=True, timeout=60).stdout.strip()


def test_two_processes_never_write_one_journal(tmp_path: Path) -> None:
    """The second is refused while the first one flies, also by the name of a link, and let in afterwards."""
    deck, scenario = bundled("clean")
    path, link = tmp_path / "one.journal", tmp_path / "link.journal"
    link.symlink_to(path)
    _, begun = take_off(deck, scenario)
    with Journal.create(str(path), deck, scenario, solo=True) as journal:
        journal.append(begun, sure=True)
        assert second(path) == f"{path}: error journal: another flowdeck is writing this journal"
        assert "another flowdeck is writing" in second(link)
        journal.append([ev.Paused(at=0)], sure=True)
    assert second(path) == "opened"
    assert len(read_file(str(path)).events) == len(begun) + 1
