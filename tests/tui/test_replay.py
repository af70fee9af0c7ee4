"""A flight looked at again, from the keyboard alone: any moment, any pace, bookmarks, notes, the debrief."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

from textual.pilot import Pilot

from flowdeck.live.journal import Journal, add_note, read_file
from flowdeck.live.projector import PACES, Projector
from flowdeck.model import events as ev
from flowdeck.trial.film import Film
from flowdeck.tui.app import FlowdeckApp
from flowdeck.tui.replay_keys import REPLAY_KEYS
from flowdeck.tui.screens.debrief import ALL, SLIPS, DebriefScreen
from flowdeck.tui.screens.replay import ReplayScreen
from tests.scenarios.flown import Flown, flown
from tests.support.cockpit import TestClock, cockpit
from tests.support.moments import flown_until
from tests.support.pilot import press, rest


def slipped() -> Flown:
    return flown("slips")


class Look:
    """An open replay."""

    def __init__(self, app: FlowdeckApp, pilot: Pilot[None], clock: TestClock, kept: list[ev.Noted]) -> None:
        self.app, self.pilot, self.clock, self.kept = app, pilot, clock, kept

    @property
    def projector(self) -> Projector:
        assert isinstance(self.app.host, Projector)
        return self.app.host

    async def press(self, *keys: str) -> "Look":
        await press(self.pilot, *keys)
        return self

    async def wait(self, seconds: float) -> "Look":
        """Let wall time pass, one frame at its end for each two seconds."""
        board = self.app.screen_stack[1]
        assert isinstance(board, ReplayScreen)
        while seconds > 0:
            self.clock.now += min(2.0, seconds)
            seconds -= 2.0
            board.frame()
        await rest(self.pilot)
        return self

    def text(self, bar: str) -> str:
        return str(self.app.screen_stack[1].query_one(f"#{bar}").render())

    def lanes(self) -> str:
        lanes = self.app.screen_stack[1].query_one("#lanes")
        return "\n".join(lanes.render_line(y).text for y in range(lanes.size.height))


@asynccontextmanager
async def look(at: int = 0, size: tuple[int, int] = (110, 36)) -> AsyncIterator[Look]:
    clock, kept = TestClock(), []

    def keep(note: ev.Noted) -> str:
        kept.append(note)
        return "noted"

    projector = Projector(Film(slipped().deck, slipped().scenario, slipped().events), keep, clock, at)
    app = FlowdeckApp(projector)
    async with app.run_test(size=size) as pilot:
        await rest(pilot)
        yield Look(app, pilot, clock, kept)


async def test_it_stands_still_until_it_is_played() -> None:
    async with look(600_000) as v:
        await v.wait(10)
        assert v.projector.now == 600_000
        assert "still" in v.text("title") and "00:10:00 of 00:32:28" in v.text("title")
        await v.press("space")
        await v.wait(10)
        assert v.projector.now == 610_000
        await v.press("space")
        await v.wait(10)
        assert v.projector.now == 610_000


async def test_what_is_shown_is_what_was_shown() -> None:
    """The lanes at a moment are those of a flight that has come to it."""
    flight = flown_until("slips", lambda f: f.now >= 629_500)
    async with look(629_500) as v, cockpit(flight=flight, size=(110, 36)) as c:
        c.app.flight.refresh_board()
        assert v.lanes() == "\n".join(c.lines())
        assert v.text("rail") == c.text("rail")
        assert v.text("strip").replace(" ↓", "") == c.text("strip")  # the other knows no past to have a trend from


async def test_ten_seconds_and_a_minute_either_way_and_both_ends() -> None:
    async with look(600_000) as v:
        await v.press("left", "left", "right", "shift+right")
        assert v.projector.now == 650_000
        await v.press("shift+left", "shift+left", "home")
        assert v.projector.now == 0
        await v.press("left")
        assert v.projector.now == 0
        await v.press("end")
        assert v.projector.now == v.projector.film.length_ms == 1_948_000


async def test_every_pace_forwards_and_backwards() -> None:
    """`+` and `-` go through the paces; below x1 the flight runs backwards; at the beginning it stands."""
    async with look(600_000) as v:
        await v.press(*["plus"] * len(PACES))
        assert v.projector.pace == PACES[-1] == 60
        await v.press(*["minus"] * len(PACES))
        assert v.projector.pace == PACES[0] == -16
        await v.press("space")
        await v.wait(10)
        assert v.projector.now == 600_000 - 160_000
        assert "x-16" in v.text("title")
        await v.wait(60)
        assert v.projector.now == 0 and not v.projector.playing


async def test_at_the_end_it_begins_again() -> None:
    async with look(1_940_000) as v:
        await v.press("space")
        await v.wait(20)
        assert v.projector.now == 1_948_000 and not v.projector.playing
        await v.press("space")
        await v.wait(2)
        assert v.projector.now == 2000


async def test_bookmarks_next_before_and_by_name() -> None:
    async with look() as v:
        await v.press("full_stop")
        assert v.projector.now == 3000 and "flow order" in v.text("hints")
        await v.press("full_stop", "full_stop", "comma")
        assert v.projector.now == 5000
        await v.press("m", *"not called", "enter")
        assert v.projector.now == 1_790_000
        await v.press("end", "full_stop")
        assert "no bookmark there" in v.text("hints")


async def test_a_note_is_kept_at_its_moment_and_is_a_bookmark() -> None:
    async with look(628_000) as v:
        await v.press("space", "N", *"Who had the radio here?", "enter")
        assert not v.projector.playing
        assert v.kept == [ev.Noted(at=1_948_000, about=628_000, words="Who had the radio here?")]
        assert "noted" in v.text("hints")
        await v.press("home", "m", *"radio", "enter")
        assert v.projector.now == 628_000
        await v.press("N", "escape", "N", "enter", "escape")
        assert len(v.kept) == 1


def test_a_note_is_added_to_a_journal_that_stays_whole(tmp_path: Path) -> None:
    """After the flight's end; what was read before it reads the same; a second note goes behind the first."""
    path = str(tmp_path / "flight.journal")
    with Journal.create(path, slipped().deck, slipped().scenario, solo=False) as journal:
        journal.append(slipped().events, sure=False)
    for i in range(2):
        note = ev.Noted(at=1_948_000, about=628_000 + i, words="Who had the radio here?")
        assert add_note(path, note, len(slipped().events) + i) == "noted"
    opened = read_file(path)
    assert opened.notes == () and opened.events[:-2] == slipped().events
    assert [event.about for event in opened.events[-2:] if isinstance(event, ev.Noted)] == [628_000, 628_001]
    assert "has grown" in add_note(path, note, len(slipped().events))
    assert len(read_file(path).events) == len(slipped().events) + 2


async def test_the_debrief_filtered_and_to_a_moment() -> None:
    """d opens it on what slipped; s, c and p narrow; Enter goes to the moment."""
    async with look() as v:
        await v.press("d")
        screen = v.app.screen
        assert isinstance(screen, DebriefScreen)
        assert len(screen.entries()) == 31
        await v.press("s")
        assert {entry.seat for entry in screen.entries()} == {"captain"}
        await v.press("s", "s", "c")
        assert ["flow order" in entry.words for entry in screen.entries()] == [True, True]
        while screen._kind != ALL:
            await v.press("c")
        everything = len(screen.entries())
        assert everything == len(screen._d.timeline) > 400
        await v.press("p")
        assert {entry.phase for entry in screen.entries()} == {"approach"}
        await v.press("c")
        assert screen._kind == SLIPS
        await v.press("home", "enter")
        assert v.app.screen.id == "replay" and v.projector.now == 3000


async def test_an_ended_flight_opens_its_debrief_and_any_moment_of_it() -> None:
    """From the end of a flight to a moment and back; a second look, and out."""
    flight = flown_until("clean", lambda f: bool(f.session.ended), solo=True)
    async with cockpit(flight=flight, size=(110, 36), past=flown("clean").events) as c:
        c.app.flight.frame()
        await rest(c.pilot)
        assert c.app.screen.id == "ending" and isinstance(c.app.screen, DebriefScreen)
        await c.press("down", "down", "enter")
        assert c.app.screen.id == "replay"
        await c.press("right", "q")
        assert c.app.screen.id == "ending"
        await c.press("q")
        assert c.app.screen.id == "flight"


def test_every_key_of_the_replay_is_one_and_has_an_action() -> None:
    keys = [action.key for action in REPLAY_KEYS]
    assert len(keys) == len(set(keys))
    assert all(hasattr(ReplayScreen, f"action_{action.name}") for action in REPLAY_KEYS)
    assert all(not action.sends for action in REPLAY_KEYS), "nothing can be sent to a flight that was flown"


async def test_it_stands_on_a_small_terminal() -> None:
    async with look(600_000, size=(80, 24)) as v:
        assert "00:10:00" in v.text("title")
        await v.press("v")
        assert v.app.screen.id == "page"
