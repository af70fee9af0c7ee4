"""What is kept from a crew: the slips of a seat that the tool plays, until they are caught or the flight is over.

The law: an event is hidden while it tells that a sealed seat let something slip. It is shown once the other pilot has
spoken up about that thing (a line speaks for what it verifies, a list for what of its lines has slipped by then), once
its deviation has been trapped, and at the end. What the seat does and says, and what
the aircraft shows, is never hidden. An instructor's notes are for the debrief: they come out at the end.
"""

from collections.abc import Callable
from typing import NamedTuple

from msgspec import Struct
from msgspec.structs import replace

from flowdeck.engine.topic import names_of, spoken_as
from flowdeck.model import events as ev
from flowdeck.model.deck import Deck
from flowdeck.model.seats import Owner, Seat


class Hidden(Struct, frozen=True):
    """A hidden event by its *number*, what it is *about*, and the number of its deviation if it raises one."""

    number: int
    about: str
    deviation: int = 0


class Seals(Struct, frozen=True, kw_only=True):
    """What stands hidden after some events. *sealed*: the seats of which something is kept. *spoken*: what was
    caught.
    """

    sealed: tuple[Seat, ...] = ()
    flying: Seat = Seat.CAPTAIN
    hidden: tuple[Hidden, ...] = ()
    spoken: frozenset[str] = frozenset()


class Looked(NamedTuple):
    """*shown*: whether the event is; *revealed*: the numbers of earlier ones that are shown from now on."""

    seals: Seals
    shown: bool
    revealed: tuple[int, ...] = ()


def look(deck: Deck, seals: Seals, number: int, event: ev.Event) -> Looked:
    """What becomes of event *number* of a flight; *seals* are those after the event before it."""
    if isinstance(event, ev.FlightStarted):
        return Looked(Seals(sealed=event.sealed, flying=event.flying), True)
    if isinstance(event, ev.FlightEnded):
        return _open(seals, lambda _: True)
    if isinstance(event, ev.Noted) and event.by == "instructor":
        return _hide(seals, Hidden(number, "a note, for the debrief"))
    if not seals.sealed:
        return Looked(seals, True)
    match event:
        case ev.ControlConfirmed():
            return Looked(replace(seals, flying=event.flying), True)
        case ev.Challenged() if event.seat not in seals.sealed:
            seals = replace(seals, spoken=seals.spoken | {event.about})
            return _open(seals, lambda hidden: event.about in names_of(deck, hidden.about))
        case ev.DeviationTrapped():
            of = {hidden.about for hidden in seals.hidden if hidden.deviation == event.number}
            return _open(seals, lambda h: h.deviation == event.number or (h.about in of and not h.deviation))
        case ev.Reset():
            gone = {*event.items, *event.lists, *event.gates}
            return Looked(replace(seals, spoken=seals.spoken - gone), True)
        case _:
            pass
    about_ = _let_slip(deck, seals, event)
    if not about_ or not seals.spoken.isdisjoint(spoken_as(deck, about_)):
        return Looked(seals, True)
    deviation = event.number if isinstance(event, ev.DeviationRaised) else 0
    return _hide(seals, Hidden(number, about_, deviation))


def _hide(seals: Seals, hidden: Hidden) -> Looked:
    return Looked(replace(seals, hidden=(*seals.hidden, hidden)), False)


def _open(seals: Seals, chosen: Callable[[Hidden], bool]) -> Looked:
    """The event is shown, and so are the *chosen* hidden ones."""
    revealed = tuple(hidden.number for hidden in seals.hidden if chosen(hidden))
    kept = tuple(hidden for hidden in seals.hidden if hidden.number not in revealed)
    return Looked(replace(seals, hidden=kept), True, revealed)


def _let_slip(deck: Deck, seals: Seals, event: ev.Event) -> str:
    """What a sealed seat let slip by this event; empty if it tells of no such thing."""
    match event:
        case ev.PilotPlayed():
            return f"{event.seat}, played"  # no name of anything that one can speak about
        case ev.LapseMade():
            return event.ref
        case ev.DeviationRaised():
            theirs = event.seat in seals.sealed if event.seat is not None else _is_theirs(deck, seals, event.item)
            return event.item if theirs else ""
        case ev.Prompted():
            return event.ref if _is_theirs(deck, seals, event.ref) else ""
        case ev.ItemOverdue() | ev.ItemMissed() | ev.ItemLapsed() | ev.ItemUnproved():
            return event.item if _is_theirs(deck, seals, event.item) else ""
        case ev.ListOverdue(of="completion"):
            return event.checklist if _owes(seals, deck.checklists[event.checklist].read_by) else ""
        case ev.ListOverdue() | ev.ListLapsed():
            return event.checklist if _is_theirs(deck, seals, event.checklist) else ""
        case _:
            return ""


def _is_theirs(deck: Deck, seals: Seals, ref: str) -> bool:
    """Whether a sealed seat alone owes it: an item by its owner, a list by its caller. A gate is owed by nobody."""
    if ref in deck.items:
        return _owes(seals, deck.items[ref].by)
    return ref in deck.checklists and _owes(seals, deck.checklists[ref].called_by)


def _owes(seals: Seals, owner: Owner) -> bool:
    if owner is Owner.BOTH:
        return all(seat in seals.sealed for seat in Seat)
    return owner.seats(seals.flying)[0] in seals.sealed
