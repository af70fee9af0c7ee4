"""Links that break anywhere, and a host that is gone for a while: nothing is lost, nothing counts twice."""

import asyncio
from collections import Counter
from functools import partial
from pathlib import Path
from random import Random

import pytest

from flowdeck.engine.owed import owed, to_input
from flowdeck.live.net.link import GuestLink
from flowdeck.live.net.server import Server
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.seats import Seat
from flowdeck.wire.link.marks import known_as
from flowdeck.wire.link.stations import Station
from tests.conftest import Measured
from tests.live.net.cutter import Cutter, cutter
from tests.support.cockpit import TestClock
from tests.support.crewed import CODE, Hosted, hosted, new_host, resumed_host

CPT, FO = Seat.CAPTAIN, Seat.FIRST_OFFICER


async def test_what_was_asked_for_while_the_link_broke_counts_once() -> None:
    """Asked for and not answered when the line breaks: said again by itself, and decided once."""
    async with hosted() as h, cutter(h.port) as (line, port):
        captain = await h.guest(Station.CAPTAIN, port=port)
        await h.fly(2)
        for item in ("brief", "speed"):
            captain.send(inp.Act(at=0, seat=CPT, item=item))
        line.break_off()
        await h.until(captain, lambda: captain.links == 2 and not captain.following.pending)
        await h.followed()
        taken = [event.count for event in h.host.events if isinstance(event, ev.InputTaken)]
        assert taken == [1, 2]
        assert h.all_same()
        assert h.said == ["Captain has come", "Captain is lost", "Captain is back"]


async def test_an_answer_that_was_cut_off_is_given_again() -> None:
    """The input arrives, the answer does not: the second time it is only answered."""
    async with hosted() as h, cutter(h.port) as (line, port):
        captain = await h.guest(Station.CAPTAIN, port=port)
        await h.fly(2)
        captain.send(inp.Act(at=0, seat=FO, item="brief"))
        await asyncio.wait_for(_decided(h, captain), 30)
        line.break_off()
        await h.until(captain, lambda: captain.links == 2 and not captain.following.pending)
        assert captain.refusal() in ("", "a captain speaks for no other seat")
        assert h.server.hosting.counts[known_as(captain.following.guest)] == 1


async def _decided(h: Hosted, link: GuestLink) -> None:
    while h.server.hosting.counts[known_as(link.following.guest)] < link.following.count:
        await asyncio.sleep(0)


async def test_the_same_guest_takes_over_its_earlier_link() -> None:
    """The host has not noticed that a link is dead when its guest comes again."""
    async with hosted() as h:
        first = await h.guest(Station.CAPTAIN)
        again = GuestLink(
            "127.0.0.1", h.port, code=CODE, station=Station.CAPTAIN, clock=h.clock, guest=first.following.guest
        )
        running = asyncio.create_task(again.run())
        assert await again.ready()
        await first.until(lambda: first.over)
        assert first.following.closed == "another link of this guest has taken its place"
        h.guests[:] = [again]
        assert len(h.server.links) == 1
        await again.close()
        await running


async def test_guests_come_back_by_themselves_to_a_host_that_was_started_again(tmp_path: Path) -> None:
    """The host is gone and goes on from its journal at the same port; what was asked for before is not taken twice."""
    path = tmp_path / "a.journal"
    clock = TestClock()
    h = Hosted(new_host(path, clock), clock)
    await h.serve()
    captain, first_officer = await h.guest(Station.CAPTAIN), await h.guest(Station.FIRST_OFFICER)
    await h.fly(5)
    await h.ask(captain, inp.Act(at=0, seat=CPT, item="brief"))
    assert await h.ask(first_officer, inp.Act(at=0, seat=CPT, item="speed"))
    await h.server.close("the host was closed, and may be taken up again", final=False)
    h.host.close()
    await captain.until(lambda: captain.unreached != "")
    clock.now += 2
    assert captain.trouble == ("link lost for 2 s (the host was closed, and may be taken up again): trying again")
    h.server = Server(resumed_host(path, clock), code=CODE, flight="tested", say=h.said.append)
    await h.serve(port=h.port)
    await h.until(captain, lambda: captain.links == 2)
    await h.until(first_officer, lambda: first_officer.links == 2)
    await h.followed()
    assert captain.flight.session.paused
    assert await h.ask(first_officer, inp.Unpause(at=0)) == ""
    assert await h.ask(first_officer, inp.Act(at=0, seat=FO, item="brief")) == ""
    await h.fly(5)
    assert h.all_same()
    assert "brief" in h.host.flight.session.done
    counts = Counter((e.guest, e.count) for e in h.host.events if isinstance(e, ev.InputTaken))
    assert set(counts.values()) == {1}
    await h.leave()


async def test_a_journal_that_lost_its_end_is_what_counts(tmp_path: Path) -> None:
    """Guests know more than the journal that the host goes on from: they begin anew, and agree in the end."""
    path = tmp_path / "a.journal"
    clock = TestClock()
    h = Hosted(new_host(path, clock), clock)
    await h.serve()
    captain = await h.guest(Station.CAPTAIN)
    await h.fly(5)
    whole = path.read_bytes()
    await h.fly(30)
    known = len(captain.following.events)
    await h.server.close("gone", final=False)
    h.host.close()
    path.write_bytes(whole)
    h.server = Server(resumed_host(path, clock), code=CODE, flight="tested")
    await h.serve(port=h.port)
    await h.until(captain, lambda: captain.links == 2)
    await h.ask(captain, inp.Unpause(at=0))
    await h.fly(5)
    assert h.all_same()
    assert len(captain.following.events) == len(h.host.events) < known
    await h.leave()


async def cut_often(h: Hosted, line: Cutter, links: list[GuestLink], chance: Random, cuts: int) -> None:
    """Fly while the line breaks again and again, anywhere in what goes over it, pilots doing what they owe."""
    while line.cuts < cuts:
        if line.left is None:
            line.left = chance.randrange(1, chance.choice((400, 20_000, 300_000)))
        h.clock.now += 0.5
        h.server.turn()
        for link in links:
            seat = link.station.seat
            mine = [duty for duty in owed(link.flight.deck, link.flight.session) if duty.seat is seat]
            if mine and chance.random() < 0.3:
                link.send(to_input(chance.choice(mine), 0))
        broken = partial(lambda before: line.cuts > before, line.cuts)
        for link in links:
            await h.until(link, lambda link=link, broken=broken: link.silent_s == 0 or broken())


async def agree_after(cuts: int, seed: int, journal: Path) -> None:
    async with hosted(journal, sealed=(CPT,)) as h, cutter(h.port) as (line, port):
        stations = (Station.CAPTAIN, Station.FIRST_OFFICER, Station.INSTRUCTOR)
        links = [await h.guest(station, port=port) for station in stations]
        await cut_often(h, line, links, Random(seed), cuts)
        line.left = None
        await h.fly(1)
        await h.followed()
        captain, first_officer, instructor = links
        assert list(instructor.following.events) == h.host.events
        assert captain.following.events == first_officer.following.events
        taken = Counter((e.guest, e.count) for e in h.host.events if isinstance(e, ev.InputTaken))
        assert set(taken.values()) == {1}
        for link in links:
            mine = [count for guest, count in taken if guest == known_as(link.following.guest)]
            assert mine == sorted(mine) and len(mine) <= link.following.count
            assert link.following.pending == ()


async def test_a_few_random_cut_offs(tmp_path: Path) -> None:
    await agree_after(6, 1, tmp_path / "a.journal")


@pytest.mark.soak
async def test_two_hundred_random_cut_offs(tmp_path: Path, measured: Measured) -> None:
    for seed in range(10):
        await agree_after(20, seed, tmp_path / f"{seed}.journal")
    measured("200 cut-offs of links over real sockets, 10 flights: all agree")
