"""What was asked of two terminals, tried from outside over real sockets: who may say what, what is sent."""

from pathlib import Path
from random import Random

import pytest

from flowdeck.crew.pilot import Pilot
from flowdeck.live.bundled import read_lapses
from flowdeck.live.host import Host
from flowdeck.live.journal import Journal
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.seats import Seat
from flowdeck.model.session import same
from flowdeck.trial.company import join
from flowdeck.trial.flight import take_off
from flowdeck.wire.link.stations import Station
from tests.support.cockpit import TestClock, bundled
from tests.support.crewed import Hosted, hosted, resumed_host
from tests.support.daily import some

CAPTAIN, FIRST_OFFICER = Seat.CAPTAIN, Seat.FIRST_OFFICER


def a_key(hosted_: Hosted, seat: Seat, dice: Random) -> inp.Input:
    """Something that this seat's keys can send."""
    deck, at = hosted_.host.flight.deck, hosted_.host.now
    item = dice.choice(sorted(deck.items))
    checklist = dice.choice(sorted(deck.checklists))
    made: list[inp.Input] = [
        inp.Act(at=at, seat=seat, item=item, value=dice.choice([None, 150.0, 3.0])),
        inp.CallList(at=at, seat=seat, checklist=checklist),
        inp.ReadLine(at=at, seat=seat, checklist=checklist),
        inp.Answer(at=at, seat=seat, line=dice.choice(deck.checklists[checklist].lines)),
        inp.Challenge(at=at, seat=seat, about=item),
        inp.Reply(at=at, seat=seat),
        inp.Transfer(at=at, seat=seat, part=dice.choice(["offer", "take", "confirm"])),
        inp.Undo(at=at, seat=seat),
    ]
    return dice.choice(made)


@pytest.mark.parametrize("seed", range(3))
async def test_two_guests_who_press_anything_see_the_same(seed: int) -> None:
    dice = Random(seed)
    async with hosted() as here:
        guests = [await here.guest(each) for each in (Station.CAPTAIN, Station.FIRST_OFFICER, Station.INSTRUCTOR)]
        asked = 0
        for _ in range(40):
            link = dice.choice(guests[:2])
            link.send(a_key(here, CAPTAIN if link is guests[0] else FIRST_OFFICER, dice))
            asked += 1
            if dice.random() < 0.5:
                await here.fly(1)
        await here.followed()
        assert here.all_same()
        taken = [e for e in here.host.events if isinstance(e, ev.InputTaken)]
        assert len({(e.guest, e.count) for e in taken}) == len(taken) <= asked
        assert len([e for e in here.host.events if isinstance(e, ev.ItemDone | ev.Refused | ev.Challenged)]) > 3


async def test_control_offered_by_who_does_not_fly_costs_nobody_the_link() -> None:
    """The transfer key, pressed by the pilot who monitors: a slip, and both screens go on."""
    async with hosted() as here:
        captain, other = await here.guest(Station.CAPTAIN), await here.guest(Station.FIRST_OFFICER)
        await here.ask(other, inp.Transfer(at=here.host.now, seat=FIRST_OFFICER, part="offer"))
        await here.fly(2)
        assert not captain.over, captain.following.closed
        assert not other.over, other.following.closed
        assert here.all_same()


async def test_a_seat_speaks_for_itself_alone() -> None:
    async with hosted() as here:
        captain = await here.guest(Station.CAPTAIN)
        before = len(here.host.events)
        refused = await here.ask(captain, inp.GoAround(at=here.host.now, seat=FIRST_OFFICER))
        assert refused
        assert not [e for e in here.host.events[before:] if isinstance(e, ev.PhaseEntered)]


@pytest.mark.parametrize(
    "input_",
    [
        inp.GoAround(at=0, seat=CAPTAIN),
        inp.Pause(at=0),
        inp.SetPace(at=0, pace=8.0),
        inp.SetAid(at=0, aid="drill"),
        inp.Interrupt(at=0, words="smoke", length_s=5, safety=True),
        inp.Tell(at=0, fact="cleared", value=True),
        inp.Reply(at=0, seat=FIRST_OFFICER),
    ],
    ids=lambda each: type(each).__name__,
)
async def test_an_observer_changes_nothing(input_: inp.Input) -> None:
    async with hosted() as here:
        observer = await here.guest(Station.OBSERVER)
        session = here.host.flight.session
        assert await here.ask(observer, input_)
        assert same(session, here.host.flight.session)


@pytest.mark.parametrize(
    "input_",
    [inp.Sample(at=0), inp.Tick(at=0), inp.Act(at=0, seat=CAPTAIN, item="speed", value=150.0)],
    ids=lambda each: type(each).__name__,
)
async def test_an_instructor_is_no_pilot_and_no_clock(input_: inp.Input) -> None:
    async with hosted() as here:
        instructor = await here.guest(Station.INSTRUCTOR)
        done = {ref: each.status for ref, each in here.host.flight.session.items.items()}
        assert await here.ask(instructor, input_)
        assert {ref: each.status for ref, each in here.host.flight.session.items.items()} == done


async def test_the_crew_does_not_pause_while_an_instructor_is_there_and_does_when_alone() -> None:
    async with hosted() as here:
        captain = await here.guest(Station.CAPTAIN)
        assert await here.ask(captain, inp.Pause(at=here.host.now)) == ""
        assert await here.ask(captain, inp.Unpause(at=here.host.now)) == ""
        await here.guest(Station.INSTRUCTOR)
        assert await here.ask(captain, inp.Pause(at=here.host.now))
        assert not here.host.flight.session.paused


async def test_a_place_that_is_taken_and_a_wrong_code_let_nobody_in() -> None:
    async with hosted() as here:
        await here.guest(Station.CAPTAIN)
        for link in (here.link(Station.CAPTAIN), here.link(Station.OBSERVER, code="ACDEF-GHJKN")):
            assert not await link.ready()
            assert link.following.deck is None and link.following.events == () and link.following.closed


async def test_a_host_taken_up_again_knows_what_its_guests_know(tmp_path: Path) -> None:
    dice = Random(5)
    async with hosted(tmp_path / "one.journal") as here:
        captain, other = await here.guest(Station.CAPTAIN), await here.guest(Station.FIRST_OFFICER)
        for _ in range(12):
            await here.ask(captain, a_key(here, CAPTAIN, dice))
            await here.ask(other, a_key(here, FIRST_OFFICER, dice))
            await here.fly(1)
        known, heard = captain.following.stand.session, captain.following.events
    again = resumed_host(tmp_path / "one.journal", TestClock())
    try:
        assert tuple(again.events[: len(heard)]) == heard
        assert again.flight.session.items == known.items
    finally:
        again.close()


@pytest.mark.parametrize("seed", some([7, 11, 23], [7]))
async def test_a_guest_is_not_sent_what_it_should_catch(tmp_path: Path, seed: int) -> None:
    """Nor is who sits beside it and looks on. The instructor is."""
    deck, scenario = bundled("clean")
    pilot = Pilot(seat=FIRST_OFFICER, seed=seed, lapses=read_lapses("heavy"))
    flight, begun = take_off(deck, scenario, solo=False, sealed=(FIRST_OFFICER,))
    flight, joined = join(flight, (pilot,))
    clock = TestClock()
    journal = Journal.create(str(tmp_path / "sealed.journal"), deck, scenario, solo=False)
    journal.append((*begun, *joined), sure=True)
    host = Host(flight, journal, clock, past=(*begun, *joined), pilots=(pilot,))
    here = Hosted(host, clock, played=(FIRST_OFFICER,))
    await here.serve()
    try:
        captain, observer = await here.guest(Station.CAPTAIN), await here.guest(Station.OBSERVER)
        instructor = await here.guest(Station.INSTRUCTOR)
        for _ in range(30):
            host.fly_on(10_000)
            await here.fly(0.5)
            caught = {d.item for d in host.flight.session.deviations if d.trapped_by is not None}
            for link in (captain, observer):
                for event in link.following.shown:
                    assert not isinstance(event, ev.PilotPlayed)
                    if isinstance(event, ev.LapseMade):
                        assert event.ref in caught
                    if isinstance(event, ev.DeviationRaised) and event.seat is FIRST_OFFICER:
                        assert event.item in caught
        made = [e for e in host.events if isinstance(e, ev.LapseMade)]
        assert [e for e in instructor.following.shown if isinstance(e, ev.LapseMade)] == made
    finally:
        await here.leave()
