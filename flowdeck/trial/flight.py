"""A flight as a value: deck, scenario, session, readings and aeroplane, and how time and inputs move it on.

The screen and the rehearsal step the same value; the one with a clock, the other as fast as it can.
"""

from functools import lru_cache

from msgspec import Struct
from msgspec.structs import replace

from flowdeck.aircraft.controls import command, take_back, travel_on
from flowdeck.aircraft.motion import move
from flowdeck.aircraft.readings import show
from flowdeck.aircraft.state import Aeroplane, begin, expired, pack_plane, with_around, with_faults
from flowdeck.aircraft.watch import arrival_in_force
from flowdeck.arrival.metar import decode
from flowdeck.conditions import Truths, changed_at, compile_truths
from flowdeck.engine import decide, fold, start
from flowdeck.engine.program import program
from flowdeck.engine.words import signals_of
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.condition import Scalar, Truth
from flowdeck.model.deck import Deck
from flowdeck.model.readings import Readings
from flowdeck.model.scenario import Happening, Scenario
from flowdeck.model.seats import Seat
from flowdeck.model.session import Session
from flowdeck.trial.revise import reported, revision, weighed

TRACE_MS = 1000
TRACE_FT = 100.0
CHECK_MS = 5000


class Flight(Struct, frozen=True, kw_only=True, eq=False):
    """One flight at one moment. *fired*: happenings by the time (ms) at which their condition came true.

    *happened*: those that have taken place; *held*: those that an instructor holds back, and until when (ms).

    *recorded*: traces and checkpoints are made, from which a journal is read back.
    """

    deck: Deck
    scenario: Scenario
    session: Session
    readings: Readings
    plane: Aeroplane
    truths: tuple[Truth, ...] = ()
    truth_at: tuple[int, ...] = ()
    fired: dict[str, int] = {}
    happened: frozenset[str] = frozenset()
    held: dict[str, int] = {}
    traced: dict[str, Scalar | None] = {}
    traced_at: int = -TRACE_MS
    checked_at: int = -CHECK_MS
    recorded: bool = True

    @property
    def now(self) -> int:
        return self.plane.at


@lru_cache(maxsize=8)
def _script(scenario: Scenario, deck: Deck) -> Truths:
    return compile_truths(scenario.conditions)


def take_off(
    deck: Deck, scenario: Scenario, *, solo: bool | None = None, sealed: tuple[Seat, ...] = ()
) -> tuple[Flight, tuple[ev.Event, ...]]:
    """Begin a flight of *scenario*; its first events. *sealed* as in `ev.FlightStarted`."""
    plane = begin(scenario)
    readings = Readings().heard(show(plane, scenario), 0)
    is_solo = scenario.solo if solo is None else solo
    session, events = start(deck, readings, flying=scenario.flying, solo=is_solo, facts=scenario.facts, sealed=sealed)
    rows = len(scenario.conditions)
    flight = Flight(
        deck=deck,
        scenario=scenario,
        session=session,
        readings=readings,
        plane=plane,
        truths=(None,) * rows,
        truth_at=(0,) * rows,
    )
    return flight, events


def send(flight: Flight, input_: inp.Input) -> tuple[Flight, tuple[ev.Event, ...]]:
    """The flight after an input from a pilot, an instructor or the script, and its events."""
    events = decide(flight.deck, flight.session, flight.readings, input_)
    return _apply(flight, events), events


def choices_of(deck: Deck, ref: str) -> tuple[str, ...]:
    """The words that the value of an item can be, none for a number."""
    value = deck.items[ref].value
    return () if value is None else signals_of(deck)[value].choices


def _apply(flight: Flight, events: tuple[ev.Event, ...]) -> Flight:
    """Fold the events, and let the controls follow what was done."""
    if not events:
        return flight
    plane = flight.plane
    for event in events:
        if isinstance(event, ev.ItemDone):
            values = flight.readings.values
            choices = choices_of(flight.deck, event.item)
            plane = command(plane, flight.deck.items[event.item], values, event.value, event.at, choices)
        elif isinstance(event, ev.Undone) and event.what == "tick":
            plane = take_back(plane, flight.deck.items[event.ref], event.at)
    return replace(flight, session=fold(flight.session, events), plane=plane)


def advance(flight: Flight, now: int) -> tuple[Flight, tuple[ev.Event, ...]]:
    """Fly on to *now* (ms): motion, instruments, what follows from them, and the scenario's happenings."""
    if flight.session.ended or flight.session.paused or now <= flight.now:
        return flight, ()
    plane = expired(travel_on(move(flight.plane, flight.scenario, flight.session, now), now), now)
    values = show(plane, flight.scenario)
    flight = replace(flight, plane=plane, readings=flight.readings.heard(values, now))
    flight, events = send(flight, inp.Sample(at=now))
    flight, more = _happen(flight, now)
    if not flight.recorded:
        return flight, (*events, *more)
    flight, trace = _trace(flight, values, now)
    flight, check = _check(flight, now)
    return flight, (*events, *more, *trace, *check)


def _happen(flight: Flight, now: int) -> tuple[Flight, tuple[ev.Event, ...]]:
    if not flight.scenario.happenings:
        return flight, ()
    flight = _look(flight, now)
    events: list[ev.Event] = []
    for happening in flight.scenario.happenings:
        name = _name(happening, flight.session)
        if happening.when is None or name in flight.happened or flight.session.ended:
            continue
        if name not in flight.fired:
            if flight.truths[happening.when] is not True:
                continue
            flight = replace(flight, fired={**flight.fired, name: now})
            flight, noted = _note(flight, ev.ScriptMoved(at=now, happening=name, played=False))
            events.append(noted)
        if now >= max(flight.fired[name] + happening.after_s * 1000, flight.held.get(happening.id, 0)):
            flight, more = _play(flight, happening, name, now)
            events += more
    return flight, tuple(events)


def _name(happening: Happening, session: Session) -> str:
    """What it is known by: with the number of the approach for those that come once in each."""
    return f"{happening.id}#{session.approach}" if happening.again else happening.id


def _look(flight: Flight, now: int) -> Flight:
    s = flight.session
    truths = _script(flight.scenario, flight.deck)(
        program(flight.deck).sense(flight.readings, now),
        s.facts,
        s.phase,
        s.done,
        s.times,
        now,
        flight.readings.at,
        flight.truths,
        flight.truth_at,
    )
    if truths == flight.truths:
        return flight
    return replace(flight, truths=truths, truth_at=changed_at(truths, flight.truths, flight.truth_at, now))


def _play(flight: Flight, happening: Happening, name: str, now: int) -> tuple[Flight, list[ev.Event]]:
    plane = flight.plane
    until = None if happening.for_s is None else now + round(happening.for_s * 1000)
    if happening.sets:
        plane = with_around(plane, happening.sets, until)
    if happening.faults:
        plane = with_faults(plane, happening.faults, until)
    inputs: list[inp.Input] = []
    if happening.revised is not None:
        plane = weighed(plane, flight.scenario, happening)
        plane, told = revision(
            flight.deck, flight.scenario, plane, happening.revised, happening.words or happening.id, by=happening.id
        )
        inputs.append(told)
    flight = replace(flight, plane=plane, happened=flight.happened | {name})
    flight = replace(flight, readings=flight.readings.heard(show(plane, flight.scenario), now))
    inputs += [inp.Tell(at=now, fact=f, value=v) for f, v in happening.tells.items()]
    if happening.interrupts_s is not None:
        interrupt = inp.Interrupt(
            at=now, words=happening.words, length_s=happening.interrupts_s, safety=happening.safety
        )
        inputs.append(interrupt)
    flight, moved = _note(flight, ev.ScriptMoved(at=now, happening=name, played=True, until=until))
    events: list[ev.Event] = [moved]
    if happening.words and happening.interrupts_s is None:
        flight, heard = _note(flight, ev.Heard(at=now, words=happening.words))
        events.append(heard)
    for input_ in inputs:
        flight, more = send(flight, input_)
        events += more
    return flight, events


def by_hand(flight: Flight, happening: str) -> tuple[Flight, tuple[ev.Event, ...]]:
    """A happening of the scenario takes place now, by an instructor's hand; one that comes by itself does not again.

    No events for one that there is not, or that has taken place already and comes by itself.
    """
    found = next((each for each in flight.scenario.happenings if each.id == happening), None)
    if found is None or flight.session.ended:
        return flight, ()
    name = _name(found, flight.session)
    if found.when is None:
        times = sum(1 for past in flight.happened if past.split("#")[0] == found.id)
        name = f"{found.id}#{times + 1}"
    if name in flight.happened:
        return flight, ()
    flight, events = _play(flight, found, name, flight.now)
    return flight, tuple(events)


def hold_back(flight: Flight, happening: str, for_s: float) -> tuple[Flight, tuple[ev.Event, ...]]:
    """What would come by itself comes *for_s* seconds from now at the earliest."""
    known = any(each.id == happening and each.when is not None for each in flight.scenario.happenings)
    if not known or flight.session.ended:
        return flight, ()
    until = flight.now + round(for_s * 1000)
    flight, held = _note(flight, ev.ScriptHeld(at=flight.session.at, happening=happening, until=until))
    return replace(flight, held={**flight.held, happening: until}), (held,)


def new_weather(flight: Flight, report: str) -> tuple[Flight, tuple[ev.Event, ...]]:
    """The flight with another weather report: surroundings, brief, and what is owed again. Raises `NotAReport`.

    No events where the flight has no arrival.
    """
    arrival = arrival_in_force(flight.scenario, flight.plane)
    if arrival is None:
        return flight, ()
    arrival = replace(arrival, weather=decode(report))
    plane = reported(flight.plane, flight.scenario, report)
    plane, told = revision(flight.deck, flight.scenario, plane, arrival, "new weather", report=arrival.weather.text)
    flight = replace(flight, plane=plane)
    flight = replace(flight, readings=flight.readings.heard(show(plane, flight.scenario), flight.now))
    return send(flight, told)


def _note(flight: Flight, event: ev.Event) -> tuple[Flight, ev.Event]:
    """Fold an event of the script's own, which needs no judging."""
    return replace(flight, session=fold(flight.session, (event,))), event


def _trace(flight: Flight, values: dict[str, Scalar | None], now: int) -> tuple[Flight, tuple[ev.Event, ...]]:
    """Each second, or each 100 ft, what has changed since the last trace; None where nothing is heard any more."""
    altitude, before = values.get("altitude_ft"), flight.traced.get("altitude_ft")
    climbed = isinstance(altitude, float) and isinstance(before, float) and abs(altitude - before) >= TRACE_FT
    if now - flight.traced_at < TRACE_MS and not climbed:
        return flight, ()
    rounded = {n: round(v, 2) if isinstance(v, float) else v for n, v in values.items()}
    for name in flight.traced:
        rounded.setdefault(name, None)
    changed = {n: v for n, v in rounded.items() if n not in flight.traced or flight.traced[n] != v}
    trace = ev.Trace(at=now, values=changed)
    flight = replace(flight, traced=rounded, traced_at=now, session=fold(flight.session, (trace,)))
    return flight, (trace,)


def _check(flight: Flight, now: int) -> tuple[Flight, tuple[ev.Event, ...]]:
    """Each five seconds the whole aeroplane: instruments alone do not tell where a lever was going."""
    if now - flight.checked_at < CHECK_MS:
        return flight, ()
    check = ev.Checkpoint(at=now, plane=pack_plane(flight.plane), truths=flight.truths, truth_at=flight.truth_at)
    return replace(flight, checked_at=now, session=fold(flight.session, (check,))), (check,)
