"""What must hold of any two decks: the same is the same, and what changed changes back."""

from collections import Counter
from collections.abc import Hashable

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from flowdeck.compare.change import Change, Covered, Tendency
from flowdeck.compare.comparison import Comparison, compare
from flowdeck.compare.timing import Window
from flowdeck.compare.weight import weight_of
from flowdeck.model.deck import Deck
from flowdeck.model.diagnostic import Rejected
from tests.compare.edits import EDITS, Edit, edited, told
from tests.support.small import small_deck

SMALL = small_deck()
_some = st.lists(st.sampled_from(EDITS), max_size=6, unique_by=lambda edit: edit.name)
_OPPOSITE = {
    None: None,
    Tendency.EARLIER: Tendency.LATER,
    Tendency.LATER: Tendency.EARLIER,
    Tendency.WIDER: Tendency.NARROWER,
    Tendency.NARROWER: Tendency.WIDER,
}


def deck_of(edits: list[Edit]) -> Deck:
    """The small deck with all of *edits*, where they can be made together."""
    try:
        deck = edited(*edits)
    except Rejected:
        deck = None
    assume(deck is not None)
    assert deck is not None
    return deck


def mirrored(change: Change) -> Change:
    return replace(
        change,
        old=change.new,
        new=change.old,
        before=change.after,
        after=change.before,
        tendency=_OPPOSITE[change.tendency],
        covers=tuple(sorted((Covered(c.thing, c.new, c.old) for c in change.covers), key=repr)),
    )


def in_order(change: Change) -> Change:
    return replace(change, covers=tuple(sorted(change.covers, key=repr)))


def turned(window: Window) -> Hashable:
    bounds = tuple(replace(b, before=b.after, after=b.before, tendency=_OPPOSITE[b.tendency]) for b in window.bounds)
    things = frozenset((new, old) for old, new in window.things)
    return window.thing, things, bounds, _OPPOSITE[window.whole]


def windows(c: Comparison) -> Counter[Hashable]:
    return Counter((w.thing, frozenset(w.things), w.bounds, w.whole) for w in c.windows)


@settings(max_examples=60, deadline=None)
@given(_some)
def test_a_deck_is_not_different_from_itself(edits: list[Edit]) -> None:
    c = compare(deck_of(edits), deck_of(edits))
    assert c.changes == () and c.windows == ()
    assert all(load.before == load.after for load in c.loads)
    assert all(each.lines_before == each.lines_after for each in c.lists)


@settings(max_examples=50, deadline=None)
@given(_some, _some)
def test_every_change_has_its_mirror(edits: list[Edit], others: list[Edit]) -> None:
    check_mirror(edits, others)


@pytest.mark.soak
@settings(max_examples=600, deadline=None)
@given(_some, _some)
def test_every_change_of_many_has_its_mirror(edits: list[Edit], others: list[Edit]) -> None:
    check_mirror(edits, others)


def check_mirror(edits: list[Edit], others: list[Edit]) -> None:
    old, new = deck_of(edits), deck_of(others)
    there, back = compare(old, new), compare(new, old)
    assert Counter(map(mirrored, there.changes)) == Counter(map(in_order, back.changes))
    assert Counter(weight_of(c) for c in there.changes) == Counter(weight_of(c) for c in back.changes)
    assert Counter(map(turned, there.windows)) == windows(back)
    loads = {(x.old_phase, x.new_phase, x.owner): (x.before, x.after) for x in there.loads}
    assert loads == {(x.new_phase, x.old_phase, x.owner): (x.after, x.before) for x in back.loads}


@settings(max_examples=100, deadline=None)
@given(_some)
def test_edits_of_different_files_are_told_as_each_alone(edits: list[Edit]) -> None:
    assume(len({edit.file for edit in edits}) == len(edits))
    alone = Counter(each for edit in edits for each in edit.told)
    assert Counter(told(change) for change in compare(SMALL, deck_of(edits)).changes) == alone


@settings(max_examples=60, deadline=None)
@given(_some, _some)
def test_changes_stand_in_flight_order_the_heaviest_first(edits: list[Edit], others: list[Edit]) -> None:
    """Every change is in its phase; in a phase weight only falls."""
    c = compare(deck_of(edits), deck_of(others))
    order = ["heavy", "middle", "light"]
    keys = [(c.stage_of(change), order.index(weight_of(change))) for change in c.changes]
    assert keys == sorted(keys)
    for change in c.changes:
        stage = c.stage_of(change)
        assert (stage < 0) == (change.spot.phase == "")
        if stage >= 0:
            assert change.spot.phase in c.stages[stage]
