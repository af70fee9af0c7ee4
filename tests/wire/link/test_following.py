"""A guest's end: what it makes of each message, also of those that no sound host sends."""

from msgspec.structs import replace

from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.seats import Seat
from flowdeck.model.session import same
from flowdeck.wire import codec
from flowdeck.wire.link import messages as m
from flowdeck.wire.link.following import MOST_PENDING, Following, ask, hear, joining
from flowdeck.wire.link.stations import Station
from tests.wire.link.flown import FLIGHT, Kept


def guest() -> Following:
    return Following(guest="a" * 16, code="x", station=Station.CAPTAIN)


def welcome(kept: Kept, after: int = 0) -> m.Welcome:
    return m.Welcome(
        version=m.VERSION,
        disclaimer="",
        flight=FLIGHT,
        deck=codec.pack_deck(kept.flight.deck),
        scenario=codec.pack_scenario(kept.flight.scenario),
        station=Station.CAPTAIN,
        beat_ms=500,
        after=after,
        number=len(kept.events),
    )


def part(kept: Kept, first: int, last: int) -> m.Happened:
    return m.Happened(first=first, events=tuple(kept.events[first - 1 : last]))


def flown(seconds: int = 60) -> tuple[Kept, Following]:
    kept = Kept()
    kept.fly(seconds * 1000)
    return kept, hear(guest(), welcome(kept)).following


def test_the_session_is_that_of_the_host_and_so_are_the_readings() -> None:
    kept, f = flown()
    f, replies, arrived = hear(f, part(kept, 1, len(kept.events)))
    assert not replies and list(arrived) == kept.events
    assert same(f.stand.session, kept.flight.session)
    assert f.stand.readings.values == kept.flight.traced
    assert f.stand.plane == next(e.plane for e in reversed(kept.events) if isinstance(e, ev.Checkpoint))


def test_what_comes_twice_changes_nothing() -> None:
    kept, f = flown()
    f = hear(f, part(kept, 1, 50)).following
    twice = hear(f, part(kept, 30, 50))
    assert twice == (f, (), ())
    more = hear(f, part(kept, 30, 60))
    assert list(more.arrived) == kept.events[50:60]


def test_a_gap_is_asked_for_once_and_once_more_with_each_beat() -> None:
    kept, f = flown()
    f = hear(f, part(kept, 1, 50)).following
    f, replies, arrived = hear(f, part(kept, 61, 70))
    assert replies == (m.Again(after=50),) and not arrived and len(f.events) == 50
    f, replies, _ = hear(f, part(kept, 71, 80))
    assert replies == ()
    f, replies, _ = hear(f, m.Beat(at=60_000, number=len(kept.events)))
    assert replies == (m.Again(after=50),)
    f = hear(f, part(kept, 51, len(kept.events))).following
    assert same(f.stand.session, kept.flight.session)
    assert hear(f, m.Beat(at=60_000, number=len(kept.events))).replies == ()


def test_a_reveal_that_was_lost_is_asked_for_with_the_next_beat() -> None:
    kept, f = flown()
    whole = part(kept, 1, len(kept.events))
    sealed = replace(whole, events=(*whole.events[:40], None, *whole.events[41:]))
    f = hear(f, sealed).following
    assert hear(f, m.Beat(at=60_000, number=len(kept.events), gaps=1)).replies == ()
    f, replies, _ = hear(f, m.Beat(at=60_000, number=len(kept.events), gaps=0))
    assert replies == (m.Again(after=40),)
    f, _, arrived = hear(f, part(kept, 41, 60))
    assert arrived == (kept.events[40],)
    assert same(f.stand.session, kept.flight.session)


def test_a_link_begins_with_what_is_known_and_what_is_not_answered() -> None:
    kept, f = flown()
    f = hear(f, part(kept, 1, 50)).following
    f, first = ask(f, lambda count: m.Send(count=count, input=inp.Reply(at=0, seat=Seat.CAPTAIN)))
    f, second = ask(f, lambda count: m.Note(count=count, about=0, words="n"))
    f = hear(f, m.Taken(count=1)).following
    said = joining(f)
    assert (said.after, said.seen, said.answered, said.flight) == (50, 50, 1, FLIGHT)
    assert first is not None and second is not None
    assert hear(f, welcome(kept, after=50)).replies == (second,)


def test_words_of_refusal_are_heard_once() -> None:
    _, f = flown()
    f, _ = ask(f, lambda count: m.Send(count=count, input=inp.Tick(at=0)))
    f = hear(f, m.Taken(count=1, refused="no")).following
    f = hear(f, m.Taken(count=1, refused="no")).following
    assert f.refused == ("no",) and f.pending == ()


def test_no_more_is_asked_for_than_a_link_may_send_at_once() -> None:
    _, f = flown()
    for _ in range(MOST_PENDING):
        f, sent = ask(f, lambda count: m.Send(count=count, input=inp.Tick(at=0)))
        assert sent is not None
    assert ask(f, lambda count: m.Send(count=count, input=inp.Tick(at=0))).message is None


def test_a_host_that_lost_its_end_has_its_way() -> None:
    kept, f = flown()
    f = hear(f, part(kept, 1, 80)).following
    f = hear(f, welcome(kept, after=0)).following
    assert f.events == () and f.stand.session.seq == 0
    f = hear(f, part(kept, 1, len(kept.events))).following
    assert same(f.stand.session, kept.flight.session)


def test_another_flight_is_not_gone_on_with() -> None:
    kept, f = flown()
    f = hear(f, replace(welcome(kept), flight="other")).following
    assert f.final and f.closed == "another flight is flown there now"


def test_what_no_sound_host_sends_closes_the_link_and_changes_nothing() -> None:
    kept, f = flown()
    f = hear(f, part(kept, 1, 50)).following
    last = f.events[-1]
    assert last is not None
    forged: list[m.FromHost] = [
        m.Happened(first=51, events=(ev.ItemDone(at=last.at, item="no such item", seat=Seat.CAPTAIN),)),
        m.Happened(first=51, events=(ev.Paused(at=last.at - 1),)),
        m.Happened(first=51, events=(kept.events[0],)),
        m.Welcome(version=2, disclaimer="", flight=FLIGHT, deck="", scenario="", station=Station.CAPTAIN, beat_ms=1),
    ]
    for message in forged:
        closed, replies, arrived = hear(f, message)
        assert closed.final and closed.closed and not replies and not arrived
        assert closed.events == f.events and closed.stand is f.stand
    fresh = guest()
    for deck in ("!", codec.pack_scenario(kept.flight.scenario)):
        assert hear(fresh, replace(welcome(kept), deck=deck)).following.final
    assert hear(fresh, part(kept, 1, 3)).following.closed == (
        "the host sent what cannot have happened: events before a welcome"
    )


def test_words_of_a_host_act_on_no_terminal() -> None:
    _, f = flown()
    f, _ = ask(f, lambda count: m.Send(count=count, input=inp.Tick(at=0)))
    bad = "\x1b[2J" + "x" * 5000
    f = hear(f, m.Taken(count=1, refused=bad)).following
    f = hear(f, m.Beat(at=0, number=0, trouble=bad)).following
    f = hear(f, m.Closed(because=bad)).following
    for words in (*f.refused, f.trouble, f.closed):
        assert "\x1b" not in words and len(words) == 400
