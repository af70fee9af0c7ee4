"""What every look at a flight is drawn on: title, rail, strip, lanes, path, margin, hints, and the pages over it."""

from collections.abc import Mapping
from typing import ClassVar

from rich.text import Text
from textual.app import ComposeResult
from textual.screen import Screen

from flowdeck.model.seats import Seat
from flowdeck.tui.keys import KeyAction
from flowdeck.tui.paint import Options
from flowdeck.tui.screens.numbers import numbers_text, path_of
from flowdeck.tui.screens.pages import Page, help_text, slips_text
from flowdeck.tui.shown import Shown
from flowdeck.tui.widgets.bars import Bar, hints, margin, rail, strip, title_bar
from flowdeck.tui.widgets.lanes import Lanes
from flowdeck.tui.widgets.path import PathPane
from flowdeck.view.board import Board, make_board
from flowdeck.view.vantage import BOTH_SEATS, Vantage

FRAMES_PER_S = 20
LEAST_HEIGHT_WITH_PATH = 30
LEAST_SIZE = (40, 10)
"""Columns and rows below which nothing could be read."""


class BoardScreen(Screen[None]):
    """A flight at one moment. `refresh_board` is called for each frame and after each key."""

    ACTIONS: ClassVar[tuple[KeyAction, ...]] = ()

    def __init__(self, shown: Shown, mapped: Mapping[str, str], id: str) -> None:
        super().__init__(id=id)
        self.shown = shown
        self.mapped = dict(mapped)
        self.teach = False
        self.kept: dict[Seat, str] = {}
        self._said = ""
        self._said_until = 0

    @property
    def vantage(self) -> Vantage:
        """Whose eyes look."""
        return BOTH_SEATS

    def compose(self) -> ComposeResult:
        yield Bar("title")
        yield Bar("rail")
        yield Bar("strip")
        yield Lanes()
        yield PathPane()
        yield Bar("margin")
        yield Bar("hints")

    def on_resize(self) -> None:
        self.refresh_board()

    def board(self) -> Board:
        flight = self.shown.flight
        board = make_board(
            flight.deck, flight.session, flight.readings, flight.now, self.shown.before(), self.kept, self.vantage
        )
        self.kept = {lane.seat: lane.owed.ref for lane in board.lanes if lane.owed is not None}
        return board

    def top_bar(self, board: Board, width: int) -> Text:
        identity = self.shown.flight.deck.identity
        return title_bar(board, identity.title, identity.status, self.shown.trouble, width)

    def offered(self) -> list[KeyAction]:
        """The actions that hints, help and palette tell of."""
        return list(self.ACTIONS)

    def options(self, board: Board) -> Options:
        return Options(drill=board.aid == "drill", teach=self.teach, go_around=self.key_of("go_around"))

    def foot(self, width: int) -> Text:
        """The bottom line, when nothing has just been said."""
        return hints(width, self.mapped, self.offered())

    def refresh_board(self) -> None:
        width, height = self.size.width, self.size.height
        if width < LEAST_SIZE[0] or height < LEAST_SIZE[1]:
            self.query_one("#title", Bar).say(one_line("needs {} x {}".format(*LEAST_SIZE), width))
            for bar in ("rail", "strip", "margin", "hints"):
                self.query_one(f"#{bar}", Bar).say(Text("too small" if bar == "rail" else ""))
            return
        board = self.board()
        self.query_one("#title", Bar).say(self.top_bar(board, width))
        self.query_one("#rail", Bar).say(rail(board, width))
        self.query_one("#strip", Bar).say(strip(board, width))
        self.query_one("#margin", Bar).say(margin(board, width, 4 if height < 30 else 6, self.key_of))
        said = self.said_now()
        self.query_one("#hints", Bar).say(one_line(said, width) if said else self.foot(width))
        self.query_one(Lanes).show(board, self.options(board))
        pane = self.query_one(PathPane)
        if pane.display:
            pane.show(path_of(self.shown))

    def said_now(self) -> str:
        """The words on the bottom line, while they stand."""
        return self._said if self._clock() < self._said_until else ""

    def _clock(self) -> int:
        """The time (ms) by which words on the bottom line pass away."""
        return self.shown.now

    def action_quit(self) -> None:
        self.app.exit()

    def key_of(self, action: str) -> str:
        """The key of an action as it is shown."""
        usual = next((each.shown for each in self.ACTIONS if each.name == action), "")
        return self.mapped.get(action, usual)

    def say(self, words: str) -> None:
        """Words on the bottom line, for four seconds."""
        if words:
            self._said, self._said_until = words, self._clock() + 4000
        self.refresh_board()

    def action_teach(self) -> None:
        self.teach = not self.teach
        self.refresh_board()

    def action_numbers(self) -> None:
        self.app.push_screen(Page(numbers_text(self.shown)))

    def action_path(self) -> None:
        """Show the path under the lanes, or give its rows back; where there is no room for it, as a page."""
        pane = self.query_one(PathPane)
        if not pane.display and self.size.height < LEAST_HEIGHT_WITH_PATH:
            self.action_numbers()
            return
        pane.display = not pane.display
        self.refresh_board()

    def action_slips(self) -> None:
        self.app.push_screen(Page(slips_text(self.shown.flight.deck, self.shown.flight.session, self.vantage)))

    def action_help(self) -> None:
        self.app.push_screen(Page(help_text(self.mapped, self.offered())))


def one_line(words: str, width: int) -> Text:
    text = Text(f" {words}", no_wrap=True)
    text.truncate(width, overflow="ellipsis")
    return text
