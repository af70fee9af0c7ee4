"""The flight screen of one seat, with the tool in the other one."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

from msgspec.structs import replace

from flowdeck.crew.pilot import Pilot
from flowdeck.engine import fold
from flowdeck.live.host import Host
from flowdeck.live.seated import Seated
from flowdeck.model import events as ev
from flowdeck.model.seats import Seat
from flowdeck.trial.company import join
from flowdeck.trial.flight import Flight, take_off
from flowdeck.trial.presets import with_presets
from flowdeck.tui.app import FlowdeckApp
from tests.support.cockpit import Cockpit, TestClock, bundled
from tests.support.pilot import rest


class OneSeat(Cockpit):
    """An open screen; *host* knows all, the screen what the pilot may know."""

    host: Host

    @property
    def whole(self) -> Flight:
        return self.host.flight

    def end(self, end: str) -> None:
        """The flight is over, as it would be by the deck."""
        over = ev.FlightEnded(at=self.whole.session.at, end=end)
        self.host.events.append(over)
        self.host.flight = replace(self.whole, session=fold(self.whole.session, (over,)))

    async def wait(self, seconds: float) -> "OneSeat":
        """Let flight time pass, a frame of the screen each half second."""
        for _ in range(round(seconds * 2)):
            self.clock.now += 0.5
            self.app.flight.frame()
        await rest(self.pilot)
        return self


def host_with(pilot: Pilot, scenario: str, clock: TestClock) -> Host:
    """The host of a flight from its start, without a journal, in which *pilot* is played."""
    deck, loaded = bundled(scenario)
    flight, begun = take_off(deck, with_presets(deck, loaded), solo=False, sealed=(pilot.seat,))
    flight, joined = join(flight, (pilot,))
    return Host(flight, None, clock, past=(*begun, *joined), pilots=(pilot,))


@asynccontextmanager
async def one_seat(pilot: Pilot, scenario: str = "clean", size: tuple[int, int] = (100, 30)) -> AsyncIterator[OneSeat]:
    """A flight from its start, in which *pilot* is played."""
    clock = TestClock()
    host = host_with(pilot, scenario, clock)
    app = FlowdeckApp(Seated(host))
    async with app.run_test(size=size) as running:
        await rest(running)
        seat = OneSeat(app, running, clock)
        seat.host = host
        yield seat


def beside(seat: Seat, seed: int = 1) -> Pilot:
    """The played pilot beside a person in *seat*."""
    return Pilot(seat=seat.other, seed=seed)
