"""Whole flights over real sockets: two pilots at two terminals and an instructor, against the same crew at one."""

import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from flowdeck.crew.manner import BLANK
from flowdeck.crew.script import play
from flowdeck.live.journal import read_file
from flowdeck.live.net.link import GuestLink
from flowdeck.model import inputs as inp
from flowdeck.model.seats import Seat
from flowdeck.trial.rehearse import STEP_MS, compare
from flowdeck.wire.link.stations import Station
from tests.conftest import Measured
from tests.scenarios.flown import flown
from tests.support.cockpit import TestClock
from tests.support.crewed import Hosted, host_of

STATIONS = {Seat.CAPTAIN: Station.CAPTAIN, Seat.FIRST_OFFICER: Station.FIRST_OFFICER}
MOST_INPUTS = 4
"""In one step, as in a rehearsal."""


class Crew:
    """Each pilot looks at the flight as it is known at the own terminal, and acts for the own seat."""

    def __init__(self, h: Hosted, pilots: dict[Seat, GuestLink], instructor: GuestLink) -> None:
        self.h, self.pilots, self.instructor = h, pilots, instructor
        self.memory = dict.fromkeys(Seat, BLANK)

    async def look(self) -> bool:
        """Whether one of them did something."""
        flying = self.h.host.flight.session.flying
        for seat in (flying, flying.other):
            flight = self.pilots[seat].flight
            script = self.h.host.flight.truths  # whoever wrote the script knows when it comes true
            turn = play(
                flight.deck,
                self.h.host.flight.scenario,
                flight.session,
                script,
                self.memory[seat],
                self.h.host.now,
                (seat,),
            )
            self.memory[seat] = turn.memory
            for input_ in turn.inputs:
                assert await self.h.ask(self._hands(input_), input_) == ""
                await self.h.followed()
            if turn.inputs:
                return True
        return False

    def _hands(self, input_: inp.Input) -> GuestLink:
        """At which terminal it is done: a slip of the wrong seat is made at that seat's."""
        seat = getattr(input_, "seat", None)
        return self.instructor if seat is None else self.pilots[seat]


@pytest.fixture
def folder() -> Iterator[Path]:
    """In memory where there is such a place: thousands of groups are made sure of, and no disk is under test."""
    memory = Path("/dev/shm")
    made = Path(tempfile.mkdtemp(dir=memory if memory.is_dir() else None))
    yield made
    shutil.rmtree(made)


@pytest.mark.soak
@pytest.mark.parametrize("name", ["clean", "slips"])
async def test_flown_at_two_terminals_as_at_one(name: str, folder: Path, measured: Measured) -> None:
    """The same deviations at the same times, and all four ends agree on everything."""
    at_one = flown(name)
    clock = TestClock()
    path = folder / f"{name}.journal"
    h = Hosted(host_of(at_one.deck, at_one.scenario, path, clock, solo=at_one.scenario.solo, step_ms=STEP_MS), clock)
    await h.serve()
    pilots = {seat: await h.guest(station) for seat, station in STATIONS.items()}
    instructor = await h.guest(Station.INSTRUCTOR)
    crew = Crew(h, pilots, instructor)
    while not h.host.flight.session.ended and h.host.now < at_one.scenario.limit_s * 1000:
        await h.fly(0.5)
        for _ in range(MOST_INPUTS):
            if not await crew.look():
                break
    session = h.host.flight.session
    assert session.ended == at_one.scenario.ends
    assert h.all_same()
    assert session.deviations == at_one.flight.session.deviations
    assert compare(at_one.scenario, h.host.flight).exact
    inputs = sum(link.following.count for link in h.guests)
    await h.leave()
    assert list(read_file(str(path)).events) == h.host.events
    measured(f"{name}: {inputs} inputs and {len(h.host.events):,} events over three links")
