"""Shows a film of a flight at any pace, forwards and backwards; keeps an instructor's notes in its journal.

It has what a screen reads of a host, so that the same board is drawn from both; nothing can be sent to it.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Callable

from flowdeck.live.host import LONGEST_GAP_MS
from flowdeck.model import events as ev
from flowdeck.model.readings import Readings
from flowdeck.trial.film import Bookmark, Film
from flowdeck.trial.flight import Flight

PACES = (-16.0, -4.0, -1.0, 1.0, 2.0, 4.0, 8.0, 16.0, 60.0)
_TREND_MS = 3000


class Projector:
    """*keep* takes an instructor's note to where it is kept, and says what became of it."""

    def __init__(self, film: Film, keep: Callable[[ev.Noted], str], clock: Callable[[], float], at: int = 0) -> None:
        self.film = film
        self._keep = keep
        self.pace = 1.0
        self.playing = False
        self.trouble = ""
        self.greeting = ""
        self._clock = clock
        self._last = clock()
        self._trail = Film(film.deck, film.scenario, film.events)
        self._bookmarks = film.bookmarks()
        self.now = 0
        self.seek(at)

    @property
    def flight(self) -> Flight:
        return self.film.flight_at(self.now)

    @property
    def bookmarks(self) -> tuple[Bookmark, ...]:
        return self._bookmarks

    @property
    def flown(self) -> list[tuple[float, float]]:
        """The path up to this moment."""
        return self.film.path_until(self.now)

    def before(self) -> Readings:
        """Readings of a few seconds ago, for trends."""
        return self._trail.flight_at(self.now - _TREND_MS).readings

    def tick(self) -> tuple[ev.Event, ...]:
        """Move by the wall time since the last tick, at the present pace. Stops at either end."""
        wall = self._clock()
        passed = min(LONGEST_GAP_MS, (wall - self._last) * 1000)
        self._last = wall
        if self.playing and passed > 0:
            self.seek(self.now + round(passed * self.pace))
            if self.now in (0, self.film.length_ms):
                self.playing = False
        return ()

    @property
    def wall_ms(self) -> int:
        """Time that runs on while the flight stands still."""
        return round(self._clock() * 1000)

    def seek(self, at: int) -> None:
        """To the moment *at* (ms), or the nearest end."""
        self.now = min(max(0, at), self.film.length_ms)

    def play(self) -> None:
        """Go on or stand still; from an end, away from it."""
        self.playing = not self.playing
        if self.playing and self.now == self.film.length_ms and self.pace > 0:
            self.seek(0)

    def faster(self, by: int) -> None:
        """The next pace up or down the list, backwards paces below x1."""
        at = PACES.index(self.pace)
        self.pace = PACES[min(max(0, at + by), len(PACES) - 1)]

    def jump(self, by: int) -> Bookmark | None:
        """To the next bookmark (*by* 1) or the one before (-1) whose moment is another; None where there is none."""
        times = [mark.at for mark in self._bookmarks]
        at = bisect_right(times, self.now) if by > 0 else bisect_left(times, self.now) - 1
        if not 0 <= at < len(times):
            return None
        self.seek(times[at])
        return self._bookmarks[at]

    def note(self, words: str) -> str:
        """Keep a note about this moment; says what became of it. Raises `Rejected` when it cannot be kept."""
        note = ev.Noted(at=self.film.length_ms, about=self.now, words=words)
        kept = self._keep(note)
        self.film = self.film.with_note(note)
        self._trail = Film(self.film.deck, self.film.scenario, self.film.events)
        self._bookmarks = self.film.bookmarks()
        return kept
