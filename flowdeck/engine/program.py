"""What is worked out once for a deck: the compiled conditions, the machine, who refers to whom."""

from collections.abc import Mapping
from functools import lru_cache

from flowdeck.conditions import Truths, compile_truths, names_used
from flowdeck.engine.fsm import PhaseMachine
from flowdeck.model.condition import Scalar, SignalRef, Truth
from flowdeck.model.deck import PLACEHOLDER, Checklist, Deck, Gate, Item, ItemKind
from flowdeck.model.readings import Readings
from flowdeck.model.session import Session


class Program:
    """A deck made ready to run. Build it with `program(deck)`, which keeps the last few."""

    def __init__(self, deck: Deck) -> None:
        self.deck = deck
        self.machine = PhaseMachine(deck)
        self.truths: Truths = compile_truths(deck.conditions)
        self.signals = {signal.name: signal for signal in deck.signals}
        self.items_of: dict[str, tuple[Item, ...]] = {
            phase: tuple(i for i in deck.items.values() if phase in i.phases and i.kind is not ItemKind.LINE)
            for phase in deck.phases
        }
        self.lists_of: dict[str, tuple[Checklist, ...]] = {
            phase: tuple(c for c in deck.checklists.values() if c.phase == phase) for phase in deck.phases
        }
        self.gates_of: dict[str, tuple[Gate, ...]] = {
            phase: tuple(g for g in deck.gates.values() if phase in g.phases) for phase in deck.phases
        }
        self.verified_by: dict[str, tuple[Item, ...]] = _inverse(deck)
        self.order = {ref: place for place, ref in enumerate(deck.items)}
        self.list_of_line = {line: c for c in deck.checklists.values() for line in c.lines}
        self.hard_after: dict[str, tuple[str, ...]] = _hard_after(deck)
        self.rests_on = {item.id: _rests_on(deck, item) for item in deck.items.values()}
        self.on_ground = _is_signal(deck, "on_ground")
        self.airborne = tuple(p.id for p in deck.phases.values() if p.airborne)
        self._ages = tuple((s.name, int(s.stale_s * 1000)) for s in deck.signals if s.stale_s is not None)
        self._first_stale = min((limit for _, limit in self._ages), default=0)

    def sense(self, readings: Readings, now: int) -> Mapping[str, Scalar | None]:
        """The readings at *now* (ms) by signal; None, or not there, when stale or unheard."""
        if now - readings.oldest <= self._first_stale:
            return readings.values
        at = readings.at
        stale = [name for name, limit in self._ages if now - at.get(name, now) > limit]
        return {**readings.values, **dict.fromkeys(stale)} if stale else readings.values

    def look(self, session: Session, readings: Readings, now: int) -> tuple[Truth, ...]:
        """The truth of every condition of the deck at *now* (ms)."""
        return self.truths(
            self.sense(readings, now),
            session.facts,
            session.phase,
            session.done,
            session.times,
            now,
            readings.at,
            session.truths,
            session.truth_at,
        )


def _is_signal(deck: Deck, name: str) -> int | None:
    """The condition that asks for this flag and nothing else, None when the deck has none."""
    return next(
        (i for i, c in enumerate(deck.conditions) if isinstance(c.tree, SignalRef) and c.tree.name == name), None
    )


def _inverse(deck: Deck) -> dict[str, tuple[Item, ...]]:
    result: dict[str, list[Item]] = {}
    for item in deck.items.values():
        for ref in item.verifies:
            result.setdefault(ref, []).append(item)
    return {ref: tuple(lines) for ref, lines in result.items()}


def _hard_after(deck: Deck) -> dict[str, tuple[str, ...]]:
    result: dict[str, list[str]] = {}
    for item in deck.items.values():
        for edge in item.after:
            if edge.hard:
                result.setdefault(edge.before, []).append(item.id)
    return {ref: tuple(items) for ref, items in result.items()}


def _rests_on(deck: Deck, item: Item) -> frozenset[str]:
    """The planned signals on which an item rests: those it shows, asks for, moves to or is proved by."""
    named = {*PLACEHOLDER.findall(item.do), *PLACEHOLDER.findall(item.to), *item.reopened_by}
    named |= {item.value or "", *(move.same_as or "" for move in item.moves)}
    if item.seen is not None:
        named |= names_used(deck.conditions[item.seen].tree, deck.conditions)
    return frozenset(signal.name for signal in deck.signals if signal.planned and signal.name in named)


@lru_cache(maxsize=8)
def program(deck: Deck) -> Program:
    """The program of a deck (decks are compared by identity)."""
    return Program(deck)
