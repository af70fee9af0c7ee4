"""One seat at the screen, the other played: what its keys do, what it shows of the other pilot, and what it keeps."""

import pytest

from flowdeck.crew.pilot import Pilot
from flowdeck.live.bundled import read_lapses
from flowdeck.model import events as ev
from flowdeck.model.deviation import Deviation
from flowdeck.model.lapse import LapseKind, Lapses
from flowdeck.model.seats import Owner, Seat
from flowdeck.model.session import same
from tests.support.seat import beside, one_seat

CPT, FO = Seat.CAPTAIN, Seat.FIRST_OFFICER


async def test_the_other_lane_shows_what_was_done_and_nothing_ahead() -> None:
    """Half a minute after the start the first officer has done some things; the captain sees them and no more."""
    async with one_seat(beside(CPT)) as s:
        await s.wait(30)
        done = [e for e in s.host.events if isinstance(e, ev.ItemDone) and e.seat is FO]
        lane = s.app.flight.board().lanes[1]
        assert lane.seat is FO and lane.foreign and len(lane.past) >= len(done) >= 5
        assert lane.next is None and lane.ahead == ()
        assert "First officer, monitoring (played)" in s.lines()[0]


async def test_the_own_seat_stands_on_the_left() -> None:
    async with one_seat(beside(FO)) as s:
        assert [lane.seat for lane in s.app.flight.board().lanes] == [FO, CPT]
        assert s.lines()[0].strip().startswith("First officer, monitoring")


async def test_the_key_of_the_other_seat_does_nothing() -> None:
    async with one_seat(beside(CPT)) as s:
        before = len(s.host.events)
        await s.press("j")
        assert "First officer: played" in s.text("hints") and len(s.host.events) == before
        await s.press("f")
        assert isinstance(s.host.events[before], ev.ItemDone) and s.host.events[before].seat is CPT


async def test_hints_show_the_own_key_alone() -> None:
    async with one_seat(beside(CPT)) as s:
        assert "[f] captain" in s.text("hints") and "[j]" not in s.text("hints")


async def test_to_challenge_gives_nothing_away() -> None:
    """The same rows whether the first officer is late with something or not."""
    omits = Lapses(id="x", title="x", percent={LapseKind.ITEM_OMITTED: 100.0})
    rows = []
    for lapses in (omits, read_lapses("light")):
        async with one_seat(Pilot(seat=FO, seed=1, lapses=lapses)) as s:
            await s.wait(60)
            await s.press("k")
            rows.append([text for _, text in s.app.screen._rows])  # type: ignore[attr-defined]  # of the picker
    assert rows[0] == rows[1] and len(rows[0]) > 10


async def test_a_lapse_is_not_shown_until_it_is_caught() -> None:
    """An item that the first officer leaves out: nothing on the screen, nothing among what slipped. The captain speaks
    up; it is done, and what was kept comes out."""
    omits = Lapses(id="x", title="x", percent={LapseKind.ITEM_OMITTED: 100.0})
    async with one_seat(Pilot(seat=FO, seed=1, lapses=omits)) as s:
        sealed: list[Deviation] = []
        while not sealed:
            await s.wait(20)
            assert s.session.at < 600_000
            known = s.whole.session.deviations
            sealed = [d for d in known if d.item in s.deck.items and s.deck.items[d.item].by is Owner.FIRST_OFFICER]
        assert not [d for d in s.session.deviations if d.seat is FO]
        assert not {notice.ref for notice in s.app.flight.board().margin} & {d.item for d in sealed}
        ref = sealed[0].item
        await s.press("k", *s.deck.items[ref].do[:12], "enter")
        await s.wait(15)
        caught = [d for d in s.session.deviations if d.item == ref]
        assert caught and caught[0].trapped_by == "other_seat"
        assert [e.ref for e in s.host.events if isinstance(e, ev.LapseMade) and e.ref == ref] == [ref]


async def test_at_the_end_nothing_is_kept_back() -> None:
    """A flight that the captain leaves alone until its limit: the same session on both sides once it has ended."""
    async with one_seat(Pilot(seat=FO, seed=1, lapses=read_lapses("heavy"))) as s:
        await s.wait(120)
        assert not same(s.session, s.whole.session)
        s.end("secured")
        await s.wait(0.5)
        assert s.app.screen.id == "ending"
        assert same(s.session, s.whole.session) and s.session.ended


async def test_prompts_of_the_other_pilot_are_not_shown() -> None:
    """What is due of the first officer is the first officer's affair; what is due of the captain is shown."""
    async with one_seat(beside(CPT)) as s:
        await s.wait(420)
        assert "Captain:" in s.text("margin")
        assert "First officer:" not in s.text("margin").replace("First officer: two challenges", "")


async def test_the_other_pilot_asks_and_is_answered() -> None:
    """A captain who does nothing is asked; one key answers."""
    async with one_seat(beside(CPT)) as s:
        for _ in range(200):
            await s.wait(2)
            if s.session.challenge is not None:
                break
        asked = next(line for line in s.text("margin").splitlines() if 'asks  First officer: "' in line)
        assert asked.rstrip().endswith('?" [l]')
        await s.press("l")
        assert s.session.challenge is None


@pytest.mark.parametrize("key", ["x", "X", "c", "u", "g", "t", "h", "p", "d"])
async def test_no_key_speaks_for_the_other_seat(key: str) -> None:
    """Whatever is pressed, and the first of what is offered chosen: all that is sent is the captain's own."""
    async with one_seat(beside(CPT)) as s:
        await s.wait(40)
        known = len(s.host.events)
        await s.press(key, "enter")
        sent = s.host.events[known:]
        assert not [e for e in sent if getattr(e, "seat", None) is FO]


async def test_something_happens_by_hand() -> None:
    """The instructor's key: a radio call, by name; it is heard, and the first officer is busy with it."""
    async with one_seat(beside(CPT)) as s:
        await s.press("i", *"radio call", "enter")
        assert "call" in s.text("margin") and s.session.interruption is not None
        acts = len([e for e in s.host.events if isinstance(e, ev.ItemDone) and e.seat is FO])
        await s.wait(10)
        assert len([e for e in s.host.events if isinstance(e, ev.ItemDone) and e.seat is FO]) == acts
        await s.wait(20)
        assert len([e for e in s.host.events if isinstance(e, ev.ItemDone) and e.seat is FO]) > acts
