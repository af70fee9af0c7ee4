"""A flight as one of its pilots knows it, while the tool plays the other: what is sealed is not there to be shown.

It has what a screen reads of a host, so that the same screen flies both. What the pilot catches comes out at once, and
everything at the end.
"""

from msgspec.structs import replace

from flowdeck.engine import evolve, fold
from flowdeck.live.host import Host
from flowdeck.live.stepping import step_on
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.readings import Readings
from flowdeck.model.seats import Seat
from flowdeck.model.session import Session
from flowdeck.trial.film import Film
from flowdeck.trial.flight import Flight
from flowdeck.view.vantage import PLAYED, Vantage
from flowdeck.wire.seal import Seals, look


class Seated:
    """*host* must keep its events from the start of the flight."""

    def __init__(self, host: Host) -> None:
        self.host = host
        self.clock = host.clock
        self.greeting = host.greeting
        self._seals = Seals()
        self._session = Session()
        self._looked = 0
        self._hidden: set[int] = set()
        self._see()

    @property
    def vantage(self) -> Vantage:
        played = {pilot.seat: PLAYED for pilot in self.host.pilots}
        return Vantage(own=tuple(seat for seat in Seat if seat not in played), hands=played)

    @property
    def flight(self) -> Flight:
        return replace(self.host.flight, session=self._session)

    @property
    def now(self) -> int:
        return self.host.now

    @property
    def trouble(self) -> str:
        return self.host.trouble

    @property
    def flown(self) -> list[tuple[float, float]]:
        return self.host.flown

    @property
    def kept(self) -> str:
        return self.host.kept

    def before(self) -> Readings:
        return self.host.before()

    def tick(self) -> tuple[ev.Event, ...]:
        self.host.tick()
        return self._see()

    def send(self, input_: inp.Input) -> tuple[ev.Event, ...]:
        self.host.send(input_)
        return self._see()

    def revise(self, report: str) -> tuple[ev.Event, ...]:
        """As `Host.revise`. Raises `NotAReport`."""
        self.host.revise(report)
        return self._see()

    def play(self, happening: str) -> tuple[ev.Event, ...]:
        self.host.play(happening)
        return self._see()

    def hold_back(self, happening: str, for_s: float) -> tuple[ev.Event, ...]:
        self.host.hold_back(happening, for_s)
        return self._see()

    def step_on(self) -> tuple[ev.Event, ...]:
        """On to the next event that is known here."""

        def fly() -> tuple[ev.Event, ...]:
            self.host.fly_step()
            return self._see()

        return step_on(self, fly, self.vantage.own)

    def refusal(self) -> str:
        return self.host.refusal()

    @property
    def steps(self) -> bool:
        return True

    def film(self) -> Film | None:
        return self.host.film()

    def keep(self, note: ev.Noted) -> str:
        kept = self.host.keep(note)
        self._see()
        return kept

    def _see(self) -> tuple[ev.Event, ...]:
        """Take in what has happened since; what is shown of it, and what of earlier things comes out."""
        seen: list[ev.Event] = []
        events = self.host.events
        for number in range(self._looked, len(events)):
            self._seals, shown, revealed = look(self.host.flight.deck, self._seals, number, events[number])
            if not shown:
                self._hidden.add(number)
                continue
            if revealed:
                self._hidden.difference_update(revealed)
                known = (event for at, event in enumerate(events[: number + 1]) if at not in self._hidden)
                self._session = fold(Session(), known)
                seen += (events[at] for at in revealed)
            else:
                self._session = evolve(self._session, events[number])
            seen.append(events[number])
        self._looked = len(events)
        return tuple(seen)
