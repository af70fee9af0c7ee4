"""Flights in which the tool plays a seat, and the other one is an attentive played pilot or the scripted crew."""

from functools import cache

from flowdeck.crew.manner import BLANK
from flowdeck.crew.pilot import Pilot
from flowdeck.crew.script import play
from flowdeck.live.bundled import read_lapses
from flowdeck.model import events as ev
from flowdeck.model.lapse import NO_LAPSES
from flowdeck.model.seats import Seat
from flowdeck.trial.company import accompany, join
from flowdeck.trial.flight import advance, send, take_off
from tests.scenarios.flown import Flown
from tests.support.cockpit import bundled

STEP_MS = 500
LAPSING = [(Seat.FIRST_OFFICER, 1), *(EVERY_DAY := [(Seat.FIRST_OFFICER, 4), (Seat.CAPTAIN, 1)])]
"""Whose lapses many tests look at, and by which seed (see `lapsing`)."""


def flown_with(name: str, pilot: Pilot, other: Pilot | None = None, until: str = "", limit_s: float = 5400) -> Flown:
    """The scenario *name* with *pilot* played; *other* has the second seat, None: the scripted crew.

    To its end, to the phase *until*, or for so many seconds.
    """
    deck, scenario = bundled(name)
    flight, begun = take_off(deck, scenario, solo=False, sealed=(pilot.seat,))
    flight, joined = join(flight, (pilot,))
    events: list[ev.Event] = [*begun, *joined]
    mine = theirs = BLANK
    now = 0
    while not flight.session.ended and flight.session.phase != until and now < limit_s * 1000:
        now += STEP_MS
        flight, more = advance(flight, now)
        events += more
        flight, more, mine = accompany(flight, pilot, mine)
        events += more
        if other is not None:
            flight, more, theirs = accompany(flight, other, theirs)
            events += more
            continue
        for _ in range(4):
            turn = play(deck, scenario, flight.session, flight.truths, theirs, now, seats=(pilot.seat.other,))
            theirs = turn.memory
            if not turn.inputs:
                break
            for input_ in turn.inputs:
                flight, more = send(flight, input_)
                events += more
    return Flown(deck, scenario, flight, tuple(events))


@cache
def clean_with(seat: Seat, seed: int = 1) -> Flown:
    """A quiet arrival with a played pilot who lets nothing slip, beside the scripted crew."""
    return flown_with("clean", Pilot(seat=seat, seed=seed))


@cache
def lapsing(seat: Seat, seed: int, lapses: str = "heavy") -> Flown:
    """A quiet arrival with a played pilot who lets much slip, beside an attentive one who lets nothing slip."""
    pilot = Pilot(seat=seat, seed=seed, lapses=read_lapses(lapses) if lapses else NO_LAPSES)
    return flown_with("clean", pilot, Pilot(seat=seat.other, seed=seed + 100))
