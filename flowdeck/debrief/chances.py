"""How often each class of deviation could have happened in a flight: its opportunities.

The law: an opportunity is a moment at which the engine would have raised the class had the crew slipped. What was found
so already, or withdrawn before it was done or its limit ran out, is none. A slip that left no act behind (a repeat, an
answer that was not the one asked for, an act taken back, a selector moved by nobody known) was an attempt too. A class
that cannot be judged with one person in both seats has no count (None).

- omitted: actions owed whose time is over, and lines of lists that were read or passed over
- late: actions owed that have a late limit; early: acts whose time was not come from the start
- out of order, flow order: the edges (and limits of the moment) that stand on each act and each list called
- repeated: acts; wrong seat: acts and answers that belong to one pilot, lists called and completed, lines read
- unverified: acts and answers that something can contradict; nonstandard response: lines answered; rote: at x1
- read-do: lines answered that verify an item; wrong time: lists called and lines read
- from memory, chunked, no completion: lists called or called complete; not called: lists owed
- calls: calls and answers whose time is over; gates met, gates failed; standing items owed; items put off
"""

from collections import Counter
from collections.abc import Iterable
from typing import assert_never

from msgspec import Struct

from flowdeck.debrief.counts import SPOKEN, call_kept
from flowdeck.debrief.crew import GateMet
from flowdeck.debrief.lists import Reading, Reply
from flowdeck.debrief.lives import Life
from flowdeck.model.deck import Deck, Item, ItemKind
from flowdeck.model.deviation import Slip
from flowdeck.model.seats import Owner
from flowdeck.model.session import Evidence

TWO_PEOPLE = (Slip.ROTE, Slip.CHUNKED)
"""Not judged with one person in both seats."""


class Chances(Struct, frozen=True, kw_only=True):
    """What opportunities are counted from."""

    deck: Deck
    solo: bool
    lives: tuple[Life, ...]
    readings: tuple[Reading, ...]
    gates: tuple[GateMet, ...]
    not_taken: Counter[Slip]
    """Slips that left no act behind, by class."""

    def of(self, slip: Slip) -> int | None:
        """The opportunities of a class, None where it is not judged."""
        if self.solo and slip in TWO_PEOPLE:
            return None
        return self._seen(slip) + self.not_taken[slip]

    def _seen(self, slip: Slip) -> int:
        """Those of which an act, an answer or a state of the flight is left."""
        match slip:
            case Slip.OMITTED:
                lines = sum(len({*reading.read, *reading.skipped}) for reading in self.readings)
                return lines + sum(_is_over(life) for life in self._owed(ItemKind.ACTION))
            case Slip.LATE:
                return sum(self._item(life).late is not None for life in self._owed(ItemKind.ACTION))
            case Slip.EARLY:
                return sum(self._can_be_early(life) for life in self._acts())
            case Slip.OUT_OF_ORDER:
                called = (self.deck.checklists[reading.checklist] for reading in self._called())
                hard = sum(edge.hard for checklist in called for edge in checklist.after)
                return hard + sum(_hard(self._item(life)) for life in self._acts())
            case Slip.FLOW_ORDER:
                return sum(sum(not edge.hard for edge in self._item(life).after) for life in self._acts())
            case Slip.REPEATED:
                return sum(1 for _ in self._acts())
            case Slip.WRONG_SEAT:
                lists = sum((r.called_at is not None) + (r.completed_at is not None) for r in self.readings)
                lines = sum(len(reading.read) for reading in self.readings)
                lines += sum(_of_one(self.deck.items[reply.line]) for reply in self._replies())
                untaken = self.not_taken[Slip.REPEATED] + self.not_taken[Slip.NONSTANDARD_RESPONSE]
                return sum(_of_one(self._item(life)) for life in self._acts()) + lists + lines + untaken
            case Slip.UNVERIFIED:
                acts = sum(_can_fail(self._item(life)) for life in self._acts())
                lines = sum(_can_fail(self.deck.items[reply.line]) for reply in self._replies())
                return acts + lines
            case Slip.READ_DO:
                return sum(bool(self.deck.items[reply.line].verifies) for reply in self._replies())
            case Slip.ROTE:
                return sum(reply.pace <= 1 for reply in self._replies())
            case Slip.NONSTANDARD_RESPONSE:
                return sum(1 for _ in self._replies())
            case Slip.WRONG_TIME:
                return sum(1 + len(reading.read) for reading in self._called())
            case Slip.FROM_MEMORY | Slip.CHUNKED | Slip.NO_COMPLETION:
                return sum(r.called_at is not None or r.completed_at is not None for r in self.readings)
            case Slip.NOT_CALLED:
                return sum(reading.was_owed for reading in self.readings)
            case Slip.CALL_MISSED | Slip.CALL_LATE | Slip.CALL_PROMPTED:
                return sum(call_kept(life) != "open" for life in self._owed(*SPOKEN))
            case Slip.GATE_FAILED:
                return len(self.gates)
            case Slip.CONTINUED_PAST_GATE:
                return sum(gate.answer != "passed" for gate in self.gates)
            case Slip.STANDING_MISSED:
                return sum(1 for _ in self._owed(ItemKind.STANDING_ON))
            case Slip.STANDING_LEFT_ON:
                return sum(1 for _ in self._owed(ItemKind.STANDING_OFF))
            case Slip.DEFERRED_LOST:
                return sum(len(life.deferrals) for life in self.lives)
            case _:
                assert_never(slip)

    def _item(self, life: Life) -> Item:
        return self.deck.items[life.item]

    def _owed(self, *kinds: ItemKind) -> Iterable[Life]:
        return (life for life in self.lives if life.kind in kinds and life.was_owed)

    def _acts(self) -> Iterable[Life]:
        return (life for life in self.lives if life.done_at is not None and life.evidence is not Evidence.FOUND)

    def _can_be_early(self, life: Life) -> bool:
        """Not an answer, which waits for its call; nor what is owed from the first moment, in its own phase."""
        item = self._item(life)
        waits = item.opens is not None or self.deck.start not in item.phases or life.phase not in item.phases
        return item.kind is not ItemKind.ANSWER and waits

    def _called(self) -> Iterable[Reading]:
        return (reading for reading in self.readings if reading.called_at is not None)

    def _replies(self) -> Iterable[Reply]:
        return (reply for reading in self.readings for reply in reading.replies)


def _is_over(life: Life) -> bool:
    return life.done_at is not None or life.lapsed_at is not None or life.missed_at is not None


def _hard(item: Item) -> int:
    return sum(edge.hard for edge in item.after) + len(item.needs)


def _of_one(item: Item) -> bool:
    return item.by not in (Owner.BOTH, Owner.EITHER)


def _can_fail(item: Item) -> bool:
    return item.seen is not None or item.value is not None or bool(item.verifies) or item.point
