"""Two pilots and an instructor over lines that lose, double, reorder and break: nothing is lost, nothing counts twice.

The lines are queues of bytes; chance draws what becomes of them. A line that breaks loses what is on it, both ways.
"""

from collections import Counter
from random import Random

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from flowdeck.engine.owed import owed, to_input
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.seats import Seat
from flowdeck.model.session import same
from flowdeck.wire import codec
from flowdeck.wire.link import messages as m
from flowdeck.wire.link.following import Following, ask, hear, joining
from flowdeck.wire.link.hosting import Hosting, admit, again, answered, batch, beat, learn, lose, weigh
from flowdeck.wire.link.marks import known_as
from flowdeck.wire.link.stations import Station, may_send
from tests.wire.link.flown import FLIGHT, Kept

CUTS = 5
"""In each flight; 50 flights are flown."""


class Line:
    """One guest and its line. *up*: bytes on their way to the host, *down*: to the guest."""

    def __init__(self, guest: str, station: Station) -> None:
        self.following = Following(guest=guest, code="", station=station)
        self.name = known_as(guest)
        self.joined = False
        self.up: list[bytes] = []
        self.down: list[bytes] = []

    def say(self, *messages: m.FromGuest) -> None:
        if self.joined:
            self.up += [m.encode(message) for message in messages]

    def hear(self, raw: bytes) -> None:
        self.following, replies, _ = hear(self.following, m.from_host(raw))
        assert not self.following.final, self.following.closed
        self.say(*replies)

    def cut(self) -> None:
        self.joined = False
        self.up, self.down = [], []


class World:
    """A host and its guests."""

    def __init__(self, chance: Random, sealed: tuple[Seat, ...]) -> None:
        self.chance = chance
        self.kept = Kept(sealed)
        flight = self.kept.flight
        self.packed = (codec.pack_deck(flight.deck), codec.pack_scenario(flight.scenario))
        self.hosting = Hosting(deck=flight.deck)
        self.learn()
        stations = (Station.CAPTAIN, Station.FIRST_OFFICER, Station.INSTRUCTOR)
        self.lines = [Line(f"{number:016x}", station) for number, station in enumerate(stations)]
        self.asked: Counter[str] = Counter()
        self.refused: Counter[str] = Counter()
        self.sealed = False

    def learn(self) -> None:
        self.hosting = learn(self.hosting, self.kept.events[self.hosting.number :])

    def join(self, line: Line) -> None:
        said = m.from_guest(m.encode(joining(line.following)))
        assert isinstance(said, m.Join)
        self.hosting, refused, after, _ = admit(self.hosting, said, self.kept.events, FLIGHT, 0)
        assert not refused
        line.joined = True
        welcome = m.Welcome(
            version=m.VERSION,
            disclaimer="",
            flight=FLIGHT,
            deck=self.packed[0],
            scenario=self.packed[1],
            station=said.station,
            beat_ms=500,
            after=after,
            number=len(self.kept.events),
        )
        line.hear(m.encode(welcome))

    def cut(self, line: Line) -> None:
        line.cut()
        self.hosting = lose(self.hosting, line.name, 0)

    def restart(self) -> None:
        """The host again, from its events alone."""
        for line in self.lines:
            self.cut(line)
        self.hosting = Hosting(deck=self.kept.flight.deck)
        self.learn()

    def act(self, line: Line) -> None:
        """The guest asks for something: mostly what it owes, now and then what it may not."""
        f = line.following
        seat = line.following.station.seat
        if f.deck is None or not f.events:
            return  # it has not heard of the start yet
        mine = [duty for duty in owed(f.deck, f.stand.session) if duty.seat is seat]
        choices: list[inp.Input] = [to_input(duty, 0) for duty in mine]
        choices += [inp.SetPace(at=0, pace=2), inp.Tick(at=0)]
        if seat is not None:
            choices += [inp.Challenge(at=0, seat=seat, about=ref) for ref in ("speed", "aids")]
        input_ = self.chance.choice(choices)
        line.following, asked = ask(f, lambda count: m.Send(count=count, input=input_))
        if asked is not None:
            self.asked[line.name] += 1
            line.say(asked)

    def take(self, line: Line, raw: bytes) -> None:
        message = m.from_guest(raw)
        if isinstance(message, m.Again):
            self.hosting = again(self.hosting, line.name, message.after)
            return
        assert isinstance(message, m.Send)
        refused = ""
        match weigh(self.hosting, line.name, message.count):
            case "gap":
                self.cut(line)
                return
            case "old":
                refused = self.hosting.guests[line.name].refusals.get(message.count, "")
            case "new":
                refused = may_send(line.following.station, message.input, self.hosting.has_instructor)
                if refused:
                    self.refused[line.name] += 1
                else:
                    refused = self.kept.take(line.name, message.count, message.input)
                self.learn()
                self.hosting = answered(self.hosting, line.name, message.count, refused)
        self.hand_out()
        line.down.append(m.encode(m.Taken(count=message.count, refused=refused)))

    def hand_out(self, *, beats: bool = False) -> None:
        for line in self.lines:
            while line.joined:
                self.hosting, message = batch(self.hosting, line.name, self.kept.events)
                if message is None:
                    break
                self.sealed |= isinstance(message, m.Revealed)
                line.down.append(m.encode(message))
            if line.joined and beats:
                line.down.append(m.encode(beat(self.hosting, line.name, self.kept.flight.now, "")))

    def deliver(self, line: Line, *, badly: bool) -> None:
        """One message each way; *badly*: another than the first, twice, or never."""
        for queue, receive in ((line.down, line.hear), (line.up, lambda raw: self.take(line, raw))):
            if not queue or not line.joined:
                continue
            raw = queue.pop(self.chance.randrange(min(3, len(queue))) if badly else 0)
            for _ in range(self.chance.choice((0, 1, 1, 1, 2)) if badly else 1):
                if line.joined:
                    receive(raw)

    def settle(self) -> None:
        """Lines that hold, until all is said. What was asked for on a line that lost it is said when it has broken."""
        for line in self.lines:
            if line.following.pending:
                self.cut(line)
        for _ in range(4):
            for line in self.lines:
                if not line.joined:
                    self.join(line)
            self.learn()
            self.hand_out(beats=True)
            while any(line.joined and (line.up or line.down) for line in self.lines):
                for line in self.lines:
                    self.deliver(line, badly=False)


def flown(seed: int, sealed: tuple[Seat, ...], restarts: int, steps: int = 80) -> World:
    """A flight in which chance of *seed* lets lines break *CUTS* times, and the host *restarts* times."""
    chance = Random(seed)
    world = World(chance, sealed)
    for line in world.lines:
        world.join(line)
    breaks = ["cut"] * CUTS + ["restart"] * restarts
    plan = dict(zip(chance.sample(range(steps), len(breaks)), breaks, strict=True))
    for step in range(steps):
        line = chance.choice(world.lines)
        if not line.joined:
            world.join(line)
        if plan.get(step) == "restart":
            world.restart()
            continue
        if plan.get(step) == "cut":
            world.act(line)  # something is on its way
            world.cut(line)
            continue
        world.kept.fly(chance.randrange(4000))
        world.learn()
        world.hand_out(beats=chance.random() < 0.3)
        if chance.random() < 0.5:
            world.act(line)
        for _ in range(chance.randrange(4)):
            world.deliver(line, badly=True)
    return world


@settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    st.integers(0, 2**32),
    st.sampled_from([(), (Seat.CAPTAIN,), (Seat.FIRST_OFFICER,)]),
    st.integers(0, 2),
)
def test_nothing_is_lost_or_doubled(seed: int, sealed: tuple[Seat, ...], restarts: int) -> None:
    world = flown(seed, sealed, restarts)
    world.settle()
    world.kept.end()
    world.settle()
    counts = Counter(event.guest for event in world.kept.events if isinstance(event, ev.InputTaken))
    for line in world.lines:
        assert not line.following.pending
        assert list(line.following.events) == world.kept.events
        assert same(line.following.stand.session, world.kept.flight.session)
        taken = [e.count for e in world.kept.events if isinstance(e, ev.InputTaken) and e.guest == line.name]
        assert taken == sorted(set(taken))
        assert counts[line.name] + world.refused[line.name] >= world.asked[line.name] == line.following.count
        assert counts[line.name] <= world.asked[line.name]


def test_before_the_end_a_crew_has_gaps_and_the_instructor_has_none() -> None:
    """What the lines of the property above carry: things sealed, and things revealed on the way."""
    world = flown(seed=5, sealed=(Seat.CAPTAIN,), restarts=0)
    world.settle()
    captain, first_officer, instructor = (line.following for line in world.lines)
    assert world.sealed
    assert captain.events.count(None) == first_officer.events.count(None) > 0
    assert instructor.events.count(None) == 0
    assert same(instructor.stand.session, world.kept.flight.session)
