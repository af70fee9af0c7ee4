"""A flight on the bench: a test says what the signals read and what the pilots do, and looks at what follows."""

from typing import TypeVar

from flowdeck.engine import decide, fold, start
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.condition import Scalar
from flowdeck.model.deck import Deck
from flowdeck.model.deviation import Deviation, Slip
from flowdeck.model.readings import Readings
from flowdeck.model.seats import Seat
from flowdeck.model.session import Session

E = TypeVar("E")
CPT, FO = Seat.CAPTAIN, Seat.FIRST_OFFICER

QUIET: dict[str, Scalar | None] = {
    "altitude_ft": 5000.0,
    "height_aal_ft": 4570.0,
    "ias_kt": 200.0,
    "vertical_speed_fpm": 0.0,
    "selected_altitude_ft": 5000.0,
    "selected_speed_kt": 200.0,
    "distance_nm": 20.0,
    "gear": "up",
    "flap_deg": 11.0,
    "tat_c": 15.0,
    "in_cloud": False,
    "engine_anti_ice": "off",
    "reverse": "stowed",
    "on_ground": False,
    "parking_brake": "off",
    "fuel_lever_1": "run",
    "apu_power": False,
    "ground_power": False,
    "pressure_left_hpa": 1009.0,
}


class BenchFlight:
    """`at` seconds, `reads` signals, `does` inputs. Signals are heard again at every step, unless silenced."""

    def __init__(self, deck: Deck, *, solo: bool = False, **signals: Scalar | None) -> None:
        self.deck = deck
        self.values = {**QUIET, **signals}
        self.silent: set[str] = set()
        self.now = 0
        self.readings = Readings().heard(self.values, 0)
        self.session, events = start(deck, self.readings, flying=CPT, solo=solo)
        self.events: list[ev.Event] = list(events)

    def _hear(self) -> None:
        heard = {name: value for name, value in self.values.items() if name not in self.silent}
        self.readings = self.readings.heard(heard, self.now)

    def send(self, input_: inp.Input) -> tuple[ev.Event, ...]:
        self._hear()
        events = decide(self.deck, self.session, self.readings, input_)
        self.session = fold(self.session, events)
        self.events += events
        return events

    def wait(self, seconds: float) -> "BenchFlight":
        """Let time pass, a sample each half second."""
        end = self.now + round(seconds * 1000)
        while self.now < end:
            self.now = min(end, self.now + 500)
            self.send(inp.Sample(at=self.now))
        return self

    def reads(self, **signals: Scalar | None) -> "BenchFlight":
        self.values.update(signals)
        self.now += 500
        self.send(inp.Sample(at=self.now))
        return self

    def does(self, seat: Seat, item: str, value: Scalar | None = None, **shows: Scalar) -> "BenchFlight":
        """Act on an item; *shows*: what the aircraft shows of it a second later."""
        self.send(inp.Act(at=self.now, seat=seat, item=item, value=value))
        self.now += 1000
        self.values.update(shows)
        self.send(inp.Sample(at=self.now))
        return self

    def points(self, seat: Seat, item: str) -> "BenchFlight":
        self.send(inp.Point(at=self.now, seat=seat, item=item))
        return self

    def calls(self, seat: Seat, checklist: str) -> "BenchFlight":
        self.send(inp.CallList(at=self.now, seat=seat, checklist=checklist))
        self.now += 1000
        return self

    def asks(self, seat: Seat, checklist: str, after_s: float = 1.5) -> "BenchFlight":
        """Read the next line; then *after_s* passes."""
        self.send(inp.ReadLine(at=self.now, seat=seat, checklist=checklist))
        return self.wait(after_s)

    def says(self, seat: Seat, line: str, value: Scalar | None = None, after_s: float = 1.0) -> "BenchFlight":
        self.send(inp.Answer(at=self.now, seat=seat, line=line, value=value))
        return self.wait(after_s)

    def completes(self, seat: Seat, checklist: str) -> "BenchFlight":
        self.send(inp.CompleteList(at=self.now, seat=seat, checklist=checklist))
        return self

    def tells(self, fact: str, value: bool = True, seat: Seat | None = None) -> "BenchFlight":
        self.send(inp.Tell(at=self.now, fact=fact, value=value, seat=seat))
        return self

    def raised(self, slip: Slip | None = None) -> list[Deviation]:
        """Deviations, all or of one class."""
        return [d for d in self.session.deviations if slip is None or d.slip is slip]

    def slips(self) -> list[tuple[str, str]]:
        """(class, item) of all deviations, in order."""
        return [(str(d.slip), d.item) for d in self.session.deviations]

    def of(self, kind: type[E]) -> list[E]:
        """The events of one class so far."""
        return [event for event in self.events if isinstance(event, kind)]


def replayed(events: list[ev.Event]) -> Session:
    return fold(Session(), events)
