"""Lapses on purpose: which of the things that a played pilot owes it lets slip, drawn by chance from rates by kind.

The law: a draw hangs on the seed, the kind, the thing and the number of the approach; of the kinds that fall on one
thing the first in the file counts. So a flight with the same seed has the same lapses whatever the other pilot does;
how wrong a value is hangs on what is shown at that moment. A lapse is a slip as a scenario plants it.
"""

from collections.abc import Iterable
from functools import lru_cache

from msgspec import Struct

from flowdeck.crew.choice import followers
from flowdeck.engine.owed import Duty, Owed
from flowdeck.engine.values import plausible
from flowdeck.engine.work import Work
from flowdeck.model.chance import between, draw, one_of
from flowdeck.model.condition import Scalar
from flowdeck.model.deck import Deck, Item, ItemKind
from flowdeck.model.lapse import LapseKind, Lapses
from flowdeck.model.scenario import Planted, SlipKind
from flowdeck.model.seats import Owner

_FLOW = (ItemKind.ACTION, ItemKind.STANDING_ON, ItemKind.STANDING_OFF)
_CALLS = (ItemKind.CALL, ItemKind.ANSWER)
SWAPPED_S = 60.0
"""After this time (s) a swapped item is done although what should follow it is not (`our proposal`)."""
_SLIPS: dict[LapseKind, SlipKind] = {
    LapseKind.ITEM_OMITTED: "omit",
    LapseKind.ITEM_LATE: "delay",
    LapseKind.ITEM_SWAPPED: "swap",
    LapseKind.ITEM_MISSET: "say",
    LapseKind.CALL_OMITTED: "omit",
    LapseKind.CALL_LATE: "delay",
    LapseKind.LINE_BLIND: "hurry",
    LapseKind.LINE_MISSAID: "say",
    LapseKind.LINE_SKIPPED: "skip",
    LapseKind.LIST_NOT_CALLED: "no_call",
    LapseKind.LIST_LEFT_HELD: "leave_held",
    LapseKind.LIST_NOT_COMPLETED: "no_completion",
}
_DUTIES: dict[LapseKind, tuple[Duty, ...]] = {
    LapseKind.ITEM_OMITTED: (Duty.DO, Duty.POINT),
    LapseKind.ITEM_LATE: (Duty.DO, Duty.POINT),
    LapseKind.ITEM_SWAPPED: (Duty.DO, Duty.POINT),
    LapseKind.ITEM_MISSET: (Duty.DO,),
    LapseKind.CALL_OMITTED: (Duty.SAY, Duty.ANSWER_CALL),
    LapseKind.CALL_LATE: (Duty.SAY, Duty.ANSWER_CALL),
    LapseKind.LINE_BLIND: (Duty.ANSWER,),
    LapseKind.LINE_MISSAID: (Duty.ANSWER,),
    LapseKind.LINE_SKIPPED: (Duty.READ,),
    LapseKind.LIST_NOT_CALLED: (Duty.CALL_LIST,),
    LapseKind.LIST_LEFT_HELD: (Duty.RESUME,),
    LapseKind.LIST_NOT_COMPLETED: (Duty.COMPLETE,),
}


class Lapse(Struct, frozen=True, kw_only=True):
    """One thing that will be let slip if it comes up. *by_s*: how late (s), 0 where that says nothing."""

    kind: LapseKind
    ref: str
    by_s: float = 0.0

    def meets(self, duty: Owed) -> bool:
        """Whether this is what *duty* asks for."""
        return duty.ref == self.ref and duty.duty in _DUTIES[self.kind]


@lru_cache(maxsize=16)
def drawn(deck: Deck, lapses: Lapses, seed: int, approach: int) -> tuple[Lapse, ...]:
    """The lapses of one approach and what follows it, whoever owes the things; at most one a thing."""
    found: dict[str, Lapse] = {}
    for kind, percent in lapses.percent.items():
        for ref in _things(deck, kind):
            if ref not in found and draw(seed, f"{kind}/{ref}", approach) * 100 < percent:
                found[ref] = Lapse(kind=kind, ref=ref, by_s=_how_late(lapses, kind, seed, ref, approach))
    return tuple(found.values())


def _how_late(lapses: Lapses, kind: LapseKind, seed: int, ref: str, approach: int) -> float:
    if kind is LapseKind.ITEM_LATE:
        return round(between(*lapses.late_s, seed, f"late/{ref}", approach), 1)
    if kind is LapseKind.CALL_LATE:
        return round(between(*lapses.call_late_s, seed, f"late/{ref}", approach), 1)
    return SWAPPED_S if kind is LapseKind.ITEM_SWAPPED else 0.0


def _things(deck: Deck, kind: LapseKind) -> Iterable[str]:
    """Everything of a deck that could be let slip in this way."""
    items = deck.items.values()
    match kind:
        case LapseKind.ITEM_OMITTED | LapseKind.ITEM_LATE:
            return (i.id for i in items if i.kind in _FLOW and i.by is not Owner.BOTH and not i.tells)
        case LapseKind.ITEM_SWAPPED:
            return (
                i.id for i in items if i.kind is ItemKind.ACTION and i.by is not Owner.BOTH and followers(deck, i.id)
            )
        case LapseKind.ITEM_MISSET:
            return (i.id for i in items if i.kind is ItemKind.ACTION and i.value is not None)
        case LapseKind.CALL_OMITTED | LapseKind.CALL_LATE:
            return (i.id for i in items if i.kind in _CALLS and i.by is not Owner.BOTH and not _tells(deck, i))
        case LapseKind.LINE_BLIND:
            return (i.id for i in items if i.kind is ItemKind.LINE and i.by is not Owner.BOTH)
        case LapseKind.LINE_MISSAID:
            return (i.id for i in items if i.kind is ItemKind.LINE and i.value is not None and i.by is not Owner.BOTH)
        case LapseKind.LINE_SKIPPED:
            return (ref for checklist in deck.checklists.values() for ref in checklist.lines)
        case LapseKind.LIST_NOT_CALLED | LapseKind.LIST_NOT_COMPLETED:
            return tuple(deck.checklists)
        case LapseKind.LIST_LEFT_HELD:
            return (c.id for c in deck.checklists.values() if c.holds)


def _tells(deck: Deck, item: Item) -> bool:
    """Whether a call or its answer tells a fact: the flight itself waits for that, and nobody could go on."""
    partner = deck.items.get(item.partner or "")
    return item.tells is not None or (partner is not None and partner.tells is not None)


def as_planted(work: Work, seed: int, lapse: Lapse) -> Planted | None:
    """The slip that it comes to now; None where no wrong value can be told."""
    value: Scalar | None = None
    if lapse.kind in (LapseKind.ITEM_MISSET, LapseKind.LINE_MISSAID):
        right, *wrong = plausible(work, work.deck.items[lapse.ref]) or (None,)
        wrong = [each for each in wrong if each != right]
        if not wrong:
            return None
        value = one_of(wrong, seed, f"wrong/{lapse.ref}", work.session.approach)
    return Planted(kind=_SLIPS[lapse.kind], ref=lapse.ref, by_s=lapse.by_s, value=value)
