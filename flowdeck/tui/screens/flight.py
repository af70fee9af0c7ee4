"""The flight: rail, strip, lanes, margin and hints; keys become inputs by way of the desk."""

from collections.abc import Callable

from rich.text import Text
from textual.app import ComposeResult
from textual.binding import Binding
from textual.screen import Screen

from flowdeck.live.host import Host
from flowdeck.model.condition import Scalar
from flowdeck.model.events import PaceSet
from flowdeck.model.seats import Seat
from flowdeck.tui.desk import Desk, Question
from flowdeck.tui.keys import BY_NAME, KEYS
from flowdeck.tui.paint import Options
from flowdeck.tui.screens.ask_report import AskReport
from flowdeck.tui.screens.ask_value import AskValue
from flowdeck.tui.screens.numbers import numbers_text, path_of
from flowdeck.tui.screens.pages import Confirm, Page, help_text, slips_text
from flowdeck.tui.screens.picker import Picker
from flowdeck.tui.widgets.bars import Bar, hints, margin, rail, strip, title_bar
from flowdeck.tui.widgets.lanes import Lanes
from flowdeck.tui.widgets.path import PathPane
from flowdeck.view.board import Board, make_board
from flowdeck.view.words import title

FRAMES_PER_S = 20
LEAST_HEIGHT_WITH_PATH = 30
LEAST_SIZE = (40, 10)
"""Columns and rows below which nothing could be read."""


class FlightScreen(Screen[None]):
    """One flight. `refresh_board` is called for each frame and after each key."""

    BINDINGS = [
        Binding(action.key, action.name, action.title, id=action.name, show=False, priority=False) for action in KEYS
    ]

    def __init__(self, host: Host, mapped: dict[str, str]) -> None:
        super().__init__(id="flight")
        self.host = host
        self.mapped = mapped
        self.desk = Desk(host)
        self.teach = False
        self._said = ""
        self._said_until = 0
        self._ended = False

    def compose(self) -> ComposeResult:
        yield Bar("title")
        yield Bar("rail")
        yield Bar("strip")
        yield Lanes()
        yield PathPane()
        yield Bar("margin")
        yield Bar("hints")

    def on_mount(self) -> None:
        self.set_interval(1 / FRAMES_PER_S, self.frame)
        waits = "The flight waits: space goes on" if self.host.flight.session.paused else ""
        self.say(". ".join(words for words in (waits, self.host.greeting) if words))

    def on_resize(self) -> None:
        self.refresh_board()

    def frame(self) -> None:
        """One frame: let time pass, then show what is."""
        for event in self.host.tick():
            if isinstance(event, PaceSet) and event.because:
                self.say(f"x1 by itself: {event.because}")
        self.refresh_board()
        if self.host.flight.session.ended and not self._ended:
            self._ended = True
            self.app.push_screen(Page(slips_text(self.desk.deck, self.desk.session), id="ending"))

    def board(self) -> Board:
        flight = self.host.flight
        kept = self.desk.kept
        board = make_board(flight.deck, flight.session, flight.readings, flight.now, self.host.before(), kept)
        self.desk.kept = {lane.seat: lane.owed.ref for lane in board.lanes if lane.owed is not None}
        return board

    def refresh_board(self) -> None:
        width, height = self.size.width, self.size.height
        if width < LEAST_SIZE[0] or height < LEAST_SIZE[1]:
            self.query_one("#title", Bar).say(_words("needs {} x {}".format(*LEAST_SIZE), width))
            for bar in ("rail", "strip", "margin", "hints"):
                self.query_one(f"#{bar}", Bar).say(Text("too small" if bar == "rail" else ""))
            return
        board = self.board()
        identity = self.desk.deck.identity
        self.query_one("#title", Bar).say(title_bar(board, identity.title, identity.status, self.host.trouble, width))
        self.query_one("#rail", Bar).say(rail(board, width))
        self.query_one("#strip", Bar).say(strip(board, width))
        self.query_one("#margin", Bar).say(margin(board, width, 4 if height < 30 else 6, self.key_of("slips")))
        self.query_one("#hints", Bar).say(self._hints(width))
        picked = self.desk.picked
        options = Options(
            drill=board.aid == "drill",
            teach=self.teach,
            picked=f"{title(self.desk.deck, picked)}" if picked else "",
            go_around=self.key_of("go_around"),
        )
        self.query_one(Lanes).show(board, options)
        pane = self.query_one(PathPane)
        if pane.display:
            pane.show(path_of(self.host))

    def _hints(self, width: int) -> Text:
        if self._said and self.host.now < self._said_until:
            return _words(self._said, width)
        if self.desk.picked:
            left, right = self.key_of("captain"), self.key_of("first_officer")
            words = f"picked: {title(self.desk.deck, self.desk.picked)}   [{left}] captain  [{right}] first officer"
            return _words(words, width)
        return hints(width, self.mapped)

    def key_of(self, action: str) -> str:
        """The key of an action as it is shown."""
        return self.mapped.get(action, BY_NAME[action].shown)

    def say(self, words: str) -> None:
        """Words for the crew on the bottom line, for four seconds of the flight."""
        words = self.desk.refusal() or words
        if words:
            self._said, self._said_until = words, self.host.now + 4000
        self.refresh_board()

    def _press(self, seat: Seat) -> None:
        result = self.desk.press(seat)
        if isinstance(result, Question):
            self._ask(result)
        else:
            self.say(result)

    def _ask(self, question: Question) -> None:
        def answered(value: Scalar | None) -> None:
            if value is not None:
                self.desk.answer(question.seat, question.item, value)
            self.say("")

        other = question.seat.other
        key = self.mapped.get(str(other), BY_NAME[str(other)].key)
        unfit = self.desk.unfit(question)
        self.app.push_screen(AskValue(question, key, lambda: self._press_beside(other), unfit), answered)

    def _press_beside(self, seat: Seat) -> None:
        """The other seat's key while a value is asked for: all but a second question."""
        result = self.desk.press(seat)
        self.say(f"{seat.label}: after this value" if isinstance(result, Question) else result)

    def _choose(self, heading: str, rows: list[tuple[str, str]], then: Callable[[str], object], none: str) -> None:
        if not rows:
            self.say(none)
            return

        def picked(choice: str | None) -> None:
            if choice is not None:
                then(choice)
            self.say("")

        self.app.push_screen(Picker(heading, rows), picked)

    def action_captain(self) -> None:
        self._press(Seat.CAPTAIN)

    def action_first_officer(self) -> None:
        self._press(Seat.FIRST_OFFICER)

    def action_pick(self) -> None:
        def take(choice: str) -> None:
            self.desk.picked = choice

        self.desk.picked = ""
        self._choose("Pick an item, then a seat's key", self.desk.pickable(), take, "nothing to pick")

    def action_tell(self) -> None:
        self._choose("Tell a fact", self.desk.facts(), self.desk.tell, "no fact can be told now")

    def action_call_list(self) -> None:
        self._choose("Call a checklist", self.desk.callable_lists(), self.desk.call_list, "no list in this phase")

    def action_defer(self) -> None:
        self._choose("Put off, until when?", self.desk.deferrable(), self.desk.defer, "nothing can be put off")

    def action_challenge(self) -> None:
        self._choose("Challenge", self.desk.challengeable(), self.desk.challenge, "nothing to challenge")

    def action_point(self) -> None:
        self.say(self.desk.point())

    def action_undo(self) -> None:
        self.say(self.desk.undo())

    def action_read(self) -> None:
        self.say(self.desk.list_input("read"))

    def action_skip(self) -> None:
        self.say(self.desk.list_input("skip"))

    def action_hold(self) -> None:
        self.say(self.desk.list_input("hold"))

    def action_restart(self) -> None:
        self.say(self.desk.list_input("restart"))

    def action_complete(self) -> None:
        self.say(self.desk.list_input("complete"))

    def action_go_around(self) -> None:
        self.say(self.desk.go_around("go_around"))

    def action_discontinue(self) -> None:
        self.say(self.desk.go_around("discontinued"))

    def action_transfer(self) -> None:
        self.say(self.desk.transfer())

    def action_take_over(self) -> None:
        self.say(self.desk.take_over())

    def action_reply(self) -> None:
        self.say(self.desk.reply())

    def action_interrupt(self) -> None:
        self.desk.interrupt()
        self.refresh_board()

    def action_pause(self) -> None:
        self.desk.pause()
        self.refresh_board()

    def action_faster(self) -> None:
        self.desk.pace(+1)
        self.refresh_board()

    def action_slower(self) -> None:
        self.desk.pace(-1)
        self.refresh_board()

    def action_step(self) -> None:
        self.say(self.desk.step_on())

    def action_aid(self) -> None:
        self.say(self.desk.aid())

    def action_withhold(self) -> None:
        self.say(self.desk.aid(toggle_withhold=True))

    def action_teach(self) -> None:
        self.teach = not self.teach
        self.refresh_board()

    def action_numbers(self) -> None:
        self.app.push_screen(Page(numbers_text(self.host)))

    def action_path(self) -> None:
        """Show the path under the lanes, or give its rows back; where there is no room for it, as a page."""
        pane = self.query_one(PathPane)
        if not pane.display and self.size.height < LEAST_HEIGHT_WITH_PATH:
            self.action_numbers()
            return
        pane.display = not pane.display
        self.refresh_board()

    def action_weather(self) -> None:
        def typed(report: str | None) -> None:
            self.say("" if report is None else self.desk.weather(report))

        if self.desk.arrival() is None:
            self.say("this flight has no arrival whose brief could be worked out anew")
            return
        self.app.push_screen(AskReport(), typed)

    def action_slips(self) -> None:
        self.app.push_screen(Page(slips_text(self.desk.deck, self.desk.session)))

    def action_help(self) -> None:
        self.app.push_screen(Page(help_text(self.mapped)))

    def action_quit(self) -> None:
        if self.host.flight.session.ended:
            self.app.exit()
            return

        def confirmed(yes: bool | None) -> None:
            if yes:
                self.app.exit()

        kept = "The journal keeps it." if self.host.journal is not None else "Nothing of it is kept."
        if self.host.trouble:
            kept = f"{self.host.trouble[0].upper()}{self.host.trouble[1:]}."
        self.app.push_screen(Confirm(f"Leave the flight? {kept}"), confirmed)


def _words(words: str, width: int) -> Text:
    text = Text(f" {words}", no_wrap=True)
    text.truncate(width, overflow="ellipsis")
    return text
