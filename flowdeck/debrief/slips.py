"""Each deviation with what stands around it: whose duty, who flew, the item's reason, and how it was trapped."""

from collections.abc import Iterable

from msgspec import Struct

from flowdeck.model import events as ev
from flowdeck.model.deck import Deck
from flowdeck.model.deviation import Deviation
from flowdeck.model.seats import Seat
from flowdeck.model.session import Session


class Slipped(Struct, frozen=True, kw_only=True):
    """A deviation that stands. *flying*: who flew as it was made. *why*: of the item, list or gate.

    *span*: the number of the phase in which it was raised, as they were flown, from 0.
    """

    deviation: Deviation
    span: int
    flying: Seat
    why: str

    @property
    def latency_ms(self) -> int | None:
        """From the slip to its correction before the next gate; None: it was not trapped."""
        trapped = self.deviation.trapped_at
        return None if trapped is None else trapped - self.deviation.at


def slips_of(deck: Deck, session: Session, events: Iterable[ev.Event]) -> tuple[Slipped, ...]:
    """The deviations that stand after all events, in the order in which they were raised."""
    flying, span = Seat.CAPTAIN, 0
    by_number: dict[int, tuple[Seat, int]] = {}
    for event in events:
        match event:
            case ev.FlightStarted() | ev.ControlConfirmed():
                flying = event.flying
            case ev.PhaseEntered():
                span += 1
            case ev.DeviationRaised():
                by_number[event.number] = flying, span
            case _:
                pass
    return tuple(
        Slipped(deviation=d, flying=by_number[d.number][0], span=by_number[d.number][1], why=why_of(deck, d.item))
        for d in session.deviations
        if d.superseded_by is None
    )


def why_of(deck: Deck, ref: str) -> str:
    """The reason that the deck gives for an item, list or gate; empty where it gives none."""
    for table in (deck.items, deck.checklists, deck.gates):
        if ref in table:
            return table[ref].why
    return ""
