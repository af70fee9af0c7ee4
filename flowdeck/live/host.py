"""The host of a flight: turns the clock and keys into time and inputs, and journals what follows.

A pilot's action is on disk before the caller learns of it. Time runs at the flight's pace; the pace
falls to x1 by itself before a call, a gate or a checklist.
"""

from collections.abc import Callable, Iterable

from msgspec.structs import replace

from flowdeck.crew.pilot import Pilot
from flowdeck.engine import fold
from flowdeck.live.journal import Journal
from flowdeck.live.stepping import step_on
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.deck import PLACEHOLDER, ItemKind
from flowdeck.model.readings import Readings
from flowdeck.model.seats import Seat
from flowdeck.trial.company import accompany, remembered
from flowdeck.trial.film import Film
from flowdeck.trial.flight import Flight, advance, by_hand, hold_back, new_weather, send
from flowdeck.view.vantage import BOTH_SEATS, Vantage

STEP_MS = 250
PLAYED_STEP_MS = 100
"""The same with a played pilot: always this, so that what it does hangs on its seed and not on the wall clock."""
LONGEST_GAP_MS = 2000
"""Wall time that one tick may cover: a suspended terminal does not fly on unseen."""
PACES = (1.0, 2.0, 4.0, 8.0, 16.0)
_SYNC_MS = 2000
_TREND_MS = 3000


class Host:
    """One flight, driven by `tick` and `send`.

    *clock* gives seconds of a monotonic clock; *step_ms*: flight time between two samples at the most. *past*: the
    events of the flight so far, from its start; without them it cannot be looked at again. *pilots*: those whom the
    tool plays.
    """

    def __init__(
        self,
        flight: Flight,
        journal: Journal | None,
        clock: Callable[[], float],
        step_ms: int = STEP_MS,
        past: Iterable[ev.Event] = (),
        pilots: tuple[Pilot, ...] = (),
    ) -> None:
        self.flight = flight
        self.journal = journal
        self.clock = clock
        self.events: list[ev.Event] = list(past)
        self.pilots = pilots
        self._memories = {pilot.seat: remembered(self.events, pilot, flight.scenario) for pilot in pilots}
        self._step_ms = PLAYED_STEP_MS if pilots else step_ms
        self._left = 0.0
        self._last = clock()
        self._synced_at = self._last
        self._probed_at = 0
        self._past: list[tuple[int, Readings]] = [(flight.now, flight.readings)]
        self.flown: list[tuple[float, float]] = []
        self.greeting = ""
        """What the crew should know as they take their seats, such as what was lost of a journal."""

    @property
    def now(self) -> int:
        return self.flight.now

    @property
    def trouble(self) -> str:
        """Why nothing is being saved, empty while all is well."""
        return self.journal.trouble if self.journal is not None else ""

    @property
    def vantage(self) -> Vantage:
        """One person in both seats."""
        return BOTH_SEATS

    @property
    def kept(self) -> str:
        """What becomes of the flight when it is left."""
        if self.trouble:
            return f"{self.trouble[0].upper()}{self.trouble[1:]}."
        return "The journal keeps it." if self.journal is not None else "Nothing of it is kept."

    def tick(self) -> tuple[ev.Event, ...]:
        """Fly on by the wall time since the last tick, at the present pace."""
        wall = self.clock()
        passed = min(LONGEST_GAP_MS, (wall - self._last) * 1000)
        self._last = wall
        session = self.flight.session
        if session.paused or session.ended or passed <= 0:
            return ()
        if not self.pilots:
            return self.fly_on(round(passed * session.pace))
        self._left += passed * session.pace
        ms = int(self._left // PLAYED_STEP_MS) * PLAYED_STEP_MS
        self._left -= ms
        return self.fly_on(ms)

    def fly_on(self, ms: int) -> tuple[ev.Event, ...]:
        """Fly on by *ms* of session time."""
        events: list[ev.Event] = []
        end = self.flight.now + ms
        while self.flight.now < end and not self.flight.session.ended:
            calm = self._calm()
            if calm is not None:
                events.append(calm)
                end = min(end, self.flight.now + self._step_ms)
            pace = self.flight.session.pace
            events += self._fly_to(min(end, self.flight.now + self._step_ms))
            if self.flight.session.pace < pace:  # what was just asked is not answered by time that was to be fast
                end = self.flight.now
        self._remember()
        self._save(events, sure=False)
        return tuple(events)

    def send(self, input_: inp.Input, taken: ev.InputTaken | None = None) -> tuple[ev.Event, ...]:
        """Take an input; when this returns it is on disk. *taken*: the guest it came from, written together with it."""
        return self._follow(taken, lambda flight: send(flight, input_))

    def revise(self, report: str, taken: ev.InputTaken | None = None) -> tuple[ev.Event, ...]:
        """Another weather report for the arrival, as by `send`. Raises `NotAReport`; nothing is written then."""
        return self._follow(taken, lambda flight: new_weather(flight, report))

    def play(self, happening: str, taken: ev.InputTaken | None = None) -> tuple[ev.Event, ...]:
        """A happening of the scenario takes place now, by an instructor's hand; on disk when this returns."""
        return self._follow(taken, lambda flight: by_hand(flight, happening))

    def hold_back(self, happening: str, for_s: float, taken: ev.InputTaken | None = None) -> tuple[ev.Event, ...]:
        """What would come by itself comes *for_s* seconds from now at the earliest."""
        return self._follow(taken, lambda flight: hold_back(flight, happening, for_s))

    def _follow(
        self, taken: ev.InputTaken | None, step: Callable[[Flight], tuple[Flight, tuple[ev.Event, ...]]]
    ) -> tuple[ev.Event, ...]:
        before: tuple[ev.Event, ...] = () if taken is None else (taken,)
        flight, events = step(replace(self.flight, session=fold(self.flight.session, before)))
        self.flight = flight
        self._save((*before, *events), sure=True)
        return (*before, *events)

    def step_on(self) -> tuple[ev.Event, ...]:
        """Fly on to the next event, see `stepping`."""
        return step_on(self, self.fly_step, tuple(Seat))

    def fly_step(self) -> tuple[ev.Event, ...]:
        """One step of flight time, at whatever pace."""
        events = self._fly_to(self.flight.now + self._step_ms)
        self._remember()
        self._save(events, sure=False)
        return events

    def _fly_to(self, at: int) -> tuple[ev.Event, ...]:
        """Fly on to *at* (ms), and let the played pilots act there."""
        self.flight, flown = advance(self.flight, at)
        return (*flown, *self._accompany())

    def _accompany(self) -> tuple[ev.Event, ...]:
        """What the played pilots do now."""
        events: list[ev.Event] = []
        for pilot in self.pilots:
            self.flight, more, self._memories[pilot.seat] = accompany(self.flight, pilot, self._memories[pilot.seat])
            events += more
        if self.flight.session.pace > 1 and any(isinstance(event, ev.Challenged) for event in events):
            calmed = ev.PaceSet(at=self.flight.session.at, pace=1.0, because="the other pilot asks something")
            self.flight = replace(self.flight, session=fold(self.flight.session, (calmed,)))
            events.append(calmed)
        return tuple(events)

    def before(self) -> Readings:
        """Readings of a few seconds ago, for trends."""
        return self._past[0][1]

    def close(self) -> None:
        if self.journal is not None:
            self.journal.close()

    def _remember(self) -> None:
        now = self.flight.now
        self._past.append((now, self.flight.readings))
        while len(self._past) > 1 and now - self._past[1][0] >= _TREND_MS:
            self._past.pop(0)
        distance, shown = (self.flight.readings.values.get(name) for name in ("distance_nm", "altitude_ft"))
        if not isinstance(distance, float) or not isinstance(shown, float):
            return  # nothing is shown, and what is not shown is not drawn
        if not self.flown or abs(self.flown[-1][0] - distance) > 0.1:
            self.flown.append((distance, shown))

    def refusal(self) -> str:
        """Nothing is refused later than at once."""
        return ""

    @property
    def steps(self) -> bool:
        return True

    def film(self) -> Film | None:
        """The flight so far, to be looked at again; None when it was not kept from its start."""
        began = bool(self.events) and isinstance(self.events[0], ev.FlightStarted)
        return Film(self.flight.deck, self.flight.scenario, tuple(self.events)) if began else None

    def keep(self, note: ev.Noted, taken: ev.InputTaken | None = None) -> str:
        """Keep an instructor's note with the flight; says what became of it."""
        self._follow(taken, lambda flight: (replace(flight, session=fold(flight.session, (note,))), (note,)))
        if self.journal is None:
            return "noted, and not kept: this flight has no journal"
        return self.journal.trouble or "noted"

    def _save(self, events: list[ev.Event] | tuple[ev.Event, ...], *, sure: bool) -> None:
        if self.events:
            self.events += events
        if self.journal is None:
            return
        self.journal.append(events, sure=sure)
        if sure:
            self._synced_at = self._last
        elif (self._last - self._synced_at) * 1000 >= _SYNC_MS:
            self.journal.commit()
            self._synced_at = self._last

    def _calm(self) -> ev.Event | None:
        """Back to x1 when a call, a gate or a checklist comes within the policy's seconds."""
        session, deck = self.flight.session, self.flight.deck
        ahead = round(deck.policy.calm_before_s * 1000)
        if session.pace <= 1 or ahead <= 0 or self.flight.now - self._probed_at < 1000:
            return None
        self._probed_at = self.flight.now
        _, events = advance(self.flight, self.flight.now + ahead)
        because = next((text for event in events if (text := _stirs(self.flight, event))), "")
        if not because:
            return None
        calmed = ev.PaceSet(at=self.flight.session.at, pace=1.0, because=because)
        self.flight = replace(self.flight, session=fold(session, (calmed,)))
        return calmed


def why_refused(events: Iterable[ev.Event]) -> str:
    """What was refused by *events*, in words; empty when nothing was."""
    return next((event.because for event in events if isinstance(event, ev.Refused)), "")


def _stirs(flight: Flight, event: ev.Event) -> str:
    """What of an event the crew should meet at x1, in words; empty for nothing."""
    match event:
        case ev.ItemOpened():
            item = flight.deck.items[event.item]
            return f"call: {PLACEHOLDER.sub('...', item.do)}" if item.kind is ItemKind.CALL else ""
        case ev.GatePassed() | ev.GateFailed():
            return f"gate: {flight.deck.gates[event.gate].title}"
        case ev.ListOpened():
            return flight.deck.checklists[event.checklist].title
        case _:
            return ""
