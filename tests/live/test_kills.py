"""Killed at any moment: what was acknowledged is there, the cursor waits, the end is that of an unbroken flight."""

import shutil
import tempfile
from collections import Counter
from collections.abc import Iterable, Iterator
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
from tests.support.daily import some
from tests.support.killed import FURTHER, Forge

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


def found(flight: Flight, repeated: frozenset[str]) -> Found:
    """Its deviations, but for what hangs on the lines that are *repeated* on resuming.

    Who answers such a line by rote, or without having looked, does so twice; a burst of answers that the kill fell
    into may end at a line of the other pilot.
    """
    kept = (d for d in flight.session.deviations if d.slip is not Slip.ROTE)
    counted = Counter((d.slip, d.item, "" if d.slip is Slip.CHUNKED else str(d.seat)) for d in kept)
    return Counter({key: 1 if key[1] in repeated else count for key, count in counted.items()})


def answered(events: Iterable[ev.Event]) -> Counter[str]:
    return Counter(event.line for event in events if isinstance(event, ev.LineAnswered))


def check(forge: Forge, name: str, path: Path, after: int, *, to_the_end: bool = True) -> bool:
    """Whether the flight was broken off; all else is asserted, of its end when it is flown *to_the_end*."""
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
    path.unlink()
    if to_the_end:
        later: Counter[str] = Counter()
        for step in fly_on(flight, remembered[len(events)]):
            flight = step.flight
            later.update(answered(step.events))
        assert flight.session.ended == end.session.ended
        repeated = frozenset(later & answered(events))
        assert found(flight, repeated) == found(end, repeated)
    return not broken.session.ended


def known(name: str) -> int:
    """How many steps of the unbroken flight made something happen."""
    return len(unbroken(name)[0])


@pytest.mark.parametrize("name", some(["slips", "interrupted"], ["slips"]))
def test_killed_at_random_moments(name: str, folder: Path) -> None:
    """Ten kills each, one in each tenth of the flight; two of them are flown on to their end."""
    chance = Random(f"{name} few")
    with Forge(name) as forge:  # it flies while we do
        length = (known(name) - FURTHER) // 10
        for part in range(10):
            after = part * length + chance.randrange(1, length)
            assert check(forge, name, folder / "a.journal", after, to_the_end=part % 5 == 2), after


@pytest.mark.soak
@pytest.mark.parametrize("part", range(2))
@pytest.mark.parametrize("name", ["clean", "slips", "go-around", "interrupted", "icing"])
def test_killed_a_thousand_times(name: str, part: int, folder: Path, measured: Measured) -> None:
    """A hundred kills each time, every tenth flown on to its end."""
    chance = Random(f"{name} many {part}")
    with Forge(name) as forge:
        moments = [chance.randrange(1, known(name)) for _ in range(100)]
        broken_off = sum(
            check(forge, name, folder / "a.journal", after, to_the_end=number % 10 == 0)
            for number, after in enumerate(moments)
        )
    measured(f"{broken_off} of 100 flights broken off, 10 flown on, each ended as an unbroken one")
    assert broken_off >= 90  # a late kill may find that the flight has ended
