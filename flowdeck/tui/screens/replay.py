"""A flight looked at again: the board of any moment, forwards and backwards, with bookmarks and notes."""

from collections.abc import Mapping

from rich.text import Text
from textual.binding import Binding

from flowdeck.debrief.study import study
from flowdeck.live.projector import Projector
from flowdeck.model.diagnostic import Rejected
from flowdeck.tui.look import DIM, INVERSE, STRONG
from flowdeck.tui.replay_keys import REPLAY_KEYS
from flowdeck.tui.screens.ask_note import AskNote
from flowdeck.tui.screens.board import FRAMES_PER_S, BoardScreen
from flowdeck.tui.screens.debrief import DebriefScreen
from flowdeck.tui.screens.pages import Page, help_text
from flowdeck.tui.screens.picker import Picker
from flowdeck.view.board import Board
from flowdeck.view.words import clock, safe

ABOUT = "A flight that was flown. Nothing here changes it; a note is added to its journal.\n\n"


class ReplayScreen(BoardScreen):
    """One flight, as it was. *projector* holds the moment; *debrief*: with the debrief over it at first."""

    ACTIONS = REPLAY_KEYS
    BINDINGS = [Binding(a.key, a.name, a.title, id=f"replay_{a.name}", show=False) for a in REPLAY_KEYS]

    def __init__(self, projector: Projector, mapped: Mapping[str, str], *, debrief: bool = False) -> None:
        super().__init__(projector, mapped, id="replay")
        self.projector = projector
        self._debrief = debrief

    def on_mount(self) -> None:
        self.set_interval(1 / FRAMES_PER_S, self.frame)
        self.say(self.projector.greeting)
        if self._debrief:
            self.action_debrief()

    def frame(self) -> None:
        before = self.projector.now
        self.projector.tick()
        if self.projector.now != before or self._said:
            self.refresh_board()

    def _clock(self) -> int:
        return self.projector.wall_ms  # words pass away while the flight stands still too

    def top_bar(self, board: Board, width: int) -> Text:
        p = self.projector
        pace = f"x{p.pace:g}" if p.playing else f"still, x{p.pace:g}"
        right = f"{pace}  {clock(p.now)} of {clock(p.film.length_ms)} "
        bar = Text(" looked at again  training and simulation only", style=DIM, no_wrap=True)
        bar.truncate(max(10, width - len(right) - 1), overflow="ellipsis", pad=True)
        bar.append(" ")
        bar.append(right, style=STRONG if p.playing else INVERSE)
        return bar

    def _to(self, at: int) -> None:
        self.projector.seek(at)
        self.refresh_board()

    def action_play(self) -> None:
        self.projector.play()
        self.refresh_board()

    def action_back(self) -> None:
        self._to(self.projector.now - 10_000)

    def action_on(self) -> None:
        self._to(self.projector.now + 10_000)

    def action_far_back(self) -> None:
        self._to(self.projector.now - 60_000)

    def action_far_on(self) -> None:
        self._to(self.projector.now + 60_000)

    def action_first(self) -> None:
        self._to(0)

    def action_last(self) -> None:
        self._to(self.projector.film.length_ms)

    def _jump(self, by: int) -> None:
        mark = self.projector.jump(by)
        self.say("no bookmark there" if mark is None else f"{mark.kind}: {safe(mark.words)}")

    def action_mark_before(self) -> None:
        self._jump(-1)

    def action_mark_next(self) -> None:
        self._jump(+1)

    def action_marks(self) -> None:
        rows = [
            (str(i), f"{clock(mark.at)}  {mark.kind:5}  {safe(mark.words)}")
            for i, mark in enumerate(self.projector.bookmarks)
        ]

        def picked(choice: str | None) -> None:
            if choice is not None:
                self._to(self.projector.bookmarks[int(choice)].at)

        self.app.push_screen(Picker("Go to a bookmark", rows), picked)

    def action_faster(self) -> None:
        self.projector.faster(+1)
        self.refresh_board()

    def action_slower(self) -> None:
        self.projector.faster(-1)
        self.refresh_board()

    def action_note(self) -> None:
        self.projector.playing = False

        def written(words: str | None) -> None:
            if words is None:
                return
            try:
                self.say(self.projector.note(words))
            except Rejected as rejected:
                self.say(rejected.findings[0].message)

        self.app.push_screen(AskNote(clock(self.projector.now)), written)

    def action_debrief(self) -> None:
        film = self.projector.film

        def chosen(at: int | None) -> None:
            if at is not None:
                self.projector.playing = False
                self._to(at)

        found = study(film.deck, film.scenario, film.events)
        self.app.push_screen(DebriefScreen(found, self.projector.now), chosen)

    def action_help(self) -> None:
        self.app.push_screen(Page(help_text(self.mapped, self.ACTIONS, ABOUT)))

    def action_quit(self) -> None:
        if len(self.app.screen_stack) > 2:  # over a flight that has ended
            self.dismiss(None)
        else:
            super().action_quit()
