"""Earlier, later, wider, narrower: what is said is true for any readings; what is not sure is not said."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flowdeck.compare.change import Span, Tendency
from flowdeck.compare.comparison import compare
from flowdeck.compare.tendency import implies, of_spans
from flowdeck.conditions import Evaluator
from flowdeck.model.condition import (
    AllOf,
    AnyOf,
    Compare,
    Condition,
    Const,
    Expr,
    FactRef,
    Held,
    Not,
    OneOf,
    SignalRef,
)
from tests.support.small import APPROACH, small_deck

ROWS = [Condition(text="", tree=FactRef("f")), Condition(text="", tree=Compare((SignalRef("x"), Const(2.0)), ("<",)))]
_bound = st.sampled_from([1.0, 2.0, 3.0]).map(Const)
_op = st.sampled_from(["<", "<=", ">", ">=", "==", "!="])
_leaf: st.SearchStrategy[Expr] = st.one_of(
    st.builds(lambda s, op, b: Compare((s, b), (op,)), st.sampled_from([SignalRef("x"), SignalRef("y")]), _op, _bound),
    st.builds(lambda op, b: Compare((b, SignalRef("x")), (op,)), _op, _bound),
    st.builds(lambda a, b: Compare((a, SignalRef("x"), b), ("<", "<=")), _bound, _bound),
    st.builds(lambda w: Compare((SignalRef("w"), Const(w)), ("==",)), st.sampled_from(["on", "off"])),
    st.just(OneOf(SignalRef("w"), ("on", "off"))),
    st.just(OneOf(SignalRef("w"), ("on", "mid"))),
    st.just(FactRef("f")),
    st.builds(Held, st.sampled_from([0, 1]), st.sampled_from([1.0, 2.0])),
)


def _joined(children: st.SearchStrategy[Expr]) -> st.SearchStrategy[Expr]:
    parts = st.lists(children, min_size=2, max_size=3).map(tuple)
    return st.one_of(st.builds(Not, children), st.builds(AllOf, parts), st.builds(AnyOf, parts))


_tree = st.recursive(_leaf, _joined, max_leaves=5)
_reading = st.sampled_from([None, 0.0, 1.0, 1.5, 2.0, 2.5, 3.0, 4.0])
_truth = st.sampled_from([None, False, True])
_look = st.fixed_dictionaries(
    {
        "values": st.fixed_dictionaries(
            {"x": _reading, "y": _reading, "w": st.sampled_from([None, "on", "off", "mid"])}
        ),
        "facts": st.fixed_dictionaries({"f": _truth}),
        "prev": st.tuples(_truth, _truth),
        "since": st.tuples(st.sampled_from([0, 1500, 2500]), st.sampled_from([0, 1500, 2500])),
    }
)


def truths(trees: list[Expr], look: dict[str, Any]) -> tuple[bool | None, ...]:
    rows = (*ROWS, *(Condition(text="", tree=tree) for tree in trees))
    prev, since = (*look["prev"], *[None] * len(trees)), (*look["since"], *[0] * len(trees))
    return Evaluator(rows)(look["values"], look["facts"], "", frozenset(), {}, 3000, {}, prev, since)[len(ROWS) :]


@settings(max_examples=200, deadline=None)
@given(_tree, _tree, st.lists(_look, min_size=4, max_size=4))
def test_what_is_implied_holds_at_every_look(p: Expr, q: Expr, looks: list[dict[str, Any]]) -> None:
    if implies(p, q, ROWS):
        for look in looks:
            first, second = truths([p, q], look)
            assert first is not True or second is True


@settings(max_examples=200, deadline=None)
@given(_tree, _tree)
def test_a_part_more_is_always_known(p: Expr, q: Expr) -> None:
    """The property above is not empty: these are implied, whatever the parts."""
    assert implies(AllOf((p, q)), p, ROWS) and implies(q, AnyOf((p, q)), ROWS)
    assert implies(Not(AnyOf((p, q))), Not(p), ROWS)


E, L, W, N = Tendency.EARLIER, Tendency.LATER, Tendency.WIDER, Tendency.NARROWER


@pytest.mark.parametrize(
    ("old", "new", "wanted"),
    [
        ("distance_nm <= 10", "distance_nm <= 9", L),
        ("distance_nm <= 10", "distance_nm < 10", L),
        ("distance_nm <= 10", "distance_nm <= 11", E),
        ("10 >= distance_nm", "12 >= distance_nm", E),
        ("distance_nm <= 10", "distance_nm <= 10 and cleared", L),
        ("distance_nm <= 10", "distance_nm <= 10 or cleared", E),
        ("distance_nm <= 10", "held(distance_nm <= 10, 5)", L),
        ("held(distance_nm <= 10, 5)", "held(distance_nm <= 10, 4)", E),
        ("distance_nm <= 10 and not cleared", "distance_nm <= 10 and not (cleared or wet)", L),
        ("since('touchdown') > 5", "since('touchdown') > 8", L),
        ("distance_nm <= 10", "distance_nm >= 9", None),
        ("distance_nm <= 10", "height_aal_ft <= 3000", None),
        ("distance_nm <= 10 and cleared", "distance_nm <= 11 and wet", None),
        ("rising(cleared)", "rising(cleared and wet)", None),
    ],
)
def test_of_an_opening(old: str, new: str, wanted: Tendency | None) -> None:
    """Same reading, same way round: known. Anything else: both texts, and nothing said."""
    decks = [small_deck(approach=APPROACH.replace('"distance_nm <= 10"', f'"{text}"')) for text in (old, new)]
    changes = [change for change in compare(*decks).changes if change.aspect == "opens"]
    assert [change.tendency for change in changes] == [wanted]


@pytest.mark.parametrize(
    ("before", "after", "opening", "same", "wanted"),
    [
        (Span(30), Span(40), None, True, L),
        (Span(40), Span(30), None, True, E),
        (Span(30), Span(30), L, False, L),
        (Span(30), Span(40), L, False, L),
        (Span(30), Span(40), E, False, None),
        (Span(30), Span(40), None, False, None),
        (Span(30, "touchdown"), Span(40, "touchdown"), None, False, L),
        (Span(30, "touchdown"), Span(40), None, True, None),
    ],
)
def test_of_seconds(before: Span, after: Span, opening: Tendency | None, same: bool, wanted: Tendency | None) -> None:
    """Seconds from the opening are only as well known as the opening."""
    assert of_spans(before, after, opening, same) == wanted


@pytest.mark.parametrize(
    ("old", "new", "aspect", "wanted"),
    [
        ("ias_kt <= 220", "ias_kt <= 210", "need", N),
        ("{that: \"gear == 'down'\"", "{that: \"gear == 'down' or wet\"", "must", W),
        ('at: "height_aal_ft <= 1000"', 'at: "height_aal_ft <= 1100"', "at", E),
        ('late: "height_aal_ft < 1500"', 'late: "height_aal_ft < 1300"', "late", L),
        ("not_while: near_runway", 'not_while: "near_runway or wet"', "not_while", W),
        ("within_s: 6}\n    why: Runway", "within_s: 9}\n    why: Runway", "within_s", L),
    ],
)
def test_of_other_conditions(old: str, new: str, aspect: str, wanted: Tendency) -> None:
    """Of moments earlier or later, of what must hold stricter (narrower) or looser (wider)."""
    [change] = compare(small_deck(), small_deck(approach=APPROACH.replace(old, new))).changes
    assert (change.aspect, change.tendency) == (aspect, wanted)
