"""A flight that is flown elsewhere, with all that a screen reads and sends: what was heard, and what is to be said.

The law: what is shown is what the host has decided, never a guess of this end; only the clock runs on by itself, for a
second at the most. While the link is known to be lost nothing more is taken: keys that are pressed into a dead link
would all be judged at the moment that it is back.
"""

from collections import deque
from collections.abc import Callable

from msgspec import Struct
from msgspec.structs import replace

from flowdeck.aircraft.state import Aeroplane, begin, unpack_plane
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.readings import Readings
from flowdeck.model.seats import Seat
from flowdeck.trial.film import Film
from flowdeck.trial.flight import Flight
from flowdeck.trial.restore import flown_path
from flowdeck.view.vantage import ABSENT, CUT_OFF, JOINED, PLAYED, Vantage
from flowdeck.wire.link import messages as m
from flowdeck.wire.link.bounds import LONGEST_WORDS
from flowdeck.wire.link.following import Following, ask, hear
from flowdeck.wire.link.stations import Station

LOST_S = 1.5
"""Seconds without a word, of which one is due each half second, after which a link counts as lost."""
MOST_AHEAD_S = 1.0
"""How far the clock of a flight runs on by itself after the last word."""
MOST_ARRIVED = 10_000
"""Events that a screen has not asked for yet; older ones are in the flight and pass by unsaid."""
_TREND_MS = 3000


class Elsewhere:
    """*clock* gives seconds of a monotonic clock."""

    def __init__(self, following: Following, clock: Callable[[], float]) -> None:
        self.following = following
        self.clock = clock
        self.greeting = ""
        self.flown: list[tuple[float, float]] = []
        self._arrived: deque[ev.Event] = deque(maxlen=MOST_ARRIVED)
        self._refused: deque[str] = deque(maxlen=20)
        self._heard_at = clock()
        self._moved_at = clock()
        """When the flight's time was heard to go on."""
        self._stand, self._stood = following.stand, 0
        """What is shown, and how many events it rests on."""
        self._past: deque[tuple[int, Readings]] = deque()
        self._plane: tuple[str, Aeroplane] | None = None
        self._script = _Script()

    def hear(self, message: m.FromHost) -> tuple[m.FromGuest, ...]:
        """Take in a message of the host; what is to be answered."""
        known, at = len(self.following.events), self._said_at
        self.following, replies, arrived = hear(self.following, message)
        self._heard_at = self.clock()
        if self.is_whole or len(self.following.events) > self._stood:  # else it is being told again from its start
            self._stand, self._stood = self.following.stand, len(self.following.events)
        if self._said_at != at:
            self._moved_at = self._heard_at
        self._arrived += arrived
        self._refused += self.following.refused
        self.following = replace(self.following, refused=())
        self._script = _moved(self._script, arrived) if len(self.following.events) >= known else _Script()
        if any(isinstance(event, ev.Trace) for event in arrived) or len(self.following.events) < known:
            self._remember(arrived)
        return replies

    def _remember(self, arrived: tuple[ev.Event, ...]) -> None:
        """Readings of some seconds for trends, and the path that was flown."""
        readings = self._stand.readings
        self._past.append((self._stand.session.at, readings))
        while len(self._past) > 1 and self._past[-1][0] - self._past[1][0] >= _TREND_MS:
            self._past.popleft()
        distance, shown = readings.values.get("distance_nm"), readings.values.get("altitude_ft")
        if sum(isinstance(event, ev.Trace) for event in arrived) != 1:
            self.flown = flown_path(self.following.shown)
        elif isinstance(distance, float) and isinstance(shown, float):
            self.flown.append((distance, shown))

    def make(self, made: Callable[[int], m.Asked]) -> m.Asked | None:
        """Ask for something, *made* with its count; None, and words of refusal, where that cannot be."""
        if self.is_lost or self.following.final:
            self._refused.append("not sent: the link is lost")
            return None
        self.following, message = ask(self.following, made)
        if message is None:
            self._refused.append("not sent: too much waits for an answer")
        return message

    def put(self, message: m.Asked) -> None:
        """Send what was asked for; by who has a way to the host."""
        raise NotImplementedError

    def _ask(self, made: Callable[[int], m.Asked]) -> tuple[ev.Event, ...]:
        message = self.make(made)
        if message is None:
            what = type(made(1)).__name__
            return (ev.Refused(at=self.now, what=what, because=self._refused.pop()),)
        self.put(message)
        return ()

    def send(self, input_: inp.Input) -> tuple[ev.Event, ...]:
        """Ask for an input. What follows arrives by `tick`, a refusal by `refusal`; here only what was not sent."""
        return self._ask(lambda count: m.Send(count=count, input=input_))

    def revise(self, report: str) -> tuple[ev.Event, ...]:
        """Ask for another weather report, as by `send`."""
        return self._ask(lambda count: m.Weather(count=count, report=report[:LONGEST_WORDS]))

    def play(self, happening: str) -> tuple[ev.Event, ...]:
        """Ask for a happening of the scenario to take place, as by `send`."""
        return self._ask(lambda count: m.Play(count=count, happening=happening))

    def hold_back(self, happening: str, for_s: float) -> tuple[ev.Event, ...]:
        """Ask for a happening to come *for_s* seconds from now at the earliest, as by `send`."""
        return self._ask(lambda count: m.HoldBack(count=count, happening=happening, s=for_s))

    def keep(self, note: ev.Noted) -> str:
        """Ask for a note to be kept with the flight; says what becomes of it."""
        words = note.words[:LONGEST_WORDS]
        refused = self._ask(lambda count: m.Note(count=count, about=note.about, words=words))
        return "not sent: the link is lost" if refused else "sent to the host"

    def step_on(self) -> tuple[ev.Event, ...]:
        """Nobody steps on for others."""
        return ()

    def refusal(self) -> str:
        """Why something asked for was refused, each once; empty when nothing was."""
        return self._refused.popleft() if self._refused else ""

    def tick(self) -> tuple[ev.Event, ...]:
        """What has arrived since the last tick."""
        arrived = tuple(self._arrived)
        self._arrived.clear()
        return arrived

    @property
    def _said_at(self) -> int:
        """Session time as the host said it last."""
        return max(self.following.at, self._stand.session.at)

    @property
    def now(self) -> int:
        """Session time: as the host said last, and on from there for a second at the most."""
        session = self._stand.session
        if session.paused or session.ended:
            return self._said_at
        ahead_s = min(MOST_AHEAD_S, max(0.0, self.clock() - self._moved_at))
        return self._said_at + round(ahead_s * 1000 * session.pace)

    @property
    def is_whole(self) -> bool:
        """Whether all is known that had happened by the last word of the host."""
        return bool(self.following.events) and len(self.following.events) >= self.following.number

    @property
    def flight(self) -> Flight:
        """The flight as it stands, for looking only; not before `is_whole`. While a host that has gone on from an older
        journal tells it anew, it stands as it was.
        """
        f, stand = self.following, self._stand
        assert f.deck is not None and f.scenario is not None
        if self._plane is None or self._plane[0] != stand.plane:
            self._plane = (stand.plane, _unpacked(stand.plane) or begin(f.scenario))
        return Flight(
            deck=f.deck,
            scenario=f.scenario,
            session=stand.session,
            readings=stand.readings,
            plane=replace(self._plane[1], at=self.now),
            happened=self._script.happened,
            held=self._script.held,
        )

    def before(self) -> Readings:
        """Readings of a few seconds ago, for trends."""
        return self._past[0][1] if self._past else self._stand.readings

    def film(self) -> Film | None:
        """The flight so far, to be looked at again, as far as it may be seen."""
        f = self.following
        return None if f.deck is None or f.scenario is None or not f.shown else Film(f.deck, f.scenario, f.shown)

    @property
    def steps(self) -> bool:
        """Nobody moves the flight on for others."""
        return False

    @property
    def silent_s(self) -> float:
        """Seconds since the host was heard last."""
        return self.clock() - self._heard_at

    @property
    def is_lost(self) -> bool:
        return self.silent_s > LOST_S

    @property
    def trouble(self) -> str:
        """What is wrong with the link, or at the host; empty while all is well."""
        f = self.following
        if f.final:
            return f"closed: {f.closed}"
        if not self.is_lost:
            return f.trouble
        because = f" ({f.closed})" if f.closed else ""
        goes_on = "" if f.closed or self._stand.session.paused or self._stand.session.ended else _GOES_ON
        return f"link lost for {self.silent_s:.0f} s{because}: trying again{goes_on}"

    @property
    def kept(self) -> str:
        """What becomes of the flight when the screen is left."""
        return "The host goes on, and the place is free for another."

    @property
    def vantage(self) -> Vantage:
        """A pilot's own seat; nobody's from where one looks on or instructs."""
        own = self.station.seat
        there = {guest.station.seat: guest.present for guest in self.roster}
        hands: dict[Seat, str] = {}
        for seat in Seat:
            if seat in self.played:
                hands[seat] = PLAYED
            elif seat is not own:
                hands[seat] = ABSENT if seat not in there else JOINED if there[seat] else CUT_OFF
        return Vantage(own=() if own is None else (own,), hands=hands)

    @property
    def station(self) -> Station:
        return self.following.station

    @property
    def roster(self) -> tuple[m.Present, ...]:
        return self.following.roster

    @property
    def played(self) -> tuple[Seat, ...]:
        return self.following.played


class _Script(Struct, frozen=True):
    """Of the scenario's happenings: which have taken place, and until when (ms) others are held back."""

    happened: frozenset[str] = frozenset()
    held: dict[str, int] = {}


def _moved(script: _Script, events: tuple[ev.Event, ...]) -> _Script:
    played = {event.happening for event in events if isinstance(event, ev.ScriptMoved) and event.played}
    held = {event.happening: event.until for event in events if isinstance(event, ev.ScriptHeld)}
    return _Script(script.happened | played, {**script.held, **held}) if played or held else script


_GOES_ON = ", and no key counts: say aloud what you do"


def _unpacked(plane: str) -> Aeroplane | None:
    try:
        return unpack_plane(plane) if plane else None
    except ValueError:
        return None
