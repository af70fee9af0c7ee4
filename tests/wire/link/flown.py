"""A flight of the small deck as a host keeps it: a value of events that grow, and inputs taken from guests."""

from msgspec.structs import replace

from flowdeck.engine import fold
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.seats import Seat
from flowdeck.trial.flight import Flight, advance, send, take_off
from tests.support.small import SCENARIO, small_deck, small_scenario

FLIGHT = "small-flight"


class Kept:
    """*events*: all of it, from its start."""

    def __init__(self, sealed: tuple[Seat, ...] = ()) -> None:
        deck = small_deck()
        self.flight: Flight
        self.flight, begun = take_off(deck, small_scenario(deck, SCENARIO), solo=False, sealed=sealed)
        self.events: list[ev.Event] = list(begun)

    def fly(self, ms: int) -> None:
        end = self.flight.now + ms
        while self.flight.now < end:
            self.flight, events = advance(self.flight, min(end, self.flight.now + 500))
            self.events += events
            if self.flight.session.ended or self.flight.session.paused:
                return

    def take(self, guest: str, count: int, input_: inp.Input) -> str:
        """Why it was refused, if it was."""
        taken = ev.InputTaken(at=self.flight.now, guest=guest, count=count)
        self.add(taken)
        self.flight, events = send(self.flight, replace(input_, at=self.flight.now))
        self.events += events
        return next((event.because for event in events if isinstance(event, ev.Refused)), "")

    def add(self, event: ev.Event) -> None:
        self.flight = replace(self.flight, session=fold(self.flight.session, (event,)))
        self.events.append(event)

    def end(self) -> None:
        if not self.flight.session.ended:
            self.add(ev.FlightEnded(at=self.flight.session.at, end="parked"))
