"""Each time that something was owed, from its window's opening to how it ended.

The law: a life is opened by its window (or by an act before it), and ends once: done by a seat, seen by a signal,
found so already, withdrawn, or left. What lapsed may still be done, and keeps both times. What was taken back was
not done. An item that opens again begins another life, so that one selector set nine times is nine opportunities.

waiting -- opened --> owed -- done / seen / found --> ended -- reopened --> owed (another life)
"""

from collections.abc import Iterable
from typing import assert_never

from msgspec import Struct
from msgspec.structs import replace

from flowdeck.model import events as ev
from flowdeck.model.deck import Deck, ItemKind
from flowdeck.model.seats import Seat
from flowdeck.model.session import Evidence


class Deferral(Struct, frozen=True, kw_only=True):
    """Put off to a cue or a time; *came_at*: when the cue came (ms), None if it never did."""

    at: int
    seat: Seat
    cue: str | None = None
    back_at: int | None = None
    came_at: int | None = None


class Life(Struct, frozen=True, kw_only=True):
    """One time that *item* was owed. All times are ms of session time, None: it did not happen.

    *opened_at* is None for what was done before its window opened. *prompted*: the tool reminded before it was done.
    """

    item: str
    kind: ItemKind
    phase: str
    flying: Seat
    opened_at: int | None = None
    overdue_at: int | None = None
    missed_at: int | None = None
    lapsed_at: int | None = None
    withdrawn_at: int | None = None
    done_at: int | None = None
    seat: Seat | None = None
    parts: tuple[tuple[Seat, int], ...] = ()
    evidence: Evidence | None = None
    seen_at: int | None = None
    shown: str = ""
    prompted: bool = False
    deferrals: tuple[Deferral, ...] = ()

    @property
    def begun_at(self) -> int:
        """When it was first heard of."""
        known = (self.opened_at, self.done_at, self.withdrawn_at, *(at for _, at in self.parts))
        known += tuple(put_off.at for put_off in self.deferrals)
        return min(at for at in known if at is not None)

    @property
    def was_owed(self) -> bool:
        """Whether a pilot had to do it: not found so already, nor withdrawn before it was done or its limit ran out."""
        in_time = self.done_at is None and self.overdue_at is None
        return self.evidence is not Evidence.FOUND and not (self.withdrawn_at is not None and in_time)


def lives_of(deck: Deck, events: Iterable[ev.Event]) -> tuple[Life, ...]:
    """The lives of every item but the lines of checklists, oldest first."""
    book = _Book(deck)
    for event in events:
        book.take(event)
    return book.closed()


class _Book:
    def __init__(self, deck: Deck) -> None:
        self._deck = deck
        self._phase = deck.start
        self._flying = Seat.CAPTAIN
        self._open: dict[str, Life] = {}
        self._ended: list[Life] = []

    def closed(self) -> tuple[Life, ...]:
        lives = [*self._ended, *self._open.values()]
        return tuple(sorted(lives, key=lambda life: life.begun_at))

    def take(self, event: ev.Event) -> None:
        match event:
            case ev.FlightStarted():
                self._phase, self._flying = event.phase, event.flying
            case ev.PhaseEntered():
                self._phase = event.phase
            case ev.ControlConfirmed():
                self._flying = event.flying
            case ev.Prompted() if event.ref in self._open:
                life = self._open[event.ref]
                if life.done_at is None:
                    self._open[event.ref] = replace(life, prompted=True)
            case ev.Undone(what="tick" | "deferral"):
                self._take_back(event)
            case ev.Reset():
                for ref in event.items:
                    self._end(ref)
            case _:
                if isinstance(event, ev.ItemEvent) and self._deck.items[event.item].kind is not ItemKind.LINE:
                    self._item(event)

    def _item(self, event: ev.ItemEvent) -> None:
        ref, at = event.item, event.at
        match event:
            case ev.ItemOpened():
                if self._life(ref).done_at is not None or self._life(ref).lapsed_at is not None:
                    self._end(ref)
                self._open[ref] = replace(self._life(ref), opened_at=at, phase=self._phase, flying=self._flying)
            case ev.ItemFound():
                self._end(ref)
                found = replace(self._life(ref), opened_at=at, done_at=at, evidence=Evidence.FOUND, shown=event.shown)
                self._open[ref] = found
            case ev.ItemPartly():
                life = self._fresh(ref)
                self._open[ref] = replace(life, parts=(*life.parts, (event.seat, at)))
            case ev.ItemDone():
                done = replace(self._fresh(ref), done_at=at, seat=event.seat, evidence=Evidence.SAID, shown=event.shown)
                self._open[ref] = replace(done, prompted=done.prompted or event.prompted)
            case ev.ItemSeen():
                life = self._life(ref)
                if life.done_at is None:
                    life = replace(life, done_at=at)
                seen = life.evidence is not Evidence.FOUND
                self._open[ref] = replace(
                    life, evidence=Evidence.SEEN if seen else life.evidence, seen_at=at, shown=event.shown or life.shown
                )
            case ev.ItemReopened():
                self._end(ref)
                self._open[ref] = replace(self._life(ref), opened_at=at)
            case ev.ItemLapsed():
                self._open[ref] = replace(self._life(ref), lapsed_at=at)
            case ev.ItemMissed():
                self._open[ref] = replace(self._life(ref), missed_at=at)
            case ev.ItemOverdue():
                self._open[ref] = replace(self._life(ref), overdue_at=at)
            case ev.ItemWithdrawn():
                self._open[ref] = replace(self._life(ref), withdrawn_at=at)
                self._end(ref)
            case ev.ItemDeferred():
                life = self._life(ref)
                put_off = Deferral(at=at, seat=event.seat, cue=event.cue, back_at=event.back_at)
                self._open[ref] = replace(life, deferrals=(*life.deferrals, put_off))
            case ev.CueCame():
                life = self._life(ref)
                if life.deferrals:
                    came = replace(life.deferrals[-1], came_at=at)
                    self._open[ref] = replace(life, deferrals=(*life.deferrals[:-1], came))
            case ev.ItemPointed() | ev.ItemUnproved():
                pass
            case _:
                assert_never(event)

    def _life(self, ref: str) -> Life:
        """The life that goes on, or a blank one."""
        kind = self._deck.items[ref].kind
        return self._open.get(ref) or Life(item=ref, kind=kind, phase=self._phase, flying=self._flying)

    def _fresh(self, ref: str) -> Life:
        """The life that goes on; another one where it was done already."""
        if self._life(ref).done_at is not None:
            self._end(ref)
        return self._life(ref)

    def _end(self, ref: str) -> None:
        life = self._open.pop(ref, None)
        if life is not None:
            self._ended.append(life)

    def _take_back(self, event: ev.Undone) -> None:
        life = self._open.get(event.ref)
        if life is None:
            return
        if event.what == "deferral":
            self._open[event.ref] = replace(life, deferrals=life.deferrals[:-1])
        elif life.done_at is not None:
            parts = tuple(part for part in life.parts if part[0] is not event.seat)
            self._open[event.ref] = replace(
                life, done_at=None, seat=None, evidence=None, seen_at=None, shown="", parts=parts
            )
        else:
            self._open[event.ref] = replace(life, parts=life.parts[:-1])
        left = self._open[event.ref]
        if left.opened_at is None and not left.parts and left.withdrawn_at is None and not left.deferrals:
            del self._open[event.ref]  # done before its window and taken back: nothing was owed yet
