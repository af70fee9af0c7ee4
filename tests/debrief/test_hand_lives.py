"""Lives worked out by hand: opened, done, seen, found, withdrawn, lapsed, taken back, put off, reset."""

from flowdeck.debrief.lives import Deferral, Life, lives_of
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.session import Evidence
from tests.debrief.by_hand import started, undoes, whole
from tests.engine.test_slips import DECK, descending, flight
from tests.support.bench import CPT, FO
from tests.support.slipped import begun, briefed


def lives(*events: ev.Event, of: str = "speed") -> list[Life]:
    return [life for life in lives_of(DECK, (started(), *events)) if life.item == of]


def opened(at: int, item: str = "speed") -> ev.ItemOpened:
    return ev.ItemOpened(at=at, item=item)


def done(at: int, item: str = "speed", *, prompted: bool = False) -> ev.ItemDone:
    return ev.ItemDone(at=at, item=item, seat=CPT, prompted=prompted)


def test_every_life_of_a_whole_flight() -> None:
    """Thirteen things were owed, each once. Nothing of the go-around, the ice and the level-off was."""
    told = {(life.item, life.phase, life.opened_at, life.done_at, life.seat, life.seen_at) for life in whole().lives}
    assert len(whole().lives) == 13
    assert told == {
        ("brief", "approach", 0, 2000, FO, None),
        ("speed", "approach", 0, 3000, CPT, 4000),
        ("aids", "approach", 0, 4000, FO, None),
        ("gear-down", "approach", 5500, 5500, FO, 6500),
        ("flap-land", "approach", 5500, 6500, FO, 7500),
        ("missed", "approach", 18000, 18000, FO, 19000),
        ("minimum", "approach", 18000, 19000, FO, None),
        ("minimum-answer", "approach", 19000, 20000, CPT, None),
        ("reverse", "landing", 21500, 21500, CPT, 22500),
        ("cabin", "landing", 21500, 22500, FO, None),
        ("brake", "ground", 23500, 24000, CPT, 25000),
        ("cut", "ground", 23500, 25000, FO, 26000),
        ("papers", "ground", 23500, 26000, FO, None),
    }
    assert [life.begun_at for life in whole().lives] == sorted(life.begun_at for life in whole().lives)
    assert {life.flying for life in whole().lives} == {CPT}
    assert all(life.was_owed and not life.prompted and not life.deferrals for life in whole().lives)


def test_what_both_do_keeps_who_began() -> None:
    """The captain at 1.0 s, the first officer, who closes it, at 2.0 s."""
    [brief] = [life for life in whole().lives if life.item == "brief"]
    assert brief.parts == ((CPT, 1000),)
    assert (brief.seat, brief.done_at, brief.evidence) == (FO, 2000, Evidence.SAID)


def test_late_prompted_done_and_then_seen() -> None:
    """One life with all its times: prompted at 30 s, overdue at 60 s, done at 70 s, shown at 71 s."""
    reminded = ev.Prompted(at=30_000, ref="speed", seat=CPT)
    overdue = ev.ItemOverdue(at=60_000, item="speed")
    said = (opened(0), reminded, overdue, done(70_000, prompted=True))
    [life] = lives(*said)
    assert (life.opened_at, life.overdue_at, life.done_at) == (0, 60_000, 70_000)
    assert (life.seat, life.prompted, life.evidence, life.seen_at) == (CPT, True, Evidence.SAID, None)
    [life] = lives(*said, ev.ItemSeen(at=71_000, item="speed"))
    assert (life.done_at, life.seen_at, life.seat, life.evidence) == (70_000, 71_000, CPT, Evidence.SEEN)


def test_a_prompt_after_it_was_done_prompted_nothing() -> None:
    """Reminded of the next life only."""
    again = (ev.ItemReopened(at=9000, item="speed", because="again"), opened(9000))
    first, second = lives(opened(0), done(1000), *again, ev.Prompted(at=20_000, ref="speed", seat=CPT))
    assert (first.prompted, second.prompted) == (False, True)


def test_seen_by_a_signal_has_no_seat() -> None:
    """Hands on the controls: it was owed, it ended, and nobody is named."""
    [life] = lives(opened(0), ev.ItemSeen(at=5000, item="speed"))
    assert (life.opened_at, life.seen_at, life.seat, life.evidence) == (0, 5000, None, Evidence.SEEN)
    assert life.was_owed and life.lapsed_at is None


def test_done_before_its_window() -> None:
    """It has no opening, and began when it was done."""
    [life] = lives(done(4000))
    assert (life.opened_at, life.done_at, life.begun_at, life.was_owed) == (None, 4000, 4000, True)


def test_found_so_already_and_withdrawn_were_not_owed() -> None:
    [found] = lives(ev.ItemFound(at=3000, item="speed"))
    assert (found.was_owed, found.evidence, found.seat) == (False, Evidence.FOUND, None)
    [gone] = lives(opened(0), ev.ItemWithdrawn(at=2000, item="speed"))
    assert (gone.was_owed, gone.opened_at, gone.withdrawn_at, gone.done_at) == (False, 0, 2000, None)


def test_withdrawn_after_its_limit_ran_out_was_owed() -> None:
    """Late at 60 s, and that was judged; that nobody needs it from 65 s on changes nothing."""
    [gone] = lives(opened(0), ev.ItemOverdue(at=60_000, item="speed"), ev.ItemWithdrawn(at=65_000, item="speed"))
    assert (gone.was_owed, gone.overdue_at, gone.withdrawn_at, gone.done_at) == (True, 60_000, 65_000, None)


def test_withdrawn_and_owed_again_are_two_lives() -> None:
    gone, back = lives(opened(0), ev.ItemWithdrawn(at=2000, item="speed"), opened(7000), done(8000))
    assert (gone.was_owed, back.was_owed) == (False, True)
    assert (back.opened_at, back.done_at, back.withdrawn_at) == (7000, 8000, None)


def test_what_lapsed_or_was_missed_may_still_be_done_and_keeps_both_times() -> None:
    [lapsed] = lives(opened(0), ev.ItemLapsed(at=5000, item="speed"), done(9000))
    assert (lapsed.lapsed_at, lapsed.done_at, lapsed.was_owed) == (5000, 9000, True)
    [missed] = lives(opened(0, "to-go"), ev.ItemMissed(at=20_000, item="to-go"), done(25_000, "to-go"), of="to-go")
    assert (missed.missed_at, missed.done_at, missed.was_owed) == (20_000, 25_000, True)


def test_a_selector_set_three_times_is_three_lives() -> None:
    """Each reopening begins another one, and the one before keeps when it was done."""
    again = [
        event
        for at in (10_000, 20_000)
        for event in (ev.ItemReopened(at=at, item="speed", because="again"), opened(at), done(at + 1000))
    ]
    assert [(x.opened_at, x.done_at) for x in lives(opened(0), done(1000), *again)] == [
        (0, 1000),
        (10_000, 11_000),
        (20_000, 21_000),
    ]


def test_taken_back_is_not_done_and_done_again_is_one_life() -> None:
    taken_back = ev.Undone(at=2000, seat=CPT, what="tick", ref="speed")
    [life] = lives(opened(0), done(1000), taken_back)
    assert (life.opened_at, life.done_at, life.seat, life.evidence) == (0, None, None, None)
    assert life.was_owed
    [life] = lives(opened(0), done(1000), taken_back, done(5000))
    assert (life.opened_at, life.done_at, life.seat) == (0, 5000, CPT)


def test_a_briefing_taken_back_by_one_and_then_by_both() -> None:
    """The first officer's half goes first; the captain's stands until he takes it back too."""
    f = undoes(briefed(), FO)
    [half] = [life for life in lives_of(f.deck, f.events) if life.item == "brief"]
    assert (half.done_at, half.parts) == (None, ((CPT, 1000),))
    undoes(f, CPT)
    [none] = [life for life in lives_of(f.deck, f.events) if life.item == "brief"]
    assert (none.done_at, none.parts, none.opened_at) == (None, (), 0)


def put_off(**how: object) -> ev.ItemDeferred:
    return ev.ItemDeferred(at=1000, item="papers", seat=FO, **how)  # type: ignore[arg-type]  # a cue or a time


def test_put_off_with_and_without_its_cue() -> None:
    """A cue that came at 8.0 s, one that never came, and one that was taken back."""
    owed = opened(0, "papers")
    [never] = lives(owed, put_off(cue="on-ground"), of="papers")
    assert never.deferrals == (Deferral(at=1000, seat=FO, cue="on-ground"),)
    came = ev.CueCame(at=8000, item="papers", cue="on-ground", late_at=68_000)
    [back] = lives(owed, put_off(cue="on-ground"), came, done(9000, "papers"), of="papers")
    assert back.deferrals == (Deferral(at=1000, seat=FO, cue="on-ground", came_at=8000),)
    assert back.done_at == 9000
    undone = ev.Undone(at=2000, seat=FO, what="deferral", ref="papers")
    [nothing] = lives(owed, put_off(cue="on-ground"), undone, of="papers")
    assert nothing.deferrals == ()


def test_put_off_to_a_time_comes_back_at_it() -> None:
    """At 1.0 s for 20 s: back at 21.0 s."""
    f = begun()
    f.send(inp.Defer(at=f.now, seat=FO, item="aids", in_s=20.0))
    f.wait(25)
    [aids] = [life for life in lives_of(f.deck, f.events) if life.item == "aids"]
    assert aids.deferrals == (Deferral(at=1000, seat=FO, back_at=21_000, came_at=21_000),)


def test_put_off_twice() -> None:
    """Each is told, and the cue belongs to the later one."""
    later = ev.ItemDeferred(at=9000, item="papers", seat=FO, cue="on-ground")
    first = ev.CueCame(at=5000, item="papers", cue="time", late_at=65_000)
    came = ev.CueCame(at=12_000, item="papers", cue="on-ground", late_at=72_000)
    [life] = lives(opened(0, "papers"), put_off(back_at=5000), first, later, came, of="papers")
    assert [(d.at, d.came_at) for d in life.deferrals] == [(1000, 5000), (9000, 12_000)]


def test_a_go_around_ends_what_was_owed_and_the_second_approach_owes_it_again() -> None:
    """Briefed at 1 and 2 s, around at 6.5 s, owed anew at 7.5 s. The call that was owed is owed again too."""
    f = descending(flight()).wait(1)
    f.send(inp.GoAround(at=f.now, seat=FO))
    f.wait(1).tells("again", seat=FO).wait(1)
    told = [(x.item, x.opened_at, x.done_at) for x in lives_of(f.deck, f.events) if x.item in ("brief", "to-go")]
    assert told == [("brief", 0, 2000), ("to-go", 5500, None), ("brief", 7500, None), ("to-go", 7500, None)]
    [thrust] = [life for life in lives_of(f.deck, f.events) if life.item == "thrust"]
    assert (thrust.phase, thrust.opened_at, thrust.lapsed_at) == ("go_around", 6500, 7500)
    [first, second] = [x for x in lives_of(f.deck, f.events) if x.item == "speed"]
    assert (first.done_at, first.was_owed, second.was_owed, second.evidence) == (3000, True, False, Evidence.FOUND)
