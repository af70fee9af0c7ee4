"""Killed at any moment: what was acknowledged is there, the cursor waits, the end is that of an unbroken flight."""

import shutil
import tempfile
from collections import Counter
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path
from random import Random

import pytest

from flowdeck.crew.manner import Memory
from flowdeck.live.journal import Journal
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.deviation import Slip
from flowdeck.model.session import ListStatus
from flowdeck.trial.flight import Flight, send
from flowdeck.trial.rehearse import fly_on, rehearse
from flowdeck.trial.restore import interrupted, restore
from tests.conftest import Measured
from tests.support.cockpit import bundled
from tests.support.killed import Forge

Found = Counter[tuple[Slip, str, str]]


@pytest.fixture
def folder() -> Iterator[Path]:
    """In memory where there is such a place: a kill of the process is not a failure of the disk."""
    memory = Path("/dev/shm")
    made = Path(tempfile.mkdtemp(dir=memory if memory.is_dir() else None))
    yield made
    shutil.rmtree(made)


@lru_cache(maxsize=2)
def unbroken(name: str) -> tuple[dict[int, Memory], Flight]:
    """Of a flight that nobody kills: what the crew remember after so many events, and how it ends."""
    remembered: dict[int, Memory] = {}
    number = 0
    for step in rehearse(*bundled(name)):
        number += len(step.events)
        remembered[number] = step.memory
    return remembered, step.flight


def found(flight: Flight) -> Found:
    """Its deviations, without rote answers: a line that is repeated on resuming may be answered by rote again."""
    kept = (d for d in flight.session.deviations if d.slip is not Slip.ROTE)
    return Counter((d.slip, d.item, str(d.seat)) for d in kept)


def check(forge: Forge, name: str, path: Path, after: int) -> bool:
    """Whether the flight was broken off; all else is asserted."""
    acknowledged = forge.kill(path, after)
    journal, opened = Journal.resume(str(path))
    journal.close()
    remembered, end = unbroken(name)
    events = opened.events
    assert len(events) >= acknowledged
    assert len(events) in remembered, "an act was kept without all that followed from it"
    broken = restore(opened.deck, opened.scenario, events)
    reading = [ref for ref, state in broken.session.lists.items() if state.status is ListStatus.CALLED]
    flight, waiting = interrupted(broken)
    assert [event.checklist for event in waiting if isinstance(event, ev.ListHeld)] == reading
    assert flight.session.paused or flight.session.ended
    flight, _ = send(flight, inp.Unpause(at=flight.session.at))
    for step in fly_on(flight, remembered[len(events)]):
        flight = step.flight
    assert flight.session.ended == end.session.ended
    assert found(flight) == found(end)
    path.unlink()
    return not broken.session.ended


def kills(name: str, folder: Path, times: int, seed: str) -> int:
    """How many of the flights were broken off."""
    steps = len(unbroken(name)[0])
    chance = Random(f"{name} {seed}")
    with Forge(name) as forge:
        return sum(check(forge, name, folder / f"{time}.journal", chance.randrange(1, steps)) for time in range(times))


@pytest.mark.parametrize("name", ["clean", "slips", "go-around", "interrupted"])
def test_killed_at_random_moments(name: str, folder: Path) -> None:
    """Twenty-five kills each, a hundred in all."""
    assert kills(name, folder, 25, "few") >= 24


@pytest.mark.soak
@pytest.mark.parametrize("part", range(2))
@pytest.mark.parametrize("name", ["clean", "slips", "go-around", "interrupted", "icing"])
def test_killed_a_thousand_times(name: str, part: int, folder: Path, measured: Measured) -> None:
    """A hundred kills each time."""
    broken_off = kills(name, folder, 100, f"many {part}")
    measured(f"{broken_off} of 100 flights broken off, each ended as an unbroken one")
    assert broken_off >= 97
