"""A flight that was flown, to be looked at again at any moment: events in, the flight as it stood out.

The law: what is shown at a moment is the fold of the events up to it and the readings of the traces up to it, whether
one came there forwards, backwards or by a leap. Stills every few hundred events make a leap short.
"""

from bisect import bisect_right
from typing import NamedTuple

from msgspec.structs import replace

from flowdeck.aircraft.state import Aeroplane, begin, unpack_plane
from flowdeck.engine.stand import NOTHING_YET, stand_after
from flowdeck.engine.words import title
from flowdeck.model import events as ev
from flowdeck.model.deck import Deck
from flowdeck.model.scenario import Scenario
from flowdeck.trial.flight import Flight
from flowdeck.trial.restore import path_points

STILL_EVENTS = 400


class Bookmark(NamedTuple):
    """A moment (ms) worth going to."""

    at: int
    kind: str
    words: str


class Film:
    """All of a flight. Raises `ValueError` when the events do not begin with the start of a flight."""

    def __init__(self, deck: Deck, scenario: Scenario, events: tuple[ev.Event, ...]) -> None:
        if not events or not isinstance(events[0], ev.FlightStarted):
            raise ValueError("the events do not begin with the start of a flight")
        self.deck, self.scenario = deck, scenario
        self.events = events
        self._times = [event.at for event in events]
        self._path = tuple(path_points(events))
        self._stills = [NOTHING_YET]
        self._number = 0
        self._now = self._stills[0]
        self._first = begin(scenario)
        self._plane: tuple[str, Aeroplane] = ("", self._first)

    @property
    def length_ms(self) -> int:
        return self._times[-1]

    def number_at(self, at: int) -> int:
        """How many events have happened by *at* (ms); at least the first."""
        return max(1, bisect_right(self._times, at))

    def flight_at(self, at: int) -> Flight:
        """The flight as it stood at *at* (ms), for looking only."""
        at = min(max(0, at), self.length_ms)
        self._go(self.number_at(at))
        still = self._now
        if still.plane != self._plane[0]:
            self._plane = (still.plane, self._unpacked(still.plane))
        return Flight(
            deck=self.deck,
            scenario=self.scenario,
            session=still.session,
            readings=still.readings,
            plane=replace(self._plane[1], at=at),
        )

    def _unpacked(self, plane: str) -> Aeroplane:
        """The aeroplane of a checkpoint; of one that is damaged, as it began: it only names the arrival in force."""
        try:
            return unpack_plane(plane) if plane else self._first
        except ValueError:
            return self._first

    def _go(self, number: int) -> None:
        """To where *number* events have happened."""
        kept = min(number // STILL_EVENTS, len(self._stills) - 1)
        if number < self._number or kept * STILL_EVENTS > self._number:
            self._number, self._now = kept * STILL_EVENTS, self._stills[kept]
        while self._number < number:
            self._now = stand_after(self._now, (self.events[self._number],))
            self._number += 1
            if self._number == len(self._stills) * STILL_EVENTS:
                self._stills.append(self._now)

    def bookmarks(self) -> tuple[Bookmark, ...]:
        """Phases, gates, lists, deviations and notes, in time."""
        found: list[Bookmark] = []
        for event in self.events:
            match event:
                case ev.FlightStarted() | ev.PhaseEntered():
                    found.append(Bookmark(event.at, "phase", title(self.deck, event.phase)))
                case ev.GatePassed():
                    found.append(Bookmark(event.at, "gate", f"{title(self.deck, event.gate)}: passed"))
                case ev.GateFailed():
                    found.append(Bookmark(event.at, "gate", f"{title(self.deck, event.gate)}: not passed"))
                case ev.ListCalled():
                    found.append(Bookmark(event.at, "list", title(self.deck, event.checklist)))
                case ev.DeviationRaised():
                    words = f"{event.slip.replace('_', ' ')}: {title(self.deck, event.item)}"
                    found.append(Bookmark(event.at, "slip", words))
                case ev.Noted():
                    found.append(Bookmark(min(event.about, self.length_ms), "note", event.words))
                case ev.FlightEnded():
                    found.append(Bookmark(event.at, "end", event.end))
                case _:
                    pass
        return tuple(sorted(found, key=lambda mark: mark.at))

    def with_note(self, note: ev.Noted) -> "Film":
        """The same film with one note more at its end."""
        return Film(self.deck, self.scenario, (*self.events, note))

    def path_until(self, at: int) -> list[tuple[float, float]]:
        """Distance (NM) and altitude (ft) as they were shown up to *at* (ms), oldest first."""

        return [(p.distance_nm, p.altitude_ft) for p in self._path[: bisect_right(self._path, at, key=lambda p: p.at)]]
