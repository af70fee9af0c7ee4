"""The screen of a guest, by keys, over a real link: before the flight, what others do, who leads, a lost link."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

import pytest
from msgspec.structs import replace
from textual.pilot import Pilot

from flowdeck.live.net.link import GuestLink
from flowdeck.live.net.server import Server
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.seats import Seat
from flowdeck.tui.app import FlowdeckApp
from flowdeck.tui.keys import KEYS
from flowdeck.tui.screens.before import BeforeFlight
from flowdeck.wire.link.following import NOTHING_YET
from flowdeck.wire.link.stations import Station
from tests.support.crewed import CODE, Hosted, hosted, resumed_host
from tests.support.pilot import press, rest

CPT, FO = Seat.CAPTAIN, Seat.FIRST_OFFICER
BRIEF = inp.Act(at=0, seat=FO, item="brief")


class Terminal:
    """A guest's open screen, and the host that it is linked to."""

    def __init__(self, h: Hosted, link: GuestLink, app: FlowdeckApp, pilot: Pilot[None]) -> None:
        self.h, self.link, self.app, self.pilot = h, link, app, pilot

    async def press(self, *keys: str) -> None:
        """Press keys, and wait until the host has answered them and the screen shows it."""
        await press(self.pilot, *keys)
        await self.h.followed()
        await rest(self.pilot)

    async def fly(self, seconds: float) -> None:
        await self.h.fly(seconds)
        await rest(self.pilot)

    def lanes(self) -> str:
        lanes = self.app.flight.query_one("#lanes")
        return "\n".join(lanes.render_line(y).text for y in range(lanes.size.height))

    def text(self, bar: str) -> str:
        return str(self.app.flight.query_one(f"#{bar}").render())

    def page(self) -> str:
        assert isinstance(self.app.screen, BeforeFlight)
        return str(self.app.screen.query_one("#page").render())


@asynccontextmanager
async def terminal(
    station: Station,
    *others: Station,
    journal: Path | None = None,
    sealed: tuple[Seat, ...] = (),
    size: tuple[int, int] = (100, 30),
    waits: bool = False,
) -> AsyncIterator[Terminal]:
    """A screen at *station*; *others* have joined before it. *waits*: the flight has not begun."""
    async with hosted(journal, sealed=sealed) as h:
        if waits:
            h.host.send(inp.Pause(at=0))
            h.server.turn()
        for other in others:
            await h.guest(other)
        link = await h.guest(station)
        app = FlowdeckApp(link)
        async with app.run_test(size=size) as pilot:
            await rest(pilot)
            yield Terminal(h, link, app, pilot)


async def test_before_the_flight_a_page_says_who_sits_where() -> None:
    """The captain's screen, the first officer there, no instructor: who flies, which aids, what is kept."""
    async with terminal(Station.CAPTAIN, Station.FIRST_OFFICER, waits=True) as t:
        rows = [" ".join(line.split()) for line in t.page().splitlines()]
        assert "Captain you flies" in rows and "First officer at another terminal monitors" in rows
        assert "Instructor none: the crew itself begins and pauses" in rows
        assert any(row.startswith("Aid guided") for row in rows) and "Kept from the crew nothing" in rows
        assert "Training and simulation only" in t.page()


async def test_who_is_missing_is_said_until_they_come() -> None:
    async with terminal(Station.CAPTAIN, waits=True) as t:
        assert "There is no first officer yet." in t.page() and "nobody yet" in t.page()
        await t.h.guest(Station.FIRST_OFFICER)
        await t.h.until(t.link, lambda: len(t.link.roster) == 2)
        await rest(t.pilot)
        assert "at another terminal" in t.page() and "There is no" not in t.page()


async def test_of_a_played_seat_it_says_what_is_kept() -> None:
    async with terminal(Station.CAPTAIN, waits=True, sealed=(FO,)) as t:
        assert "what the first officer lets slip, until it is caught" in t.page()


async def test_aid_and_prompts_are_set_on_the_page() -> None:
    async with terminal(Station.CAPTAIN, waits=True) as t:
        await t.press("a", "w")
        assert "drill: nothing shows what is next" in t.page() and "withheld until the debrief" in t.page()
        assert "what slips, until the debrief" in t.page()


async def test_the_page_goes_when_the_flight_begins() -> None:
    """By this terminal's key, or by another's."""
    async with terminal(Station.CAPTAIN, waits=True) as t:
        await t.press("space")
        assert not isinstance(t.app.screen, BeforeFlight) and not t.h.host.flight.session.paused
    async with terminal(Station.CAPTAIN, Station.INSTRUCTOR, waits=True) as t:
        await t.h.ask(t.h.guests[0], inp.Unpause(at=0))
        await t.h.followed()
        await rest(t.pilot)
        assert not isinstance(t.app.screen, BeforeFlight)


async def test_beside_an_instructor_a_pilot_does_not_begin() -> None:
    async with terminal(Station.CAPTAIN, Station.INSTRUCTOR, waits=True) as t:
        await t.press("space")
        assert "this is the instructor's" in t.page() and t.h.host.flight.session.paused


async def test_the_page_can_be_left_to_look_at_the_flight() -> None:
    async with terminal(Station.CAPTAIN, waits=True) as t:
        await t.press("escape")
        assert t.app.screen is t.app.flight and "paused" in t.text("title")


async def test_the_own_seat_stands_on_the_left_and_of_the_other_only_what_is_done() -> None:
    async with terminal(Station.FIRST_OFFICER, Station.CAPTAIN) as t:
        await t.fly(5)
        assert t.lanes().splitlines()[0].strip().startswith("First officer, monitoring")
        assert "Captain, flying (joined)" in t.lanes()
        captain = t.app.flight.board().lanes[1]
        assert captain.seat is CPT and captain.next is None and captain.ahead == ()


async def test_what_the_other_pilot_does_is_shown() -> None:
    """The first officer speaks at another terminal; the captain's screen has it without a key or a frame of its own."""
    async with terminal(Station.CAPTAIN, Station.FIRST_OFFICER) as t:
        await t.fly(5)
        before = t.lanes()
        await t.h.ask(t.h.guests[0], BRIEF)
        await t.h.followed()
        await rest(t.pilot)
        assert t.lanes() != before and "done by one of the two" not in before
        assert "brief" in {ref for ref, state in t.link.flight.session.items.items() if state.partly == (FO,)}


async def test_a_key_does_what_it_does_and_only_for_the_own_seat() -> None:
    async with terminal(Station.CAPTAIN, Station.FIRST_OFFICER) as t:
        await t.fly(5)
        await t.press("f")
        acts = [e for e in t.h.host.events if isinstance(e, (ev.ItemDone, ev.ItemPartly))]
        assert [e.seat for e in acts] == [CPT]
        await t.press("j")
        assert "First officer: joined" in t.text("hints")
        assert len([e for e in t.h.host.events if isinstance(e, (ev.ItemDone, ev.ItemPartly))]) == 1


async def test_a_lost_link_is_said_within_two_seconds_with_what_to_do() -> None:
    """The host falls silent: title and keys say so, and what to do; when it is back, all is as it was."""
    async with terminal(Station.CAPTAIN) as t:
        await t.fly(3)
        t.h.clock.now += 1.9
        t.app.flight.frame()
        assert "link lost for 2 s: trying again, and no key counts: say aloud what you do" in t.text("title")
        await press(t.pilot, "f")
        assert "not sent: the link is lost" in t.text("hints")
        await t.fly(1)
        assert "link lost" not in t.text("title") and t.h.all_same()


async def test_who_comes_and_goes_is_said() -> None:
    async with terminal(Station.CAPTAIN) as t:
        await t.fly(1)
        instructor = await t.h.guest(Station.INSTRUCTOR)
        await t.h.until(t.link, lambda: len(t.link.roster) == 2)
        await rest(t.pilot)
        assert "Instructor is there" in t.text("hints")
        await instructor.close()
        t.h.guests.remove(instructor)
        await t.h.until(t.link, lambda: len(t.link.roster) == 1)
        await rest(t.pilot)
        assert "Instructor is gone" in t.text("hints")


async def test_an_instructor_leads(tmp_path: Path) -> None:
    """Pauses, hides the prompts, lets something happen, and keeps a note; the seats are not the instructor's."""
    async with terminal(Station.INSTRUCTOR, Station.CAPTAIN, journal=tmp_path / "a.journal") as t:
        await t.fly(5)
        assert [lane.foreign for lane in t.app.flight.board().lanes] == [False, False]
        assert "[f]" not in t.text("hints")
        await t.press("space")
        assert t.h.host.flight.session.paused
        await t.press("space", "w")
        assert t.h.host.flight.session.withhold and not t.h.host.flight.session.paused
        await t.press("N", *"who had the radio", "enter")
        assert [e.words for e in t.h.host.events if isinstance(e, ev.Noted)] == ["who had the radio"]
        await t.press("f")
        assert "an instructor sits in no seat" in t.text("hints")


async def test_an_observer_looks_on() -> None:
    async with terminal(Station.OBSERVER, Station.CAPTAIN) as t:
        await t.fly(5)
        known = len(t.h.host.events)
        for key in ("f", "j", "space", "a", "g"):
            await t.press(key)
        assert [e for e in t.h.host.events[known:] if not isinstance(e, ev.InputTaken)] == []
        assert "observer" in t.text("hints") or "observer" in t.text("title")


SCREEN = {"teach", "numbers", "path", "slips", "help", "quit"}
LEADING = {"weather", "note", "pause", "faster", "slower", "aid", "withhold"}
FLYING = {action.name for action in KEYS} - SCREEN - LEADING - {"step", "interrupt"}


@pytest.mark.parametrize(
    ("station", "others", "offered"),
    [
        (Station.CAPTAIN, (), SCREEN | LEADING | FLYING - {"first_officer"}),
        (Station.FIRST_OFFICER, (Station.INSTRUCTOR,), SCREEN | FLYING - {"captain"}),
        (Station.OBSERVER, (Station.CAPTAIN,), SCREEN),
        (Station.INSTRUCTOR, (Station.CAPTAIN,), SCREEN | LEADING | {"tell", "interrupt"}),
    ],
)
async def test_only_keys_that_may_be_pressed_are_offered(
    station: Station, others: tuple[Station, ...], offered: set[str]
) -> None:
    """On the bottom line, on the page of keys and in the list of actions: who takes part has its own."""
    async with terminal(station, *others, size=(200, 60)) as t:
        assert {action.name for action in t.app.flight.offered()} == offered
        hints = t.text("hints")
        assert [a.name for a in KEYS if a.hint and f"] {a.hint} " in f"{hints} "] == [
            a.name for a in KEYS if a.hint and a.name in offered
        ]
        titles = {command.title for command in t.app.get_system_commands(t.app.screen)}
        assert titles == {f"{a.title}  ({a.shown})" for a in KEYS if a.name in offered}


async def test_an_instructor_who_comes_takes_the_keys_of_time() -> None:
    async with terminal(Station.CAPTAIN, size=(200, 60)) as t:
        assert "[space] pause" in t.text("hints")
        await t.h.guest(Station.INSTRUCTOR)
        await t.h.until(t.link, lambda: len(t.link.roster) == 2)
        await t.fly(5)
        assert "[space]" not in t.text("hints") and "[f] captain" in t.text("hints")


async def test_what_is_asked_of_the_host_is_said_to_be_sent_or_why_not() -> None:
    """A report that is sent is not called one that changes nothing; with the link lost nothing is said to come."""
    async with terminal(Station.INSTRUCTOR, Station.CAPTAIN) as t:
        desk = t.app.flight.desk
        assert desk.weather("METAR XQTH 050850Z 24015KT 9999 FEW030 10/05 Q1013") == "sent to the host"
        await t.h.followed()
        t.h.clock.now += 5
        assert t.link.is_lost
        for said in (desk.weather("x"), desk.instruct("later/x"), desk.instruct("play/x")):
            assert said == "not sent: the link is lost"


async def test_a_refused_key_does_not_speak_later() -> None:
    """With the link lost a pause is refused at once; the next key has its own words."""
    async with terminal(Station.CAPTAIN) as t:
        t.h.clock.now += 5
        await press(t.pilot, "space")
        assert "not sent: the link is lost" in t.text("hints")
        t.app.flight.say("something else")
        assert "something else" in t.text("hints")


async def test_a_host_that_comes_back_with_an_older_journal_is_told_anew(tmp_path: Path) -> None:
    """The screen shows what it knew until the flight has been told again; nothing breaks in between."""
    path = tmp_path / "a.journal"
    async with terminal(Station.CAPTAIN, journal=path) as t:
        await t.fly(5)
        whole = path.read_bytes()
        await t.fly(30)
        known = len(t.link.following.events)
        await t.h.server.close("gone", final=False)
        t.h.host.close()
        path.write_bytes(whole)
        t.h.server = Server(resumed_host(path, t.h.clock), code=CODE, flight="tested")
        welcome = replace(t.link.following, events=(), stand=NOTHING_YET)
        t.link.following = welcome  # as between the welcome and the first event
        t.app.flight.frame()
        assert t.app.flight.board().clock == "00:00:35"
        await t.h.serve(port=t.h.port)
        await t.h.until(t.link, lambda: t.link.links == 2)
        await t.h.followed()
        t.app.flight.frame()
        await rest(t.pilot)
        assert len(t.link.following.events) == len(t.h.host.events) < known and t.h.all_same()
        assert t.app.flight.board().clock < "00:00:06"


@pytest.mark.parametrize("size", [(80, 24), (40, 10), (120, 40)])
async def test_at_any_size(size: tuple[int, int]) -> None:
    """The page before the flight and the flight itself come up, and the title names the station."""
    async with terminal(Station.FIRST_OFFICER, Station.CAPTAIN, size=size, waits=True) as t:
        assert "First officer" in t.page()
        await t.press("space")
        await t.fly(2)
        assert t.h.host.flight.now == 2000 and t.h.all_same()


async def test_leaving_says_what_becomes_of_the_flight() -> None:
    async with terminal(Station.CAPTAIN) as t:
        await press(t.pilot, "q")
        assert "The host goes on, and the place is free for another." in str(
            t.app.screen.query_one("#question").render()
        )
