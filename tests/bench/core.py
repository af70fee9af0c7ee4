"""The engine: a quiet sample, text evaluated by Python, a whole flight."""

import tempfile
import time
from collections.abc import Iterator

from flowdeck.conditions import compile_truths
from flowdeck.crew.manner import BLANK
from flowdeck.crew.script import play
from flowdeck.engine import decide
from flowdeck.engine.program import program
from flowdeck.live.bundled import read_scenario
from flowdeck.live.journal import Journal
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.condition import Age, Condition, Done, Falling, Held, PhaseRef, Rising, Since, Turn
from flowdeck.trial.flight import Flight, advance, send, take_off
from tests.bench.measure import Figure, beside
from tests.support.moments import flown_until

STEP_MS = 76
"""Of flight time, so that the bundled flight has about twenty thousand samples."""


def quiet_sample() -> Iterator[Figure]:
    flight = _on_the_way()
    p, s, readings, now = program(flight.deck), flight.session, flight.readings, flight.session.at
    sample = inp.Sample(at=now)
    shown = dict(readings.values)

    def bare() -> object:
        return p.truths(readings.values, s.facts, s.phase, s.done, s.times, now, readings.at, s.truths, s.truth_at)

    whole, floor = beside(lambda: decide(flight.deck, s, readings, sample), bare, 1000)
    rows = len(flight.deck.conditions)
    yield Figure(f"a quiet sample, {rows} conditions", whole, "us", "the compiled conditions alone", floor, 1.1)
    whole, floor = beside(lambda: decide(flight.deck, s, readings.heard(shown, now), sample), bare, 1000)
    yield Figure("the same, its readings taken in", whole, "us", "the compiled conditions alone", floor)


def evaluated_text() -> Iterator[Figure]:
    """Those conditions of the deck that Python reads as they stand: no time, no angles, no done()."""
    flight = _on_the_way()
    s, readings = flight.session, flight.readings
    rows = tuple(c for c in flight.deck.conditions if _is_python(c, flight))
    names = {**readings.values, **s.facts, "true": True, "false": False}
    text = "[" + ", ".join(f"({c.text})" for c in rows) + "]"
    code = compile(text, "<conditions>", "eval")
    truths, prev, since = compile_truths(rows), (None,) * len(rows), (0,) * len(rows)

    def ours() -> tuple[object, ...]:
        return truths(readings.values, s.facts, s.phase, s.done, s.times, s.at, readings.at, prev, since)

    if list(ours()) != eval(text, {"__builtins__": {"abs": abs, "min": min, "max": max}}, names):
        raise AssertionError("eval of the same conditions says otherwise")
    each, spent = beside(lambda: eval(text, {}, names), ours, 20)
    yield Figure(f"one eval of the text of {len(rows)} conditions", each, "us", "ours of the same", spent)
    each, spent = beside(lambda: eval(code, {}, names), ours, 2000)
    yield Figure("one eval of them compiled beforehand, two-valued", each, "us", "ours of the same", spent)


def _is_python(condition: Condition, flight: Flight) -> bool:
    """Whether Python's own eval gives the same answer; known readings only."""
    text = repr(condition.tree)
    beyond = (Age, Done, Falling, Held, PhaseRef, Rising, Since, Turn)
    if any(f"{kind.__name__}(" in text for kind in beyond):
        return False
    row = flight.deck.conditions.index(condition)
    return flight.session.truths[row] is not None


def _on_the_way() -> Flight:
    return flown_until("clean", lambda f: f.plane.distance_nm < 30)


def flown() -> Iterator[tuple[tuple[ev.Event, ...], bool]]:
    """The events of each sample and each action (true) of the bundled flight, sampled thirteen times a second."""
    deck, scenario, _ = read_scenario("clean")
    flight, events = take_off(deck, scenario)
    memory, now = BLANK, 0
    while not flight.session.ended:
        now += STEP_MS
        flight, events = advance(flight, now)
        yield events, False
        turn = play(deck, scenario, flight.session, flight.truths, memory, now)
        memory = turn.memory
        for input_ in turn.inputs:
            flight, events = send(flight, input_)
            yield events, True


def end_to_end() -> Iterator[Figure]:
    deck, scenario, _ = read_scenario("clean")
    begun = time.process_time()
    acted = [action for _, action in flown()]
    without = (time.process_time() - begun) * 1e3
    with tempfile.TemporaryDirectory() as folder:
        begun = time.process_time()
        with Journal.create(f"{folder}/a.journal", deck, scenario, solo=True) as journal:
            for events, action in flown():
                journal.append(events, sure=action)
        kept = (time.process_time() - begun) * 1e3
    actions = sum(acted)
    what = f"{len(acted) - actions:,} samples and {actions} actions, with a journal"
    yield Figure(what, kept, "ms", "the same without", without)
