"""What became of each lapse that a played pilot made on purpose: caught, put right by its maker, or gone by."""

from collections.abc import Sequence
from enum import StrEnum

from msgspec import Struct

from flowdeck.engine.topic import names_of
from flowdeck.model import events as ev
from flowdeck.model.deck import Deck
from flowdeck.model.deviation import Trapper
from flowdeck.model.lapse import LapseKind
from flowdeck.model.seats import Seat


class Fate(StrEnum):
    """*caught*: the other pilot spoke up about it, or put it right. *mended*: its maker did so unasked, before the next
    gate. *went_by*: it stood at the next gate. *harmless*: nothing came of it that the tool could tell."""

    CAUGHT = "caught"
    MENDED = "mended"
    WENT_BY = "went_by"
    HARMLESS = "harmless"


class LapseFate(Struct, frozen=True, kw_only=True):
    """*at*: when an attentive pilot would have done it (ms); *ended_at*: when it was caught or put right (ms).

    *slips*: the numbers of the deviations that came of it.
    """

    kind: LapseKind
    seat: Seat
    ref: str
    at: int
    fate: Fate
    ended_at: int | None = None
    slips: tuple[int, ...] = ()

    @property
    def latency_ms(self) -> int | None:
        """From the lapse to its end; None where it went by or nothing came of it."""
        return None if self.ended_at is None else self.ended_at - self.at


def lapses_of(deck: Deck, events: Sequence[ev.Event]) -> tuple[LapseFate, ...]:
    """Every lapse of a flight with what became of it, in the order in which they were made."""
    made = [event for event in events if isinstance(event, ev.LapseMade)]
    return tuple(_fate(deck, lapse, _until(made, lapse, events)) for lapse in made)


def _until(made: list[ev.LapseMade], lapse: ev.LapseMade, events: Sequence[ev.Event]) -> list[ev.Event]:
    """What happened from a lapse on, up to the same lapse of a later approach."""
    again = next((other.at for other in made if other.ref == lapse.ref and other.at > lapse.at), None)
    return [event for event in events if event.at >= lapse.at and (again is None or event.at < again)]


def _fate(deck: Deck, lapse: ev.LapseMade, after: list[ev.Event]) -> LapseFate:
    about = _about(deck, lapse)
    raised = [e for e in after if isinstance(e, ev.DeviationRaised) and e.item in about]
    slips = [e for e in raised if e.seat is lapse.seat or (e.seat is None and e.item == lapse.ref)]
    numbers = tuple(slip.number for slip in slips)
    names = names_of(deck, lapse.ref)
    spoken = [e.at for e in after if isinstance(e, ev.Challenged) and e.seat is not lapse.seat and e.about in names]
    traps = {e.number: e for e in after if isinstance(e, ev.DeviationTrapped) and e.number in numbers}
    by_other = [trap.at for trap in traps.values() if trap.by is Trapper.OTHER_SEAT]
    fate, ended_at = Fate.HARMLESS, None
    if spoken or by_other:
        fate, ended_at = Fate.CAUGHT, min((*spoken, *by_other))
    elif slips and len(traps) == len(numbers):
        fate, ended_at = Fate.MENDED, max(trap.at for trap in traps.values())
    elif slips:
        fate = Fate.WENT_BY
    return LapseFate(
        kind=lapse.kind, seat=lapse.seat, ref=lapse.ref, at=lapse.at, fate=fate, ended_at=ended_at, slips=numbers
    )


def _about(deck: Deck, lapse: ev.LapseMade) -> frozenset[str]:
    """Where a lapse shows: at the thing, its line, its list, and at what comes after it in order."""
    after = {item.id for item in deck.items.values() if any(edge.before == lapse.ref for edge in item.after)}
    return names_of(deck, lapse.ref) | after
