"""Who gets which place, what counts once, and what is still to be sent."""

import pytest

from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.seats import Seat
from flowdeck.wire.link import messages as m
from flowdeck.wire.link.hosting import (
    MOST_REFUSALS,
    MOST_SILENT,
    Hosting,
    admit,
    again,
    answered,
    batch,
    beat,
    learn,
    leave,
    lose,
    roster,
    weigh,
)
from flowdeck.wire.link.marks import known_as, mark_of
from flowdeck.wire.link.stations import Station
from tests.support.small import small_deck
from tests.wire.link.flown import FLIGHT, Kept

A, B = "a" * 16, "b" * 16


def join(guest: str, station: Station, after: int = 0, kept: Kept | None = None) -> m.Join:
    mark = mark_of(kept.events[after - 1]) if kept is not None and after else ""
    flight = FLIGHT if after else ""
    return m.Join(version=1, guest=guest, code="", station=station, after=after, flight=flight, seen=after, mark=mark)


def secret(number: int) -> str:
    return f"{number:016x}"


def seated(h: Hosting, guest: str, station: Station, now: int = 0) -> Hosting:
    admission = admit(h, join(guest, station), (), FLIGHT, now)
    assert admission.refused == ""
    return admission.hosting


def refusal(h: Hosting, guest: str, station: Station, now: int = 0) -> str:
    return admit(h, join(guest, station), (), FLIGHT, now).refused


def test_a_seat_is_for_one_guest_and_given_away_when_it_has_been_lost_for_ten_seconds() -> None:
    h = seated(Hosting(deck=small_deck()), A, Station.CAPTAIN)
    assert refusal(h, B, Station.CAPTAIN, 60_000) == "the captain's seat is taken"
    lost = lose(h, known_as(A), 60_000)
    words = "the captain's seat is taken; its guest is lost, and in 10 s it is free"
    assert refusal(lost, B, Station.CAPTAIN, 69_999) == words
    assert list(seated(lost, B, Station.CAPTAIN, 70_000).guests) == [known_as(B)]
    assert seated(lost, A, Station.CAPTAIN, 65_000).guests[known_as(A)].linked


def test_who_says_that_he_goes_frees_the_seat_at_once() -> None:
    h = leave(seated(Hosting(deck=small_deck()), A, Station.CAPTAIN), known_as(A))
    assert list(seated(h, B, Station.CAPTAIN).guests) == [known_as(B)]


def test_the_same_guest_takes_over_also_at_another_station() -> None:
    h = seated(Hosting(deck=small_deck()), A, Station.CAPTAIN)
    assert seated(h, A, Station.CAPTAIN, 5).guests[known_as(A)].since == 5
    moved = seated(h, A, Station.OBSERVER)
    assert refusal(moved, B, Station.CAPTAIN) == ""


@pytest.mark.parametrize(("station", "most"), [(Station.OBSERVER, 8), (Station.INSTRUCTOR, 2)])
def test_places_without_a_seat_are_counted(station: Station, most: int) -> None:
    h = Hosting(deck=small_deck())
    for number in range(most):
        h = seated(h, secret(number), station, number)
    assert refusal(h, A, station) == f"there are {most} {station}s already"
    for number in (1, 0):
        h = lose(h, known_as(secret(number)), 100 - number)
    after = seated(h, A, station, 10_099)
    assert known_as(secret(1)) not in after.guests  # lost before the other
    assert known_as(secret(0)) in after.guests


def test_a_played_seat_is_for_nobody() -> None:
    h = Hosting(deck=small_deck(), played=(Seat.FIRST_OFFICER,))
    assert refusal(h, A, Station.FIRST_OFFICER) == "the first officer is played by the tool"
    assert refusal(h, A, Station.OBSERVER) == ""


def test_an_instructor_is_there_while_linked() -> None:
    h = seated(Hosting(deck=small_deck()), A, Station.INSTRUCTOR)
    assert h.has_instructor
    assert roster(h) == m.Roster(guests=(m.Present(Station.INSTRUCTOR, True),))
    assert not lose(h, known_as(A), 1).has_instructor
    assert roster(lose(h, known_as(A), 1)) == m.Roster(guests=(m.Present(Station.INSTRUCTOR, False),))


def test_a_count_is_decided_once_also_after_the_host_was_restarted() -> None:
    kept = Kept()
    name = known_as(A)
    kept.take(name, 1, inp.Unpause(at=0))
    kept.take(name, 2, inp.Unpause(at=0))
    h = learn(Hosting(deck=kept.flight.deck), kept.events)
    assert [weigh(h, name, count) for count in (1, 2, 3, 4)] == ["old", "old", "new", "gap"]
    h = answered(h, name, 3, "")
    assert [weigh(h, name, count) for count in (3, 4)] == ["old", "new"]


def test_what_was_refused_is_not_journalled_and_still_counts_after_a_restart() -> None:
    """The guest says up to where it has been answered."""
    said = m.Join(version=1, guest=A, code="", station=Station.CAPTAIN, answered=5)
    h = admit(Hosting(deck=small_deck()), said, (), FLIGHT, 0).hosting
    assert weigh(h, known_as(A), 5) == "old"
    assert weigh(h, known_as(A), 6) == "new"


def test_words_of_refusal_are_kept_for_a_while_and_outlive_the_link() -> None:
    h = seated(Hosting(deck=small_deck()), A, Station.CAPTAIN)
    for count in range(1, MOST_REFUSALS + 3):
        h = answered(h, known_as(A), count, f"no {count}")
    h = seated(lose(h, known_as(A), 0), A, Station.CAPTAIN)
    kept = h.guests[known_as(A)].refusals
    assert len(kept) == MOST_REFUSALS
    assert kept[3] == "no 3" and 2 not in kept


def test_those_who_never_asked_for_anything_are_forgotten_in_the_end() -> None:
    h = Hosting(deck=small_deck(), counts={"asked": 7})
    for number in range(MOST_SILENT + 10):
        h = leave(seated(h, secret(number), Station.OBSERVER), known_as(secret(number)))
    assert len(h.counts) <= MOST_SILENT + 2
    assert h.counts["asked"] == 7
    assert known_as(secret(0)) not in h.counts


def test_events_go_out_once_in_parts_and_again_when_asked_for() -> None:
    kept = Kept()
    kept.fly(500_000)
    assert len(kept.events) > 2 * m.MOST_EVENTS
    h = seated(learn(Hosting(deck=kept.flight.deck), kept.events), A, Station.CAPTAIN)
    sent: list[ev.Event | None] = []
    while (step := batch(h, known_as(A), kept.events)).message is not None:
        assert isinstance(step.message, m.Happened)
        assert step.message.first == len(sent) + 1
        sent += step.message.events
        h = step.hosting
    assert sent == kept.events
    h = again(h, known_as(A), 100)
    message = batch(h, known_as(A), kept.events).message
    assert isinstance(message, m.Happened) and message.first == 101
    assert again(h, known_as(A), 10**9).guests[known_as(A)].sent == 100


def test_events_of_another_flight_or_of_a_lost_end_are_not_taken_for_ours() -> None:
    kept = Kept()
    kept.fly(10_000)
    h = learn(Hosting(deck=kept.flight.deck), kept.events)
    ours = join(A, Station.CAPTAIN, 10, kept)
    assert admit(h, ours, kept.events, FLIGHT, 0).after == 10
    assert admit(h, ours, kept.events, "other", 0).after == 0
    assert admit(h, ours, kept.events[:9], FLIGHT, 0).after == 0
    other = Kept()
    other.take(known_as(B), 1, inp.SetPace(at=0, pace=2))
    other.fly(10_000)
    assert admit(h, ours, other.events, FLIGHT, 0).after == 0


def overdue(sealed: tuple[Seat, ...]) -> tuple[Kept, Hosting, int]:
    """A flight in which the sealed pilot flying has let the speed slip, and the number of the first sealed event."""
    kept = Kept(sealed)
    kept.fly(62_000)
    h = learn(Hosting(deck=kept.flight.deck), kept.events)
    return kept, h, h.sealed[0]


def all_sent(h: Hosting, name: str, kept: Kept) -> tuple[Hosting, list[ev.Event | None]]:
    sent: list[ev.Event | None] = []
    while isinstance((step := batch(h, name, kept.events)).message, m.Happened):
        assert isinstance(step.message, m.Happened)
        sent += step.message.events
        h = step.hosting
    return h, sent


def test_what_is_sealed_is_a_gap_for_the_crew_and_revealed_once_it_is_caught() -> None:
    kept, h, number = overdue((Seat.CAPTAIN,))
    h = seated(h, A, Station.FIRST_OFFICER)
    h = seated(h, B, Station.INSTRUCTOR)
    h, crew = all_sent(h, known_as(A), kept)
    h, instructor = all_sent(h, known_as(B), kept)
    assert crew[number - 1] is None
    assert instructor == kept.events
    gaps = [n for n, event in enumerate(crew, 1) if event is None]
    assert beat(h, known_as(A), 0, "").gaps == len(gaps) and beat(h, known_as(B), 0, "").gaps == 0
    before = len(kept.events)
    kept.take(known_as(A), 1, inp.Challenge(at=0, seat=Seat.FIRST_OFFICER, about="speed"))
    h = learn(h, kept.events[before:])
    told = batch(h, known_as(A), kept.events)
    assert isinstance(told.message, m.Revealed)
    assert (number, kept.events[number - 1]) in told.message.events
    assert isinstance(batch(told.hosting, known_as(A), kept.events).message, m.Happened)
    assert isinstance(batch(h, known_as(B), kept.events).message, m.Happened)


def test_a_guest_that_becomes_instructor_is_told_what_was_sealed() -> None:
    kept, h, number = overdue((Seat.CAPTAIN,))
    said = join(A, Station.INSTRUCTOR, number + 1, kept)
    h = admit(h, said, kept.events, FLIGHT, 0).hosting
    told = batch(h, known_as(A), kept.events).message
    assert isinstance(told, m.Revealed) and told.events[0][0] == number
