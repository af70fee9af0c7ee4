"""A host and its guests in one event loop, over real sockets, with a clock that only the test moves.

`async with hosted(path) as h: captain = await h.guest(Station.CAPTAIN)`. Nothing sleeps: the test lets time pass by
`h.fly`, and waits for what must follow.
"""

import asyncio
import contextlib
import ssl
from collections.abc import AsyncIterator, Callable
from pathlib import Path

from flowdeck.live.host import STEP_MS, Host
from flowdeck.live.journal import Journal
from flowdeck.live.net.door import bind
from flowdeck.live.net.link import GuestLink
from flowdeck.live.net.server import Server
from flowdeck.model import inputs as inp
from flowdeck.model.deck import Deck
from flowdeck.model.scenario import Scenario
from flowdeck.model.seats import Seat
from flowdeck.model.session import same
from flowdeck.trial.flight import take_off
from flowdeck.trial.restore import interrupted, restore
from flowdeck.wire.link.stations import Station
from tests.support.cockpit import TestClock
from tests.support.small import small_deck, small_scenario

CODE = "ACDEF-GHJKM"
LIMIT_S = 60.0
"""After which a test that waits in vain fails."""


class Hosted:
    """A host that serves, and the guests of the test."""

    def __init__(self, host: Host, clock: TestClock, *, played: tuple[Seat, ...] = ()) -> None:
        self.clock = clock
        self.said: list[str] = []
        self.server = Server(host, code=CODE, flight="tested", played=played, say=self.said.append)
        self.port = 0
        self.guests: list[GuestLink] = []
        self.strangers: list[asyncio.Transport] = []
        """Lines of a test's own making, cut at its end."""
        self._tasks: list[asyncio.Task[None]] = []

    @property
    def host(self) -> Host:
        return self.server.host

    async def serve(self, address: str = "127.0.0.1", port: int = 0, tls: ssl.SSLContext | None = None) -> None:
        door = bind(address, port)
        self.port = door.getsockname()[1]
        await self.server.start(door, tls)

    def link(
        self,
        station: Station,
        *,
        code: str = CODE,
        port: int = 0,
        address: str = "127.0.0.1",
        tls: ssl.SSLContext | None = None,
    ) -> GuestLink:
        """A guest's link that runs; it may still be turned away."""
        link = GuestLink(
            address,
            port or self.port,
            code=code,
            station=station,
            tls=tls,
            clock=self.clock,
            given_up_s=LIMIT_S,
        )
        self._tasks.append(asyncio.create_task(link.run()))
        self.guests.append(link)
        return link

    async def guest(self, station: Station, *, port: int = 0) -> GuestLink:
        """A guest that has joined and knows the flight."""
        link = self.link(station, port=port)
        async with asyncio.timeout(LIMIT_S):
            assert await link.ready(), link.following.closed
        return link

    async def fly(self, seconds: float) -> None:
        """Let time pass in steps of half a second, a beat in each, and all guests follow."""
        for _ in range(round(seconds * 2)):
            self.clock.now += 0.5
            self.server.turn()
            await asyncio.sleep(0)  # the sockets have their turn
        await self.followed()

    async def followed(self) -> None:
        """Wait until every guest knows all, has its answers, and has heard the host at this moment."""
        for link in self.guests:
            await self.until(link, lambda link=link: self._knows_all(link))

    def _knows_all(self, link: GuestLink) -> bool:
        knows = len(link.following.events) == len(self.host.events)
        return knows and not link.following.pending and not link.is_lost

    async def until(self, link: GuestLink, reached: Callable[[], bool]) -> None:
        try:
            async with asyncio.timeout(LIMIT_S):
                await link.until(lambda: link.over or reached())
        except TimeoutError:
            raise AssertionError(f"{link.station} waits in vain: {link.following.closed or link.unreached}") from None

    async def ask(self, link: GuestLink, input_: inp.Input) -> str:
        """Send an input and wait for its answer; why it was refused."""
        link.send(input_)
        await self.until(link, lambda: not link.following.pending)
        return link.refusal()

    def all_same(self) -> bool:
        """Whether every guest's session is that of the host."""
        return all(same(link.following.stand.session, self.host.flight.session) for link in self.guests)

    async def leave(self) -> None:
        """Guests and host go; a fault of the host fails the test."""
        for line in self.strangers:
            line.abort()
        for link in self.guests:
            await link.close()
        for task in self._tasks:
            task.cancel()
        await asyncio.gather(*self._tasks, return_exceptions=True)
        await self.server.close("the test is over", final=True)
        self.host.close()
        assert not self.server.faults, self.server.faults


def new_host(journal: Path | None, clock: TestClock, *, sealed: tuple[Seat, ...] = ()) -> Host:
    """A host of the small deck."""
    deck = small_deck()
    return host_of(deck, small_scenario(deck), journal, clock, solo=False, sealed=sealed)


def host_of(
    deck: Deck,
    scenario: Scenario,
    path: Path | None,
    clock: TestClock,
    *,
    solo: bool,
    sealed: tuple[Seat, ...] = (),
    step_ms: int = STEP_MS,
) -> Host:
    flight, events = take_off(deck, scenario, solo=solo, sealed=sealed)
    journal = None
    if path is not None:
        journal = Journal.create(str(path), deck, scenario, solo=solo)
        journal.append(events, sure=True)
    return Host(flight, journal, clock, step_ms, past=events)


def resumed_host(path: Path, clock: TestClock) -> Host:
    """The host of a journal that was closed, or whose process was killed."""
    journal, opened = Journal.resume(str(path))
    flight, events = interrupted(restore(opened.deck, opened.scenario, opened.events))
    journal.append(events, sure=True)
    return Host(flight, journal, clock, past=(*opened.events, *events))


@contextlib.asynccontextmanager
async def hosted(journal: Path | None = None, *, sealed: tuple[Seat, ...] = ()) -> AsyncIterator[Hosted]:
    clock = TestClock()
    here = Hosted(new_host(journal, clock, sealed=sealed), clock)
    await here.serve()
    try:
        yield here
    finally:
        await here.leave()
