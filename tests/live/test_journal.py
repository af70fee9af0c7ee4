"""The journal on disk: read back as it was written, cut anywhere it goes on from what is whole."""

import json
from pathlib import Path

import pytest

from flowdeck.engine import fold
from flowdeck.live.journal import Journal, read_file
from flowdeck.model import events as ev
from flowdeck.model.diagnostic import Rejected
from flowdeck.model.seats import Seat
from flowdeck.model.session import ListStatus, Session, same
from flowdeck.trial.flight import Flight, advance, take_off
from flowdeck.trial.rehearse import rehearse
from flowdeck.trial.restore import interrupted, restore
from tests.support.cockpit import bundled
from tests.support.small import small_deck, small_scenario

ROOT = Path(__file__).resolve().parents[2]


def written(path: Path, until_s: float) -> tuple[Flight, list[ev.Event]]:
    """A rehearsal journalled up to a moment."""
    deck, scenario = bundled("clean")
    events: list[ev.Event] = []
    with Journal.create(str(path), deck, scenario, solo=True) as journal:
        for step in rehearse(deck, scenario):
            events += step.events
            journal.append(step.events, sure=False)
            if step.flight.now >= until_s * 1000:
                break
    return step.flight, events


def test_what_was_written_is_read_back(tmp_path: Path) -> None:
    flight, events = written(tmp_path / "a.journal", 600)
    opened = read_file(str(tmp_path / "a.journal"))
    assert list(opened.events) == events
    assert same(fold(Session(), opened.events), flight.session)
    assert opened.deck.hash == flight.deck.hash


def test_restored_flight_stands_where_it_was(tmp_path: Path) -> None:
    """Position, controls, readings and script of the restored flight are those of the one that was broken off."""
    flight, _ = written(tmp_path / "a.journal", 960)
    opened = read_file(str(tmp_path / "a.journal"))
    restored = restore(opened.deck, opened.scenario, opened.events)
    assert same(restored.session, flight.session)
    assert restored.plane.distance_nm == pytest.approx(flight.plane.distance_nm, abs=0.1)
    assert restored.plane.altitude_ft == pytest.approx(flight.plane.altitude_ft, abs=60)
    assert restored.plane.ias_kt == pytest.approx(flight.plane.ias_kt, abs=3)
    assert restored.plane.around == flight.plane.around
    assert restored.happened == flight.happened
    ahead, _ = advance(restored, restored.now + 5000)
    assert ahead.plane.distance_nm < restored.plane.distance_nm


def test_a_running_list_is_held_on_resume() -> None:
    """Taken up again in the middle of a list, it stops at its line and repeats the last one done."""
    deck, scenario = bundled("clean")
    for step in rehearse(deck, scenario):
        state = step.flight.session.list("approach-list")
        if state.status is ListStatus.CALLED and "approach-altimeters" in step.flight.session.done:
            break
    flight, events = interrupted(step.flight)
    assert [type(event) for event in events] == [ev.ListHeld, ev.Paused]
    assert flight.session.list("approach-list").status is ListStatus.HELD


def test_a_torn_last_line_is_cut_off_and_said(tmp_path: Path) -> None:
    path = tmp_path / "torn.journal"
    _, events = written(path, 60)
    whole = path.read_bytes()
    path.write_bytes(whole[:-7])
    journal, opened = Journal.resume(str(path))
    assert opened.notes[0].kind == "torn-line"
    kept = len(opened.events)
    assert kept < len(events)
    journal.append(events[kept:], sure=True)
    journal.close()
    assert path.read_bytes() == whole


def test_cut_at_every_byte_of_its_last_three_events(tmp_path: Path) -> None:
    """Whatever is left resumes at the last act that is whole, and says what was dropped; the flight goes on from it.

    Of a small deck: the header is read again for every byte.
    """
    deck = small_deck()
    scenario = small_scenario(deck)
    path = tmp_path / "cut.journal"
    flight, begun = take_off(deck, scenario)
    act = (
        ev.ItemDone(at=500, item="brief", seat=Seat.CAPTAIN),
        ev.FactTold(at=500, fact="cleared", value=True),
        ev.ListOpened(at=500, checklist="landing-list"),
    )
    with Journal.create(str(path), deck, scenario, solo=True) as journal:
        journal.append(begun, sure=True)
        before = path.stat().st_size
        journal.append(act[:2], sure=True)
        middle = path.stat().st_size
        journal.append(act[2:], sure=True)
    whole = path.read_bytes()
    for size in range(before, len(whole) + 1):
        path.write_bytes(whole[:size])
        journal, opened = Journal.resume(str(path))
        journal.close()
        acts = 0 if size < middle else 2 if size < len(whole) else 3
        assert opened.events == (*begun, *act[:acts])
        assert path.stat().st_size == (before, None, middle, len(whole))[acts]
        said = [note.message for note in opened.notes]
        assert bool(said) == (size not in (before, middle, len(whole)))
        assert all("is dropped" in words and words.endswith("everything before it is whole") for words in said)
        assert restore(opened.deck, opened.scenario, opened.events).session.seq == len(begun) + acts
    assert flight.session.seq == len(begun)


def test_salvage_goes_on_in_a_new_file_and_leaves_the_damaged_one(tmp_path: Path) -> None:
    path, salvaged = tmp_path / "a.journal", tmp_path / "a-salvaged.journal"
    _, events = written(path, 60)
    lines = path.read_bytes().splitlines(keepends=True)
    bad = len(lines) // 2
    damaged = b"".join((*lines[:bad], lines[bad].replace(b'"at":', b'"AT":'), *lines[bad + 1 :]))
    path.write_bytes(damaged)
    with pytest.raises(Rejected) as caught:
        Journal.resume(str(path))
    assert [(f.kind, f.place.line >= bad) for f in caught.value.findings] == [("damaged-line", True), ("salvage", True)]
    journal, opened = Journal.salvage(str(path))
    kept = len(opened.events)
    assert opened.events == tuple(events[:kept]) and 0 < kept < bad
    journal.append(events[kept:], sure=True)
    journal.close()
    assert path.read_bytes() == damaged
    assert read_file(str(salvaged)).events == tuple(events)
    with pytest.raises(Rejected, match="there is a journal already"):
        Journal.salvage(str(path))


def test_salvage_of_a_whole_journal_is_resuming_it(tmp_path: Path) -> None:
    path = tmp_path / "a.journal"
    _, events = written(path, 10)
    journal, opened = Journal.salvage(str(path))
    journal.close()
    assert journal.path == path and opened.events == tuple(events)


def test_a_new_journal_never_overwrites_one(tmp_path: Path) -> None:
    deck, scenario = bundled("clean")
    path = tmp_path / "kept.journal"
    path.write_text("mine", encoding="utf-8")
    with pytest.raises(Rejected, match="--resume"):
        Journal.create(str(path), deck, scenario, solo=True)
    assert path.read_text(encoding="utf-8") == "mine"


def test_the_header_says_what_it_is_and_for_what(tmp_path: Path) -> None:
    """The first line can be read by eye: disclaimer, deck, hash, status."""
    written(tmp_path / "a.journal", 1)
    header = json.loads((tmp_path / "a.journal").read_text(encoding="utf-8").splitlines()[0])
    assert header["disclaimer"].startswith("Training and simulation only")
    assert (header["deck_id"], header["deck_status"]) == ("twinjet", "draft")
    assert len(header["deck_hash"]) == 64
