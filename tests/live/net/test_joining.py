"""Guests on real sockets: they come, see the same flight as the host, say what they may, and go."""

from pathlib import Path

from flowdeck.crew.pilot import Pilot
from flowdeck.live.host import Host
from flowdeck.live.journal import read_file
from flowdeck.live.net.link import GuestLink
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.lapse import NO_LAPSES
from flowdeck.model.seats import Seat
from flowdeck.model.session import same
from flowdeck.trial.company import join
from flowdeck.trial.flight import take_off
from flowdeck.view.vantage import ABSENT, JOINED, PLAYED
from flowdeck.wire.link.marks import known_as
from flowdeck.wire.link.stations import Station
from tests.support.cockpit import TestClock
from tests.support.crewed import CODE, Hosted, hosted
from tests.support.small import small_deck, small_scenario

CPT, FO = Seat.CAPTAIN, Seat.FIRST_OFFICER
BRIEF = inp.Act(at=0, seat=CPT, item="brief")


async def turned_away(h: Hosted, station: Station, code: str = CODE) -> GuestLink:
    """A guest that gets no place."""
    link = h.link(station, code=code)
    assert not await link.ready()
    h.guests.remove(link)
    return link


async def test_what_one_pilot_does_both_see(tmp_path: Path) -> None:
    """The briefing is given by both; both terminals and the journal know it, and whose input it was."""
    async with hosted(tmp_path / "a.journal") as h:
        captain, first_officer = await h.guest(Station.CAPTAIN), await h.guest(Station.FIRST_OFFICER)
        await h.fly(5)
        first_officer.tick()
        assert await h.ask(captain, BRIEF) == ""
        assert await h.ask(first_officer, inp.Act(at=0, seat=FO, item="brief")) == ""
        await h.followed()
        assert "brief" in captain.flight.session.done
        assert h.all_same()
        arrived = [type(event).__name__ for event in first_officer.tick()]
        assert arrived[:2] == ["InputTaken", "ItemPartly"] and "ItemDone" in arrived
        assert first_officer.tick() == ()
        names = [known_as(link.following.guest) for link in (captain, first_officer)]
    written = read_file(str(tmp_path / "a.journal")).events
    assert [(e.guest, e.count) for e in written if isinstance(e, ev.InputTaken)] == [(name, 1) for name in names]
    assert captain.following.guest not in (tmp_path / "a.journal").read_text(encoding="utf-8")


async def test_what_follows_from_an_input_is_one_group_of_the_journal(tmp_path: Path) -> None:
    """The line that says whose input it was is written together with what came of it."""
    async with hosted(tmp_path / "a.journal") as h:
        captain = await h.guest(Station.CAPTAIN)
        await h.ask(captain, BRIEF)
    lines = (tmp_path / "a.journal").read_text(encoding="utf-8").splitlines()
    at = next(i for i, line in enumerate(lines) if '"InputTaken"' in line)
    assert f'"n":{at},"to":{at + 1},' in lines[at] and '"ItemPartly"' in lines[at + 1]


async def test_readings_path_and_film_of_a_guest_are_those_of_the_flight() -> None:
    async with hosted() as h:
        captain = await h.guest(Station.CAPTAIN)
        await h.fly(20)
        late = await h.guest(Station.FIRST_OFFICER)
        for link in (captain, late):
            assert link.flight.readings.values == h.host.flight.traced
            assert len(link.flown) >= 15
            assert link.flown[-1] == late.flown[-1]
            film = link.film()
            assert film is not None and list(film.events) == h.host.events
            assert link.now == h.host.now
        before = captain.before().values["distance_nm"]
        now = captain.flight.readings.values["distance_nm"]
        assert isinstance(before, float) and isinstance(now, float) and before > now


async def test_a_seat_that_is_taken_and_a_wrong_code() -> None:
    async with hosted() as h:
        await h.guest(Station.CAPTAIN)
        assert (await turned_away(h, Station.CAPTAIN)).following.closed == "the captain's seat is taken"
        wrong = await turned_away(h, Station.FIRST_OFFICER, code="AAAAA-AAAAA")
        assert wrong.following.closed == wrong.unreached == "the join code is wrong"
        assert wrong.following.deck is None and not wrong.flown


async def test_a_code_may_be_typed_in_any_way() -> None:
    async with hosted() as h:
        link = h.link(Station.CAPTAIN, code=f" {CODE.lower().replace('-', ' ')} ")
        assert await link.ready()


async def test_nobody_speaks_for_the_other_seat_and_an_observer_says_nothing() -> None:
    async with hosted() as h:
        captain, observer = await h.guest(Station.CAPTAIN), await h.guest(Station.OBSERVER)
        events = len(h.host.events)
        other = inp.Act(at=0, seat=FO, item="brief")
        assert await h.ask(captain, other) == "a captain speaks for no other seat"
        assert await h.ask(observer, BRIEF) == "an observer sits in no seat"
        assert await h.ask(observer, inp.Pause(at=0)) == "an observer only looks on"
        assert await h.ask(captain, inp.Tick(at=10**9)) == "time, signals and the plan are the host's"
        assert await h.ask(captain, inp.Defer(at=0, seat=CPT, item="speed", in_s=1e8)) == (
            "in_s: expected 0 to 86400 s, found 1e+08"
        )
        assert len(h.host.events) == events


async def test_the_time_of_an_input_is_the_hosts() -> None:
    async with hosted() as h:
        captain = await h.guest(Station.CAPTAIN)
        await h.fly(7)
        await h.ask(captain, inp.Act(at=10**12, seat=CPT, item="brief"))
        assert h.host.events[-1].at == 7000


async def test_the_crew_pauses_until_an_instructor_is_there() -> None:
    async with hosted() as h:
        captain = await h.guest(Station.CAPTAIN)
        assert await h.ask(captain, inp.Pause(at=0)) == ""
        instructor = await h.guest(Station.INSTRUCTOR)
        words = "while an instructor is there, this is the instructor's"
        assert await h.ask(captain, inp.Unpause(at=0)) == words
        assert h.host.flight.session.paused
        assert await h.ask(instructor, inp.Unpause(at=0)) == ""
        await instructor.close()
        h.guests.remove(instructor)
        await h.until(captain, lambda: len(captain.roster) == 1)
        assert await h.ask(captain, inp.Pause(at=0)) == ""


async def test_notes_and_weather_over_the_link() -> None:
    async with hosted() as h:
        instructor, captain = await h.guest(Station.INSTRUCTOR), await h.guest(Station.CAPTAIN)
        await h.fly(3)
        assert instructor.keep(ev.Noted(at=0, about=1500, words="calm so far")) == "sent to the host"
        await h.followed()
        noted = h.host.events[-1]
        assert noted == ev.Noted(at=3000, about=1500, words="calm so far", by="instructor")
        assert instructor.following.events[-1] == noted
        assert same(instructor.following.stand.session, h.host.flight.session)
        assert captain.following.events[-1] is None  # for the debrief: it comes at the end
        instructor.revise("this is no report")
        await h.until(instructor, lambda: not instructor.following.pending)
        assert instructor.refusal()


async def test_who_is_there_is_known_to_all() -> None:
    async with hosted() as h:
        captain = await h.guest(Station.CAPTAIN)
        assert captain.vantage.own == (CPT,)
        assert captain.vantage.hands == {FO: ABSENT}
        first_officer = await h.guest(Station.FIRST_OFFICER)
        await h.until(captain, lambda: len(captain.roster) == 2)
        assert captain.vantage.hands == {FO: JOINED}
        await first_officer.close()
        h.guests.remove(first_officer)
        await h.until(captain, lambda: len(captain.roster) == 1)
        observer = await h.guest(Station.OBSERVER)
        assert observer.vantage.own == ()
        assert h.said == [
            "Captain has come",
            "First officer has come",
            "First officer has left",
            "Observer has come",
        ]


async def test_a_silent_host_is_told_within_two_seconds_and_nothing_is_sent_into_it() -> None:
    async with hosted() as h:
        captain = await h.guest(Station.CAPTAIN)
        await h.fly(3)
        assert captain.trouble == ""
        h.clock.now += 1.6  # no turn of the host
        assert captain.trouble == "link lost for 2 s: trying again, and no key counts: say aloud what you do"
        assert captain.now == h.host.now + 1000
        refused = captain.send(BRIEF)
        assert [event.because for event in refused if isinstance(event, ev.Refused)] == ["not sent: the link is lost"]
        assert captain.following.pending == () and captain.refusal() == ""
        await h.fly(1)
        assert captain.trouble == ""


async def test_what_is_sealed_is_not_sent_to_the_crew_and_revealed_when_it_is_caught() -> None:
    """The captain, whose slips are sealed, forgets the speed; the first officer hears of it after speaking up."""
    async with hosted(sealed=(CPT,)) as h:
        first_officer, instructor = await h.guest(Station.FIRST_OFFICER), await h.guest(Station.INSTRUCTOR)
        await h.fly(62)
        assert instructor.following.events.count(None) == 0
        assert first_officer.following.events.count(None) > 0
        assert not first_officer.flight.session.item("speed").overdue
        assert instructor.flight.session.item("speed").overdue
        await h.ask(first_officer, inp.Challenge(at=0, seat=FO, about="speed"))
        await h.until(first_officer, lambda: first_officer.flight.session.item("speed").overdue)


async def test_an_instructor_lets_something_happen_and_holds_something_back() -> None:
    """What took place, and what waits until when, is known at every terminal; nobody else may do it."""
    async with hosted() as h:
        instructor, captain = await h.guest(Station.INSTRUCTOR), await h.guest(Station.CAPTAIN)
        await h.fly(3)
        instructor.hold_back("clear", 60)
        instructor.play("cloud")
        captain.play("clear")
        await h.followed()
        for link in (instructor, captain):
            assert link.flight.happened == h.host.flight.happened == {"cloud"}
            assert link.flight.held == h.host.flight.held == {"clear": 63_000}
        assert captain.refusal() == "what happens is an instructor's"
        instructor.play("no such thing")
        await h.followed()
        assert instructor.refusal() == "nothing of this name can happen any more"


async def test_a_disk_that_refuses_is_told_to_all(tmp_path: Path) -> None:
    """The journal is removed under the host: the flight goes on, and every terminal says that nothing is saved."""
    path = tmp_path / "a.journal"
    async with hosted(path) as h:
        captain = await h.guest(Station.CAPTAIN)
        path.unlink()
        assert await h.ask(captain, BRIEF) == ""
        await h.fly(1)
        assert captain.trouble == "nothing is being saved: the journal was removed (a.journal)"
        assert h.all_same()


async def test_a_seat_that_the_tool_plays() -> None:
    """Nobody may take it; what the played pilot does is seen at the other terminal, what it lets slip is not."""
    deck = small_deck()
    clock = TestClock()
    flight, events = take_off(deck, small_scenario(deck), solo=False, sealed=(FO,))
    pilots = (Pilot(seat=FO, seed=1, lapses=NO_LAPSES),)
    flight, joined = join(flight, pilots)
    h = Hosted(Host(flight, None, clock, past=(*events, *joined), pilots=pilots), clock, played=(FO,))
    await h.serve()
    away = await turned_away(h, Station.FIRST_OFFICER)
    assert away.following.closed == "the first officer is played by the tool"
    captain = await h.guest(Station.CAPTAIN)
    assert captain.vantage.hands == {FO: PLAYED}
    await h.fly(30)
    acts = [event for event in captain.following.shown if isinstance(event, (ev.ItemDone, ev.ItemPartly))]
    assert FO in {act.seat for act in acts}
    await h.leave()
