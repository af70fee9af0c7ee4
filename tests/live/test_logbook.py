"""The logbook: whole, replaceable, rebuildable, able to forget; of every version that ever was."""

import sqlite3
from pathlib import Path

import pytest

from flowdeck.live.journal import Journal
from flowdeck.live.store.logbook import Logbook
from flowdeck.live.store.schema import STEPS
from flowdeck.model.diagnostic import Rejected
from flowdeck.model.seats import Seat
from tests.scenarios.flown import flown


def journal(name: str, folder: Path, *, last: int | None = None) -> Path:
    done, path = flown(name), folder / f"{name}.journal"
    with Journal.create(str(path), done.deck, done.scenario, solo=done.scenario.solo) as written:
        for event in done.events[:last]:
            written.append((event,), sure=False)
    return path


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return tmp_path / "kept" / "logbook.sqlite"


def test_flights_are_kept_the_oldest_first_and_once(book: Path, tmp_path: Path) -> None:
    slips, clean = journal("slips", tmp_path), journal("clean", tmp_path)
    with Logbook(book) as kept:
        first = kept.add(slips)
        kept.add(clean)
        kept.add(slips)
    with Logbook(book) as kept:
        flights = kept.flights()
    assert sorted(each.journal for each in flights) == sorted(map(str, (slips, clean)))
    assert [each.summary.begun for each in flights] == sorted(each.summary.begun for each in flights)
    assert next(each.summary for each in flights if each.journal == str(slips)) == first
    assert len(first.slips) == 31


def test_a_flight_that_goes_on_replaces_what_was_kept(book: Path, tmp_path: Path) -> None:
    path = journal("slips", tmp_path, last=900)
    with Logbook(book) as kept:
        before = kept.add(path)
        path.unlink()
        after = kept.add(journal("slips", tmp_path))
        assert before.end == "" and after.end == "secured" and len(kept.flights()) == 1


def test_all_can_be_made_anew_and_tags_and_names_stay(book: Path, tmp_path: Path) -> None:
    slips, clean = str(journal("slips", tmp_path)), str(journal("clean", tmp_path))
    with Logbook(book) as kept:
        for path in (slips, clean):
            kept.add(path)
        kept.tag(slips, ["line-check", "night"])
        kept.tag(slips, ["night"], remove=True)
        kept.name(slips, Seat.CAPTAIN, "A. Sample")
        before = kept.flights()
    raw = sqlite3.connect(book, isolation_level=None)
    raw.execute("UPDATE flight SET summary = '{}'")
    raw.close()
    with Logbook(book) as kept:
        with pytest.raises(Rejected, match="rebuild"):
            kept.flights()
        assert kept.rebuild() == (2, ())
        assert kept.flights() == before
    [found] = [each for each in before if each.journal == slips]
    assert (found.tags, found.persons) == (("line-check",), {"captain": "A. Sample"})


def test_a_journal_that_is_gone_is_left_out_and_named(book: Path, tmp_path: Path) -> None:
    slips, clean = journal("slips", tmp_path), journal("clean", tmp_path)
    with Logbook(book) as kept:
        kept.add(slips)
        kept.add(clean)
        slips.unlink()
        count, [finding] = kept.rebuild()
        assert count == 1 and str(slips) in str(finding)
        assert [each.journal for each in kept.flights()] == [str(clean)]


def test_what_is_no_journal_leaves_the_book_as_it_was(book: Path, tmp_path: Path) -> None:
    empty, bad = journal("clean", tmp_path, last=0), tmp_path / "bad.journal"
    bad.write_bytes(b"no journal\n")
    with Logbook(book) as kept:
        for path in (empty, bad, tmp_path / "nowhere.journal"):
            with pytest.raises(Rejected):
                kept.add(path)
        assert kept.flights() == ()


def test_an_erased_name_is_nowhere_in_the_file(book: Path, tmp_path: Path) -> None:
    """Not in a table, and not in a page that is free now."""
    slips = str(journal("slips", tmp_path))
    with Logbook(book) as kept:
        kept.add(slips)
        kept.name(slips, Seat.FIRST_OFFICER, "Zanzibar Quill")
    assert b"Zanzibar Quill" in book.read_bytes()
    with Logbook(book) as kept:
        assert kept.erase("Nobody") == 0
        assert kept.erase("Zanzibar Quill") == 1
        assert kept.flights()[0].persons == {}
    assert b"Zanzibar Quill" not in book.read_bytes()


def test_no_name_reaches_a_summary_or_a_journal(book: Path, tmp_path: Path) -> None:
    path = journal("clean", tmp_path)
    before = path.read_bytes()
    with Logbook(book) as kept:
        kept.add(path)
        kept.name(str(path), Seat.CAPTAIN, "A. Sample")
        assert "Sample" not in repr(kept.flights()[0].summary)
    assert path.read_bytes() == before


@pytest.mark.parametrize("version", range(len(STEPS)))
def test_every_older_version_becomes_the_present_one(version: int, book: Path, tmp_path: Path) -> None:
    """With what it held; a tag from before is there after."""
    book.parent.mkdir()
    old = sqlite3.connect(book, isolation_level=None)
    for step in STEPS[:version]:
        old.executescript(step)
    old.execute(f"PRAGMA user_version = {version}")
    path = str(journal("clean", tmp_path))
    if version:
        old.execute("INSERT INTO tag VALUES (?, 'old')", (path,))
    old.close()
    with Logbook(book) as kept:
        assert kept.version == len(STEPS)
        kept.add(path)
        kept.name(path, Seat.CAPTAIN, "A. Sample")
        [found] = kept.flights()
        assert found.tags == (("old",) if version else ()) and found.persons == {"captain": "A. Sample"}


def test_a_newer_version_is_refused_and_left_alone(book: Path) -> None:
    with Logbook(book):
        pass
    raw = sqlite3.connect(book)
    raw.execute(f"PRAGMA user_version = {len(STEPS) + 1}")
    raw.close()
    before = book.read_bytes()
    with pytest.raises(Rejected, match="use a newer one"):
        Logbook(book)
    assert book.read_bytes() == before


@pytest.mark.parametrize(
    "raw", [b"no database, but long enough to be looked at " * 9, b"SQLite format 3\x00" + b"\xff" * 400]
)
def test_what_is_no_logbook(raw: bytes, book: Path) -> None:
    book.parent.mkdir()
    book.write_bytes(raw)
    with pytest.raises(Rejected, match="cannot be used as a logbook"):
        Logbook(book)
    assert book.read_bytes() == raw


def test_a_step_that_fails_changes_nothing(book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Half a step is none: the version stays, and so do the tables."""
    with Logbook(book):
        pass
    monkeypatch.setattr(
        "flowdeck.live.store.logbook.STEPS", (*STEPS, "CREATE TABLE half (x); CREATE TABLE flight (y);")
    )
    with pytest.raises(Rejected):
        Logbook(book)
    monkeypatch.undo()
    with Logbook(book) as kept:
        assert kept.version == len(STEPS) and kept.flights() == ()
    raw = sqlite3.connect(book)
    assert raw.execute("SELECT count(*) FROM sqlite_master WHERE name = 'half'").fetchone() == (0,)
    raw.close()


def test_a_book_that_another_holds_is_named_and_left_as_it_was(book: Path, tmp_path: Path) -> None:
    path = journal("clean", tmp_path)
    with Logbook(book):
        pass
    other = sqlite3.connect(book, isolation_level=None)
    other.execute("BEGIN EXCLUSIVE")
    with pytest.raises(Rejected, match=r"cannot be (used|written)"), Logbook(book, wait_s=0.05) as kept:
        kept.add(path)
    other.execute("COMMIT")
    other.close()
    with Logbook(book) as kept:
        assert kept.flights() == ()


def test_a_book_in_a_folder_that_cannot_be_made(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", encoding="utf-8")
    with pytest.raises(Rejected, match="cannot be used as a logbook"):
        Logbook(tmp_path / "file" / "book.sqlite")
