"""The host's end: who sits where, what each guest asked for last, and what each is still to be sent.

The law: what a guest asked for counts once, however often it comes. Each guest is sent every event once and in order;
what is sealed from the crew goes out as a gap, and in full once it is shown. What is to be sent is asked for by who
sends it, one message at a time, so that a guest that reads slowly costs nothing but its own time. Times are ms of any
clock that only runs on.
"""

from collections.abc import Iterable, Sequence
from typing import Literal, NamedTuple

from msgspec import Struct
from msgspec.structs import replace

from flowdeck.model import events as ev
from flowdeck.model.deck import Deck
from flowdeck.model.seats import Seat
from flowdeck.wire.link.marks import known_as, mark_of
from flowdeck.wire.link.messages import MOST_EVENTS, Beat, Happened, Join, Present, Revealed, Roster
from flowdeck.wire.link.stations import CAPACITY, Station
from flowdeck.wire.seal import Seals, look

GIVEN_AWAY_MS = 10_000
"""A place whose guest has been lost for so long may be taken by another."""
MOST_REFUSALS = 64
"""Words of refusal kept for a guest that did not hear them."""
MOST_SILENT = 256
"""Guests that left without having asked for anything, and are still known."""


class Guest(Struct, frozen=True, kw_only=True):
    """A guest that has a place. *since*: linked, or lost, since then (ms). *sent*: the last event it was sent.

    *reveal*: events that it was sent as gaps and is to be sent in full. *refusals*: by count, the last of them.
    """

    name: str
    station: Station
    linked: bool = True
    since: int = 0
    sent: int = 0
    reveal: tuple[int, ...] = ()
    refusals: dict[int, str] = {}


class Hosting(Struct, frozen=True, kw_only=True, eq=False):
    """See the module. *number*: events so far; *sealed*: those that ever were sealed, *seals* what is so now.

    *counts*: the last count of everyone who was ever admitted, by name.
    """

    deck: Deck
    played: tuple[Seat, ...] = ()
    number: int = 0
    seals: Seals = Seals()
    sealed: tuple[int, ...] = ()
    guests: dict[str, Guest] = {}
    counts: dict[str, int] = {}

    @property
    def has_instructor(self) -> bool:
        return any(guest.linked and guest.station is Station.INSTRUCTOR for guest in self.guests.values())


def learn(h: Hosting, events: Iterable[ev.Event]) -> Hosting:
    """The events that follow on those known: what is sealed and revealed by them, and what was taken from guests."""
    number, seals, sealed = h.number, h.seals, list(h.sealed)
    revealed: list[int] = []
    counts = dict(h.counts)
    for event in events:
        number += 1
        seals, shown, opened = look(h.deck, seals, number, event)
        revealed += opened
        if not shown:
            sealed.append(number)
        if isinstance(event, ev.InputTaken):
            counts[event.guest] = max(counts.get(event.guest, 0), event.count)
    guests = {name: _to_learn(guest, revealed) for name, guest in h.guests.items()} if revealed else h.guests
    return replace(h, number=number, seals=seals, sealed=tuple(sealed), guests=guests, counts=counts)


def _to_learn(guest: Guest, revealed: list[int]) -> Guest:
    """Of what is revealed, what the guest was sent as a gap; the rest it will be sent in full."""
    if guest.station is Station.INSTRUCTOR:
        return guest
    return replace(guest, reveal=(*guest.reveal, *(number for number in revealed if number <= guest.sent)))


class Admission(NamedTuple):
    """*refused*: why the guest has no place, empty when it has one; *after*: its events follow from there.

    *later*: it may have the place in a while.
    """

    hosting: Hosting
    refused: str = ""
    after: int = 0
    later: bool = False


def admit(h: Hosting, join: Join, events: Sequence[ev.Event], flight: str, now: int) -> Admission:
    """Give a guest whose code was right its place. *events*: all of *flight* that is known.

    The same guest takes over its earlier link, at whatever station.
    """
    name, station = known_as(join.guest), join.station
    if station.seat in h.played:
        return Admission(h, f"the {station.label.lower()} is played by the tool")
    others = {key: guest for key, guest in h.guests.items() if key != name}
    there = [guest for guest in others.values() if guest.station is station]
    if len(there) >= CAPACITY[station]:
        lost = [guest for guest in there if not guest.linked]
        longest = min(lost, key=lambda guest: guest.since, default=None)
        if longest is None:
            return Admission(h, _taken(station))
        if now - longest.since < GIVEN_AWAY_MS:
            words = f"{_taken(station)}; its guest is lost, and in {GIVEN_AWAY_MS // 1000} s it is free"
            return Admission(h, words, later=True)
        del others[longest.name]
    after = join.after if _is_ours(join, events, flight) else 0
    before = h.guests.get(name)
    guest = Guest(
        name=name,
        station=station,
        since=now,
        sent=after,
        reveal=_to_reveal(h, station, after),
        refusals=before.refusals if before is not None else {},
    )
    counts = dict(h.counts)
    counts[name] = max(counts.get(name, 0), join.answered)
    return Admission(_forget(replace(h, guests={**others, name: guest}, counts=counts)), "", after)


def _taken(station: Station) -> str:
    most = CAPACITY[station]
    return f"the {station.label.lower()}'s seat is taken" if station.seat else f"there are {most} {station}s already"


def _is_ours(join: Join, events: Sequence[ev.Event], flight: str) -> bool:
    """Whether the events that a guest has are those of this flight, as far as they go."""
    if join.flight != flight or join.after > len(events) or not 0 < join.seen <= join.after:
        return False
    return mark_of(events[join.seen - 1]) == join.mark


def _to_reveal(h: Hosting, station: Station, after: int) -> tuple[int, ...]:
    """Of the events that a guest has, those that it may have as gaps and may see now."""
    hidden = _hidden(h, station)
    return tuple(number for number in h.sealed if number <= after and number not in hidden)


def _hidden(h: Hosting, station: Station) -> frozenset[int]:
    if station is Station.INSTRUCTOR:
        return frozenset()
    return frozenset(hidden.number for hidden in h.seals.hidden)


def _forget(h: Hosting) -> Hosting:
    """Who left without ever having asked for anything is known for a while only."""
    silent = [name for name, count in h.counts.items() if count == 0 and name not in h.guests]
    gone = frozenset(silent[: max(0, len(silent) - MOST_SILENT)])
    return replace(h, counts={name: count for name, count in h.counts.items() if name not in gone}) if gone else h


def lose(h: Hosting, name: str, now: int) -> Hosting:
    """Its link broke: the guest keeps its place for a while."""
    guest = h.guests.get(name)
    if guest is None or not guest.linked:
        return h
    return replace(h, guests={**h.guests, name: replace(guest, linked=False, since=now)})


def leave(h: Hosting, name: str) -> Hosting:
    """It said that it goes: its place is free at once."""
    return replace(h, guests={key: guest for key, guest in h.guests.items() if key != name})


def again(h: Hosting, name: str, after: int) -> Hosting:
    """It has events up to *after* only: what follows is sent once more."""
    guest = h.guests[name]
    after = min(after, guest.sent)
    kept = tuple(number for number in guest.reveal if number <= after)
    return replace(h, guests={**h.guests, name: replace(guest, sent=after, reveal=kept)})


def weigh(h: Hosting, name: str, count: int) -> Literal["new", "old", "gap"]:
    """Whether what is asked for with *count* is to be decided, was decided already, or has something missing before."""
    last = h.counts.get(name, 0)
    return "old" if count <= last else "new" if count == last + 1 else "gap"


def answered(h: Hosting, name: str, count: int, refused: str) -> Hosting:
    """It was decided; *refused* is kept, in case that the guest does not hear it."""
    h = replace(h, counts={**h.counts, name: count})
    if not refused:
        return h
    guest = h.guests[name]
    kept = dict([*guest.refusals.items(), (count, refused)][-MOST_REFUSALS:])
    return replace(h, guests={**h.guests, name: replace(guest, refusals=kept)})


class Batch(NamedTuple):
    hosting: Hosting
    message: Happened | Revealed | None


def batch(h: Hosting, name: str, events: Sequence[ev.Event]) -> Batch:
    """The next message of events for a guest; None when it has been sent all. *events*: all of the flight."""
    guest = h.guests[name]
    if guest.reveal:
        now, later = guest.reveal[:MOST_EVENTS], guest.reveal[MOST_EVENTS:]
        told = Revealed(events=tuple((number, events[number - 1]) for number in now))
        return Batch(replace(h, guests={**h.guests, name: replace(guest, reveal=later)}), told)
    first, last = guest.sent + 1, min(h.number, guest.sent + MOST_EVENTS)
    if first > last:
        return Batch(h, None)
    hidden = _hidden(h, guest.station)
    part = enumerate(events[first - 1 : last], start=first)
    happened = Happened(first=first, events=tuple(None if number in hidden else event for number, event in part))
    return Batch(replace(h, guests={**h.guests, name: replace(guest, sent=last)}), happened)


def beat(h: Hosting, name: str, at: int, trouble: str) -> Beat:
    """The beat for a guest at the flight time *at* (ms)."""
    gaps = len(_hidden(h, h.guests[name].station))
    return Beat(at=at, number=h.number, gaps=gaps, trouble=trouble)


def roster(h: Hosting) -> Roster:
    return Roster(guests=tuple(Present(guest.station, guest.linked) for guest in h.guests.values()))
