"""A logbook: flights by their journals, in one SQLite file.

The law: nothing stands here that a journal does not tell, but for tags and names; adding a journal again replaces what
was kept of it, and everything that journals tell can be made anew from them.
"""

import sqlite3
from collections.abc import Iterable
from pathlib import Path
from types import TracebackType

import msgspec
from msgspec import Struct

from flowdeck.debrief.study import study
from flowdeck.debrief.summary import Summary, summary_of
from flowdeck.live.journal import read_flight
from flowdeck.live.store.schema import STEPS
from flowdeck.model.diagnostic import Diagnostic, Rejected, refused
from flowdeck.model.seats import Seat

_summaries = msgspec.json.Decoder(Summary)


class Kept(Struct, frozen=True, kw_only=True):
    """A flight of the logbook. *persons*: names by seat, where some were given."""

    journal: str
    summary: Summary
    tags: tuple[str, ...]
    persons: dict[str, str]


class Logbook:
    """Open it by `with`. *wait_s*: how long another program may hold it.

    Raises `Rejected` when the file is no logbook, is one of a newer version, or cannot be written after all.
    """

    def __init__(self, path: str | Path, wait_s: float = 5.0) -> None:
        self.path = Path(path)
        try:
            self.path.parent.mkdir(parents=True, exist_ok=True)
            self._db = sqlite3.connect(self.path, isolation_level=None, timeout=wait_s)
            self._db.execute("PRAGMA secure_delete = ON")  # what is erased is not left in free pages
            self._migrate()
        except (sqlite3.Error, OSError) as error:
            raise self._rejected(f"cannot be used as a logbook: {error}") from None

    def __enter__(self) -> "Logbook":
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, tb: TracebackType | None) -> None:
        self._db.close()
        if isinstance(error, sqlite3.Error):
            raise self._rejected(f"cannot be written: {error}") from None

    def _rejected(self, message: str) -> Rejected:
        return refused(str(self.path), "logbook", message)

    @property
    def version(self) -> int:
        return int(self._db.execute("PRAGMA user_version").fetchone()[0])

    def _migrate(self) -> None:
        """Step by step to the present version, each step whole or not at all."""
        version = self.version
        if version > len(STEPS):
            raise self._rejected(f"is of version {version}; this flowdeck knows up to {len(STEPS)}: use a newer one")
        for number, step in enumerate(STEPS[version:], start=version + 1):
            self._db.executescript(f"BEGIN; {step} PRAGMA user_version = {number}; COMMIT;")

    def add(self, path: str | Path) -> Summary:
        """Read a journal and keep what it tells. Raises `Rejected` for one that cannot be read or has no flight."""
        opened = read_flight(str(path))
        summary = summary_of(study(opened.deck, opened.scenario, opened.events), opened.header.begun)
        self.put({str(Path(path).resolve()): summary})
        return summary

    def put(self, flights: dict[str, Summary]) -> None:
        """Keep flights by their journals, all or none, each in the place of what was kept of it."""
        rows = [(j, s.begun, s.deck, s.scenario, msgspec.json.encode(s)) for j, s in flights.items()]
        with self._db:
            self._db.execute("BEGIN")
            self._db.executemany("INSERT OR REPLACE INTO flight VALUES (?, ?, ?, ?, ?)", rows)

    def flights(self) -> tuple[Kept, ...]:
        """All flights, the oldest first. Raises `Rejected` when what is kept is of another version: make it anew."""
        tags: dict[str, tuple[str, ...]] = {}
        for journal, tag in self._db.execute("SELECT journal, tag FROM tag ORDER BY tag"):
            tags[journal] = (*tags.get(journal, ()), tag)
        persons: dict[str, dict[str, str]] = {}
        for journal, seat, name in self._db.execute("SELECT journal, seat, name FROM person ORDER BY seat"):
            persons.setdefault(journal, {})[seat] = name
        rows = self._db.execute("SELECT journal, summary FROM flight ORDER BY begun, journal")
        try:
            return tuple(
                Kept(
                    journal=journal,
                    summary=_summaries.decode(raw),
                    tags=tags.get(journal, ()),
                    persons=persons.get(journal, {}),
                )
                for journal, raw in rows
            )
        except msgspec.MsgspecError:
            raise self._rejected("what it keeps was written by another version: flowdeck log rebuild") from None

    def tag(self, journal: str, tags: Iterable[str], *, remove: bool = False) -> None:
        command = (
            "DELETE FROM tag WHERE journal = ? AND tag = ?" if remove else "INSERT OR IGNORE INTO tag VALUES (?, ?)"
        )
        self._db.executemany(command, [(journal, tag) for tag in tags])

    def name(self, journal: str, seat: Seat, name: str) -> None:
        """Who sat there; kept here alone, never in a journal."""
        self._db.execute("INSERT OR REPLACE INTO person VALUES (?, ?, ?)", (journal, seat, name))

    def erase(self, name: str) -> int:
        """Forget a name everywhere, in the file's free pages too; with how many flights it stood."""
        found = self._db.execute("DELETE FROM person WHERE name = ?", (name,)).rowcount
        self._db.execute("VACUUM")
        return found

    def rebuild(self) -> tuple[int, tuple[Diagnostic, ...]]:
        """Read every journal again; those that cannot be read are left out and named. Tags and names stay."""
        journals = [str(row[0]) for row in self._db.execute("SELECT journal FROM flight ORDER BY journal")]
        findings: list[Diagnostic] = []
        for journal in journals:
            try:
                self.add(journal)
            except Rejected as rejected:
                self._db.execute("DELETE FROM flight WHERE journal = ?", (journal,))
                findings.append(rejected.findings[0])
        return len(journals) - len(findings), tuple(findings)
