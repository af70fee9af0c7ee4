"""The journal on disk: a pilot's action is there before the screen says so; signals follow in groups.

One process writes a journal (a lock held for as long as it is open). When the disk refuses, the
flight goes on and `trouble` says that nothing is being saved.
"""

import contextlib
import os
from collections.abc import Iterable
from datetime import datetime
from errno import ENOENT
from pathlib import Path
from types import TracebackType

from flowdeck.live.files import read_bounded
from flowdeck.model.deck import Deck
from flowdeck.model.diagnostic import Diagnostic, Place, Rejected, refused, visible
from flowdeck.model.events import Event
from flowdeck.model.scenario import Scenario
from flowdeck.wire.journal import Opened, event_line, header_line, read_journal

LARGEST = 256_000_000
"""Bytes; some two hundred hours of flight."""
_sync = getattr(os, "fdatasync", os.fsync)  # not on Windows and macOS


class Journal:
    """An open journal. `append` makes it durable when asked to be sure."""

    def __init__(self, path: Path, descriptor: int, number: int) -> None:
        self.path = path
        self.trouble = ""
        self._descriptor = descriptor
        self._number = number

    @classmethod
    def create(cls, path: str, deck: Deck, scenario: Scenario, *, solo: bool) -> "Journal":
        """Begin a new journal. Raises `Rejected` if the file exists or cannot be made."""
        begun = datetime.now().astimezone().isoformat(timespec="seconds")
        descriptor = _open(path, os.O_CREAT | os.O_EXCL)
        journal = cls(Path(path), descriptor, 0)
        try:
            journal._write(header_line(deck, scenario, solo=solo, begun=begun))
            journal.sync()
            _sync_folder(Path(path).parent)
        except OSError as error:
            os.close(descriptor)
            raise _rejected(path, f"cannot be written: {error.strerror}") from None
        return journal

    @classmethod
    def resume(cls, path: str) -> tuple["Journal", Opened]:
        """Open a journal to go on with it; a torn last line is cut off. Raises `Rejected`."""
        descriptor = _open(path, 0)
        try:
            opened = read_file(path)
            os.ftruncate(descriptor, opened.good_bytes)
            os.lseek(descriptor, 0, os.SEEK_END)
        except OSError as error:
            os.close(descriptor)
            raise _rejected(path, f"cannot be written: {error.strerror}") from None
        except Rejected:
            os.close(descriptor)
            raise
        return cls(Path(path), descriptor, len(opened.events)), opened

    @classmethod
    def salvage(cls, path: str) -> tuple["Journal", Opened]:
        """Go on from the sound part of a damaged journal, in a new file beside it. Raises `Rejected`.

        The damaged one stays as it is. One that is whole is simply resumed.
        """
        opened = read_file(path, salvage=True)
        if all(note.kind == "torn-line" for note in opened.notes):
            return cls.resume(path)
        kept = Path(path).with_stem(f"{Path(path).stem}-salvaged")
        descriptor = _open(str(kept), os.O_CREAT | os.O_EXCL)
        journal = cls(kept, descriptor, len(opened.events))
        try:
            journal._write(read_bounded(path, LARGEST)[: opened.good_bytes])
            journal.sync()
            _sync_folder(kept.parent)
        except (OSError, Rejected) as error:
            os.close(descriptor)
            if isinstance(error, Rejected):
                raise
            raise _rejected(str(kept), f"cannot be written: {error.strerror}") from None
        return journal, opened

    def append(self, events: Iterable[Event], *, sure: bool) -> None:
        """Write events that belong together; *sure*: return only when they are on disk. Trouble is kept, not raised."""
        together = tuple(events)
        if not together or self.trouble:
            return
        first, last = self._number + 1, self._number + len(together)
        lines = [event_line(number, event, last) for number, event in enumerate(together, start=first)]
        self._number = last
        try:
            self._write(b"".join(lines))
            if sure:
                self.sync()
        except OSError as error:
            self._give_up(error)

    def commit(self) -> None:
        """Make what was appended durable. Trouble is kept, not raised."""
        if self.trouble:
            return
        try:
            self.sync()
        except OSError as error:
            self._give_up(error)

    def _give_up(self, error: OSError) -> None:
        self.trouble = f"nothing is being saved: {error.strerror} ({visible(self.path.name)})"

    def _write(self, data: bytes) -> None:
        view = memoryview(data)
        while view:
            view = view[os.write(self._descriptor, view) :]

    def sync(self) -> None:
        """All that was written is on disk, in a file that has a name. Raises OSError."""
        _sync(self._descriptor)
        if os.fstat(self._descriptor).st_nlink == 0:
            raise FileNotFoundError(ENOENT, "the journal was removed")

    def close(self) -> None:
        self.commit()
        with contextlib.suppress(OSError):
            os.close(self._descriptor)

    def __enter__(self) -> "Journal":
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, tb: TracebackType | None) -> None:
        self.close()


def _open(path: str, flags: int) -> int:
    """Open for writing and lock. Raises `Rejected`."""
    binary = getattr(os, "O_BINARY", 0)
    try:
        descriptor = os.open(path, os.O_RDWR | flags | binary, 0o644)
    except FileExistsError:
        raise _rejected(path, f"there is a journal already; go on with it by: --resume {path}") from None
    except OSError as error:
        raise _rejected(path, f"cannot be opened: {error.strerror}") from None
    if not _lock(descriptor):
        os.close(descriptor)
        raise _rejected(path, "another flowdeck is writing this journal")
    return descriptor


def _lock(descriptor: int) -> bool:
    """Whether this process holds the file alone; released when the file is closed."""
    try:
        import fcntl
    except ImportError:  # Windows
        import msvcrt

        try:
            msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)  # type: ignore[attr-defined,unused-ignore]  # Windows only
        except OSError:
            return False
        return True
    try:
        fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True


def _sync_folder(folder: Path) -> None:
    """The name of a new file is on disk too (no folder can be opened on Windows)."""
    if os.name == "nt":
        return
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


def add_note(path: str, note: Event, after: int) -> str:
    """Add an instructor's note to a journal of *after* events; says what became of it. Raises `Rejected`."""
    journal, opened = Journal.resume(path)
    with journal:
        if len(opened.events) != after:
            return "the journal has grown since it was opened; the note is not kept"
        journal.append((note,), sure=True)
    return journal.trouble or "noted"


def read_file(path: str, *, salvage: bool = False) -> Opened:
    """Read a journal without writing to it; *salvage* as for `read_journal`. Raises `Rejected`."""
    return read_journal(path, read_bounded(path, LARGEST), salvage=salvage)


def read_flight(path: str, *, salvage: bool = False) -> Opened:
    """As `read_file`, of a journal in which a flight has begun. Raises `Rejected`."""
    opened = read_file(path, salvage=salvage)
    if not opened.events:
        empty = Diagnostic(place=Place(path, 1), kind="journal", message="the journal has a header and no flight")
        raise Rejected((empty, *opened.notes))
    return opened


def _rejected(path: str, message: str) -> Rejected:
    return refused(path, "journal", message)
