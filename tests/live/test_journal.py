"""The journal on disk: a kill loses nothing that was acknowledged, a resume goes on where it was."""

import json
import os
import resource
import signal
import subprocess
import sys
from pathlib import Path
from random import Random

import pytest

from flowdeck.engine import fold
from flowdeck.live.journal import Journal, read_file
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.diagnostic import Rejected
from flowdeck.model.seats import Seat
from flowdeck.model.session import ListStatus, Session, same
from flowdeck.trial.flight import Flight, advance, send, take_off
from flowdeck.trial.rehearse import rehearse
from flowdeck.trial.restore import interrupted, restore
from tests.support.cockpit import bundled

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


CHILD = """
import sys
from flowdeck.live.bundled import read_scenario
from flowdeck.live.journal import Journal
from flowdeck.model import inputs as inp
from flowdeck.trial.rehearse import rehearse
deck, scenario, _ = read_scenario("clean")
journal = Journal.create(sys.argv[1], deck, scenario, solo=True)
number = 0
for step in rehearse(deck, scenario):
    journal.append(step.events, sure=True)
    number += len(step.events)
    print(number, flush=True)   # the acknowledgement
"""


def _killed(path: Path, after_lines: int) -> int:
    """Run a rehearsal and kill it (SIGKILL) after so many acknowledgements; the last number acknowledged."""
    child = subprocess.Popen([sys.executable, "-c", CHILD, str(path)], stdout=subprocess.PIPE, cwd=ROOT)
    assert child.stdout is not None
    last = 0
    for _ in range(after_lines):
        line = child.stdout.readline()
        if not line:
            break
        last = int(line)
    os.kill(child.pid, signal.SIGKILL)
    child.stdout.close()
    child.wait(timeout=60)
    return last


@pytest.mark.parametrize("seed", range(4))
def test_a_kill_loses_nothing_that_was_acknowledged(tmp_path: Path, seed: int) -> None:
    """SIGKILL at a random moment: every acknowledged event is there, and the flight resumes."""
    path = tmp_path / "killed.journal"
    acknowledged = _killed(path, Random(seed).randrange(5, 900))
    journal, opened = Journal.resume(str(path))
    journal.close()
    assert len(opened.events) >= acknowledged
    assert restore(opened.deck, opened.scenario, opened.events).session.seq == len(opened.events)


@pytest.mark.soak
def test_a_hundred_kills(tmp_path: Path) -> None:
    """The same, a hundred times over."""
    for seed in range(100):
        path = tmp_path / f"{seed}.journal"
        acknowledged = _killed(path, Random(1000 + seed).randrange(5, 1200))
        journal, opened = Journal.resume(str(path))
        journal.close()
        assert len(opened.events) >= acknowledged


def test_a_torn_last_line_is_cut_off_and_said(tmp_path: Path) -> None:
    path = tmp_path / "torn.journal"
    _, events = written(path, 60)
    whole = path.read_bytes()
    path.write_bytes(whole[:-7])
    journal, opened = Journal.resume(str(path))
    assert len(opened.events) == len(events) - 1
    assert opened.notes[0].kind == "torn-line"
    journal.append([events[-1]], sure=True)
    journal.close()
    assert path.read_bytes() == whole


def test_one_process_writes_a_journal(tmp_path: Path) -> None:
    """A second writer is refused while the first one holds it."""
    path = str(tmp_path / "one.journal")
    written(Path(path), 5)
    first, _ = Journal.resume(path)
    with pytest.raises(Rejected, match="another flowdeck"):
        Journal.resume(path)
    first.close()
    Journal.resume(path)[0].close()


def test_a_new_journal_never_overwrites_one(tmp_path: Path) -> None:
    deck, scenario = bundled("clean")
    path = tmp_path / "kept.journal"
    path.write_text("mine", encoding="utf-8")
    with pytest.raises(Rejected, match="--resume"):
        Journal.create(str(path), deck, scenario, solo=True)
    assert path.read_text(encoding="utf-8") == "mine"


def test_a_full_disk_lets_the_flight_go_on_and_says_so(tmp_path: Path) -> None:
    """Writing fails (a limit on the size of files): no exception, a standing notice, the flight as before."""
    deck, scenario = bundled("clean")
    path = tmp_path / "full.journal"
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    ignored = signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    flight, events = take_off(deck, scenario)
    with Journal.create(str(path), deck, scenario, solo=True) as journal:
        resource.setrlimit(resource.RLIMIT_FSIZE, (path.stat().st_size + 10, before[1]))
        try:
            journal.append(events, sure=True)
        finally:
            resource.setrlimit(resource.RLIMIT_FSIZE, before)
            signal.signal(signal.SIGXFSZ, ignored)
        assert "nothing is being saved" in journal.trouble
        flight, _ = send(flight, inp.Undo(at=0, seat=Seat.CAPTAIN))
        assert flight.session.seq > len(events)


def test_a_folder_that_cannot_be_written(tmp_path: Path) -> None:
    deck, scenario = bundled("clean")
    with pytest.raises(Rejected, match="cannot be opened"):
        Journal.create(str(tmp_path / "nowhere" / "a.journal"), deck, scenario, solo=True)


def test_the_header_says_what_it_is_and_for_what(tmp_path: Path) -> None:
    """The first line can be read by eye: disclaimer, deck, hash, status."""
    written(tmp_path / "a.journal", 1)
    header = json.loads((tmp_path / "a.journal").read_text(encoding="utf-8").splitlines()[0])
    assert header["disclaimer"].startswith("Training and simulation only")
    assert (header["deck_id"], header["deck_status"]) == ("twinjet", "draft")
    assert len(header["deck_hash"]) == 64
