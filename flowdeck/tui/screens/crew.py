"""A flight that is flown elsewhere, from one of its stations: the flight screen, and what a crew of several needs.

What the other pilot does is on the screen as soon as the host has told of it; a lost link is said in the title.
"""

from typing import assert_never

from rich.text import Text

from flowdeck.tui.keys import KeyAction, Whose
from flowdeck.tui.screens.before import BeforeFlight, before_text
from flowdeck.tui.screens.flight import FlightScreen
from flowdeck.tui.shown import Crewed
from flowdeck.tui.widgets.bars import title_bar
from flowdeck.view.before import before
from flowdeck.view.board import Board
from flowdeck.wire.link.stations import Station, may_lead

_ON_THE_PAGE = ("pause", "aid", "withhold", "quit")


class CrewScreen(FlightScreen):
    """*host*: the link to the flight."""

    def __init__(self, host: Crewed, mapped: dict[str, str]) -> None:
        super().__init__(host, mapped)
        self.link = host
        self._present: dict[Station, int] = {}
        self._before: BeforeFlight | None = None

    def on_mount(self) -> None:
        self._present = self._who()
        self.link.on_news = self._news
        session = self.link.flight.session
        if session.paused and session.at == 0:
            self._before = BeforeFlight(self._page(), self._keys(), self._chosen)
            self.app.push_screen(self._before, lambda _: self._page_left())

    def opening_words(self) -> str:
        """The page before the flight, and the title, say that it waits."""
        return self.host.greeting

    def on_unmount(self) -> None:
        self.link.on_news = None

    def _news(self) -> None:
        """The host has told of something: show it now, not with the next frame."""
        self.call_later(self.frame)

    def frame(self) -> None:
        super().frame()
        who = self._who()
        if who != self._present:
            self.say(self._came_and_went(who))
            self._present = who
        if self._before is None:
            return
        if self.link.flight.session.paused:
            self._before.show(self._page())
        elif self._before.is_current:
            self._before.dismiss(None)

    def top_bar(self, board: Board, width: int) -> Text:
        where = f"{self.link.station.label.lower()} at {self.link.flight.deck.identity.title}"
        return title_bar(board, where, self.link.flight.deck.identity.status, self.link.trouble, width)

    def offered(self) -> list[KeyAction]:
        """What the host would take from this station now."""
        leads = not may_lead(self.link.station, Station.INSTRUCTOR in self._who())
        return [action for action in super().offered() if self._has(action.whose, leads=leads)]

    def _has(self, whose: Whose, *, leads: bool) -> bool:
        station = self.link.station
        match whose:
            case Whose.ANYBODY:
                return True
            case Whose.PILOT:
                return station.seat is not None
            case Whose.SPEAKER:
                return station is not Station.OBSERVER
            case Whose.LEADER:
                return leads
            case Whose.INSTRUCTOR:
                return station is Station.INSTRUCTOR
            case _:
                assert_never(whose)

    def _clock(self) -> int:
        """The flight may wait for long while there is something to say."""
        return round(self.link.clock() * 1000)

    def _who(self) -> dict[Station, int]:
        """How many are there at each station."""
        there = [guest.station for guest in self.link.roster if guest.present]
        return {station: there.count(station) for station in Station if station in there}

    def _came_and_went(self, who: dict[Station, int]) -> str:
        """Who has come or gone, of the others."""
        words = [
            f"{station.label} {'is there' if who.get(station, 0) > self._present.get(station, 0) else 'is gone'}"
            for station in Station
            if who.get(station, 0) != self._present.get(station, 0) and station is not self.link.station
        ]
        return ", ".join(words)

    def _keys(self) -> dict[str, str]:
        return {name: self.key_of(name) for name in _ON_THE_PAGE}

    def _page(self) -> Text:
        flight, who = self.link.flight, self._who()
        page = before(
            flight.deck,
            flight.scenario,
            flight.session,
            self.vantage,
            station=str(self.link.station),
            instructors=who.get(Station.INSTRUCTOR, 0),
            observers=who.get(Station.OBSERVER, 0),
        )
        return before_text(page, self._keys(), self.link.trouble or self.said_now())

    def _chosen(self, name: str) -> None:
        """A key of the page before the flight is the key of the flight."""
        getattr(self, f"action_{name}")()

    def _page_left(self) -> None:
        self._before = None
        self.refresh_board()
