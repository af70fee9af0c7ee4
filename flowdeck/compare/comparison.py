"""Two decks compared: `compare` is the one way to a `Comparison`."""

from typing import TypeAlias

from msgspec import Struct

from flowdeck.compare.aspects import Aspect, Thing
from flowdeck.compare.change import Change, Spot
from flowdeck.compare.differ import changes_of
from flowdeck.compare.fold import folded
from flowdeck.compare.match import Matches, match
from flowdeck.compare.timing import Window, windows_of
from flowdeck.compare.weight import Weight, weight_of
from flowdeck.compare.workload import ListLoad, Load, lists_of, loads_of
from flowdeck.model.deck import Deck

Stage: TypeAlias = tuple[str | None, str | None]
"""A phase of the older deck and the same of the newer one; None where it is not."""


class Comparison(Struct, frozen=True, kw_only=True, eq=False):
    """*changes*: those of the deck as a whole, then phase by phase in flight order, the heaviest of each first.

    A change is known by its number, its place in *changes* from 1.
    """

    old: Deck
    new: Deck
    stages: tuple[Stage, ...]
    changes: tuple[Change, ...]
    windows: tuple[Window, ...]
    loads: tuple[Load, ...]
    lists: tuple[ListLoad, ...]

    def stage_of(self, change: Change) -> int:
        """Which of *stages* it belongs to: that where the thing stands now, -1 for the deck as a whole."""
        return _stage(self.stages, change.old, change.new)


def compare(old: Deck, new: Deck) -> Comparison:
    """All that is different between an older and a newer deck."""
    m = match(old, new)
    single = list(changes_of(m))
    stages = _stages(m)
    rank = {thing: i for i, thing in enumerate(Thing)}
    order = {aspect: i for i, aspect in enumerate(Aspect)}
    weights = {weight: i for i, weight in enumerate(Weight)}
    place = {
        (r.thing, r.id): i
        for i, r in enumerate(r for book in (m.old, m.new) for t in book.values() for r in t.values())
    }

    def key(change: Change) -> tuple[int, ...]:
        weight, stage = weights[weight_of(change)], _stage(stages, change.old, change.new)
        spot = change.spot
        return stage, weight, order[change.aspect], rank[change.thing], place[change.thing, spot.id]

    return Comparison(
        old=old,
        new=new,
        stages=stages,
        changes=tuple(sorted(folded(m, single), key=key)),
        windows=windows_of(m, single),
        loads=loads_of(m, stages),
        lists=lists_of(m),
    )


def _stage(stages: tuple[Stage, ...], old: Spot | None, new: Spot | None) -> int:
    if new is not None:
        return next((i for i, stage in enumerate(stages) if stage[1] == new.phase), -1)
    return next((i for i, stage in enumerate(stages) if old is not None and stage[0] == old.phase), -1)


def _stages(m: Matches) -> tuple[Stage, ...]:
    """The newer deck's phases in flight order, those that went away after the one that they followed."""
    pairs = m.pairs[Thing.PHASE]
    back = {new: old for old, new in pairs.items()}
    stages: list[Stage] = [(back.get(phase), phase) for phase in m.new_side.deck.phases]
    at = 0
    for phase in m.old_side.deck.phases:
        if phase in pairs:
            at = stages.index((phase, pairs[phase])) + 1
        else:
            stages.insert(at, (phase, None))
            at += 1
    return tuple(stages)
