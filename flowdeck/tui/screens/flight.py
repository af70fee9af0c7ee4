"""The flight: rail, strip, lanes, margin and hints; keys become inputs by way of the desk."""

from collections.abc import Callable

from rich.text import Text
from textual.binding import Binding

from flowdeck.engine.work import Work
from flowdeck.live.projector import Projector
from flowdeck.model import events as ev
from flowdeck.model.condition import Scalar
from flowdeck.model.seats import Seat
from flowdeck.tui.desk import Desk, Question
from flowdeck.tui.keys import BY_NAME, KEYS, KeyAction
from flowdeck.tui.paint import Options
from flowdeck.tui.screens.ask_note import AskNote
from flowdeck.tui.screens.ask_report import AskReport
from flowdeck.tui.screens.ask_value import AskValue
from flowdeck.tui.screens.board import FRAMES_PER_S, BoardScreen, one_line
from flowdeck.tui.screens.pages import Confirm, Page, slips_text
from flowdeck.tui.screens.picker import Picker
from flowdeck.tui.shown import Flown
from flowdeck.view import choosing, instruct
from flowdeck.view.board import Board
from flowdeck.view.vantage import Vantage
from flowdeck.view.words import clock, title


class FlightScreen(BoardScreen):
    """One flight, as it is flown."""

    ACTIONS = KEYS

    BINDINGS = [
        Binding(action.key, action.name, action.title, id=action.name, show=False, priority=False) for action in KEYS
    ]

    def __init__(self, host: Flown, mapped: dict[str, str]) -> None:
        super().__init__(host, mapped, id="flight")
        self.host = host
        self.desk = Desk(host)
        self._ended = False

    def on_mount(self) -> None:
        self.set_interval(1 / FRAMES_PER_S, self.frame)
        self.say(self.opening_words())

    def opening_words(self) -> str:
        """What the crew is told as the screen comes up."""
        waits = "The flight waits: space goes on" if self.host.flight.session.paused else ""
        return ". ".join(words for words in (waits, self.host.greeting) if words)

    def frame(self) -> None:
        """One frame: let time pass, then show what is."""
        for event in self.host.tick():
            if isinstance(event, ev.PaceSet) and event.because:
                self.say(f"x1 by itself: {event.because}")
        refused = self.host.refusal()
        if refused:
            self.say(refused)
        self.refresh_board()
        if self.host.flight.session.ended and not self._ended:
            self._ended = True
            self._debrief()

    def _debrief(self) -> None:
        """What there is to say at the end; from there to any moment of the flight."""
        film = self.host.film()
        if film is None:
            self.app.push_screen(Page(slips_text(self.desk.deck, self.desk.session), id="ending"))
            return
        from flowdeck.debrief.study import study  # not before there is something to tell
        from flowdeck.tui.screens.debrief import DebriefScreen
        from flowdeck.tui.screens.replay import ReplayScreen

        def chosen(at: int | None) -> None:
            if at is not None:
                projector = Projector(film, self.host.keep, self.host.clock, at)
                self.app.push_screen(ReplayScreen(projector, {}), lambda _: self._debrief())

        found = study(film.deck, film.scenario, film.events)
        self.app.push_screen(DebriefScreen(found, id="ending"), chosen)

    @property
    def vantage(self) -> Vantage:
        return self.host.vantage

    def board(self) -> Board:
        board = super().board()
        self.desk.kept = self.kept
        return board

    def options(self, board: Board) -> Options:
        options = super().options(board)
        options.picked = f"{title(self.desk.deck, self.desk.picked)}" if self.desk.picked else ""
        return options

    def offered(self) -> list[KeyAction]:
        """All but the keys of seats that are somebody else's, and the way on to the next event where there is none."""
        nobodys = {str(seat) for seat in Seat if seat not in self.host.vantage.own}
        if not self.host.steps:
            nobodys.add("step")
        return [action for action in self.ACTIONS if action.name not in nobodys]

    def foot(self, width: int) -> Text:
        if not self.desk.picked:
            return super().foot(width)
        keys = "  ".join(f"[{self.key_of(str(seat))}] {seat.label.lower()}" for seat in self.host.vantage.own)
        return one_line(f"picked: {title(self.desk.deck, self.desk.picked)}   {keys}", width)

    def say(self, words: str) -> None:
        """Words for the crew on the bottom line; what was refused goes before them."""
        super().say(self.desk.refusal() or words)

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

    def _choose(
        self, heading: str, of: Callable[[Work, Vantage], choosing.Rows], then: Callable[[str], object], none: str
    ) -> None:
        self._pick(heading, of(self.desk.work(), self.vantage), then, none)

    def _pick(self, heading: str, rows: choosing.Rows, then: Callable[[str], object], none: str) -> None:
        if not rows:
            self.say(none)
            return

        def picked(choice: str | None) -> None:
            said = then(choice) if choice is not None else ""
            self.say(said if isinstance(said, str) else "")

        self.app.push_screen(Picker(heading, rows), picked)

    def action_captain(self) -> None:
        self._press(Seat.CAPTAIN)

    def action_first_officer(self) -> None:
        self._press(Seat.FIRST_OFFICER)

    def action_pick(self) -> None:
        def take(choice: str) -> None:
            self.desk.picked = choice

        self.desk.picked = ""
        self._choose(
            "Pick an item, then a seat's key",
            choosing.pickable,
            take,
            "nothing to pick",
        )

    def action_tell(self) -> None:
        self._choose("Tell a fact", choosing.facts, self.desk.tell, "no fact can be told now")

    def action_call_list(self) -> None:
        self._choose(
            "Call a checklist",
            choosing.callable_lists,
            self.desk.call_list,
            "no list in this phase",
        )

    def action_defer(self) -> None:
        self._choose(
            "Put off, until when?",
            choosing.deferrable,
            self.desk.defer,
            "nothing can be put off",
        )

    def action_challenge(self) -> None:
        self._choose(
            "Challenge",
            choosing.challengeable,
            self.desk.challenge,
            "nothing to challenge",
        )

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
        flight = self.host.flight
        rows = instruct.rows(flight.scenario, flight.session, flight.happened, flight.held, flight.now)
        self._pick("For the instructor: what happens now?", rows, self.desk.instruct, "nothing can happen any more")

    def action_pause(self) -> None:
        self.desk.pause()
        self.say("")

    def action_faster(self) -> None:
        self.desk.pace(+1)
        self.say("")

    def action_slower(self) -> None:
        self.desk.pace(-1)
        self.say("")

    def action_step(self) -> None:
        self.say(self.desk.step_on())

    def action_aid(self) -> None:
        self.say(self.desk.aid())

    def action_withhold(self) -> None:
        self.say(self.desk.aid(toggle_withhold=True))

    def action_weather(self) -> None:
        def typed(report: str | None) -> None:
            self.say("" if report is None else self.desk.weather(report))

        if self.desk.arrival() is None:
            self.say("this flight has no arrival whose brief could be worked out anew")
            return
        self.app.push_screen(AskReport(), typed)

    def action_note(self) -> None:
        at = self.host.now

        def written(words: str | None) -> None:
            if words is not None:
                self.say(self.host.keep(ev.Noted(at=self.host.now, about=at, words=words)))

        self.app.push_screen(AskNote(clock(at)), written)

    def action_quit(self) -> None:
        if self.host.flight.session.ended:
            super().action_quit()
            return

        def confirmed(yes: bool | None) -> None:
            if yes:
                self.app.exit()

        self.app.push_screen(Confirm(f"Leave the flight? {self.host.kept}"), confirmed)
