"""What is kept from a crew, over whole flights with a lapsing pilot."""

import pytest
from msgspec.structs import replace

from flowdeck.engine import fold
from flowdeck.engine.topic import spoken_as
from flowdeck.model import events as ev
from flowdeck.model.lapse import LapseKind
from flowdeck.model.seats import Seat
from flowdeck.model.session import Session, same
from flowdeck.wire.seal import Seals, look
from tests.scenarios.flown import Flown, flown
from tests.support.cockpit import bundled
from tests.support.daily import some
from tests.support.played import EVERY_DAY, LAPSING, lapsing

each = pytest.mark.parametrize(("seat", "seed"), some(LAPSING, EVERY_DAY))


def shown_after(done: Flown, upto: int) -> tuple[list[ev.Event], Seals]:
    """What a crew knows after so many events, in the order of the flight."""
    seals, hidden = Seals(), set[int]()
    for number, event in enumerate(done.events[:upto]):
        seals, shown, revealed = look(done.deck, seals, number, event)
        hidden = (hidden | ({number} if not shown else set())) - set(revealed)
    assert hidden == {each.number for each in seals.hidden}
    return [event for number, event in enumerate(done.events[:upto]) if number not in hidden], seals


@each
def test_at_the_end_everything_is_known(seat: Seat, seed: int) -> None:
    done = lapsing(seat, seed)
    shown, seals = shown_after(done, len(done.events))
    assert tuple(shown) == done.events and seals.hidden == ()
    assert same(fold(Session(), shown), done.flight.session)


@each
def test_on_the_way_only_what_was_caught_is_known(seat: Seat, seed: int) -> None:
    """At every fiftieth event: of the sealed seat no deviation that is neither trapped nor spoken about, no lapse, and
    the fold of what is known makes sense."""
    done = lapsing(seat, seed)
    withheld = 0
    for upto in range(50, len(done.events) - 1, 50):
        shown, seals = shown_after(done, upto)
        withheld += len(seals.hidden)
        session = fold(Session(), shown)
        challenged = {e.about for e in shown if isinstance(e, ev.Challenged) and e.seat is not seat}
        challenged |= {
            ref for about in challenged & done.deck.checklists.keys() for ref in done.deck.checklists[about].lines
        }
        for deviation in session.deviations:
            assert deviation.seat is not seat or deviation.trapped_by or deviation.item in challenged
        for event in shown:
            if isinstance(event, ev.LapseMade):
                known = {d.item for d in session.deviations if d.trapped_by} | challenged
                assert spoken_as(done.deck, event.ref) & known
    assert withheld > 100


STARTED = ev.FlightStarted(
    at=0, phase="preparation", flying=Seat.CAPTAIN, solo=False, truths=0, facts={}, sealed=(Seat.FIRST_OFFICER,)
)


def spoke(at: int, about: str) -> ev.Challenged:
    return ev.Challenged(at=at, seat=Seat.CAPTAIN, about=about, reply_by=at + 5000)


def lapse(at: int, ref: str) -> ev.LapseMade:
    return ev.LapseMade(at=at, kind=LapseKind.LINE_BLIND, seat=Seat.FIRST_OFFICER, ref=ref)


def looked(*events: ev.Event) -> list[ev.Event]:
    """What is known after *events*."""
    deck, seals, hidden = bundled("clean")[0], Seals(), set[int]()
    for number, event in enumerate((STARTED, *events)):
        seals, shown, revealed = look(deck, seals, number, event)
        hidden = (hidden | ({number} if not shown else set())) - set(revealed)
    return [event for number, event in enumerate(events, start=1) if number not in hidden]


def test_who_speaks_of_a_list_speaks_of_what_has_slipped_and_not_of_what_will() -> None:
    first, second = lapse(1000, "landing-gear"), lapse(9000, "landing-flap")
    about = spoke(5000, "landing-list")
    assert looked(first, about, second) == [first, about]


def test_who_speaks_of_a_line_speaks_of_what_it_verifies() -> None:
    deck = bundled("clean")[0]
    line = next(item for item in deck.items.values() if item.verifies and item.verifies[0] in deck.items)
    left_out = lapse(1000, line.verifies[0])
    about = spoke(5000, line.id)
    assert looked(left_out, about) == [left_out, about]
    assert looked(left_out, spoke(5000, "speed")) == [spoke(5000, "speed")]


def test_an_instructor_writes_for_the_debrief() -> None:
    """Notes of an instructor come out at the end, also where nothing else is kept; those of a pilot are a pilot's."""
    note = ev.Noted(at=2000, about=2000, words="who had the radio", by="instructor")
    own = replace(note, by="captain")
    end = ev.FlightEnded(at=9000, end="secured")
    assert looked(note, own) == [own]
    assert looked(note, own, end) == [note, own, end]


@each
def test_nothing_that_was_done_or_shown_is_hidden(seat: Seat, seed: int) -> None:
    done = lapsing(seat, seed)
    seals = Seals()
    kept = {
        ev.LapseMade, ev.PilotPlayed, ev.DeviationRaised, ev.Prompted, ev.ItemOverdue, ev.ItemMissed, ev.ItemLapsed,
        ev.ItemUnproved, ev.ListOverdue, ev.ListLapsed,
    }  # fmt: skip
    hidden = set()
    for number, event in enumerate(done.events):
        seals, shown, _ = look(done.deck, seals, number, event)
        if not shown:
            hidden.add(type(event))
    assert hidden <= kept and ev.LapseMade in hidden and ev.DeviationRaised in hidden


def test_the_slips_of_a_person_are_never_hidden() -> None:
    """A flight of two people: nothing is sealed, whatever slips."""
    done = flown("slips")
    shown, _ = shown_after(done, len(done.events))
    assert tuple(shown) == done.events


def test_of_the_other_pilot_all_is_shown() -> None:
    """Beside a played first officer the captain's own slips are there at once."""
    done = lapsing(Seat.FIRST_OFFICER, 4)
    raised = [n for n, e in enumerate(done.events) if isinstance(e, ev.DeviationRaised) and e.seat is Seat.CAPTAIN]
    assert raised
    for number in raised:
        shown, _ = shown_after(done, number + 1)
        assert shown[-1] == done.events[number]
