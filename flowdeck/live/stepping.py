"""On to the next event of a flight, as far as whoever steps knows of it: what is sealed stops nobody."""

from collections.abc import Callable
from typing import Protocol

from flowdeck.engine.owed import owed
from flowdeck.model import events as ev
from flowdeck.model.seats import Seat
from flowdeck.trial.flight import Flight

LONGEST_MS = 240_000
_TOLD = (ev.DeviationRaised, ev.GatePassed, ev.GateFailed, ev.PhaseEntered, ev.Heard, ev.Interrupted, ev.Challenged)


class Known(Protocol):
    """A flight as it is known to whoever steps on."""

    @property
    def flight(self) -> Flight: ...


def step_on(known: Known, fly: Callable[[], tuple[ev.Event, ...]], own: tuple[Seat, ...]) -> tuple[ev.Event, ...]:
    """Fly steps by *fly*, which gives what is known to have happened, until something stirs; at the most four minutes.

    Something stirs when one of the seats in *own* owes something new, or with a gate, a deviation, a new phase, a call
    or a question.
    """

    def duties() -> set[tuple[str, str, str]]:
        return {(d.seat, d.ref, d.duty) for d in owed(known.flight.deck, known.flight.session) if d.seat in own}

    if known.flight.session.paused:
        return ()
    before = duties()
    events: list[ev.Event] = []
    end = known.flight.now + LONGEST_MS
    while known.flight.now < end and not known.flight.session.ended:
        more = fly()
        events += more
        if duties() - before or any(isinstance(event, _TOLD) for event in more):
            break
    return tuple(events)
