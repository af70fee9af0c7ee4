"""The prover against the engine's own evaluation: what it calls possible is so, what it calls impossible never is."""

import sys
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from flowdeck.conditions import Evaluator, Names, Table
from flowdeck.conditions.parse import tidy
from flowdeck.model.condition import Truth
from flowdeck.model.deck import Deck
from flowdeck.model.signals import Signal, SignalKind
from flowdeck.vet.proof import Impossible, Open, Possible, Prover
from flowdeck.vet.proof.formula import negated
from flowdeck.vet.proof.translate import Translator
from tests.support.small import small_deck

SIGNALS = (
    Signal(name="height_ft", title="Height", unit="ft", low=0, high=4),
    Signal(name="low_ft", title="Low", unit="ft", low=-2, high=2),
    Signal(name="course_deg", title="Course", unit="deg", low=0, high=360),
    Signal(name="gear", title="Gear", kind=SignalKind.CHOICE, choices=("up", "moving", "down")),
    Signal(name="wet", title="Wet", kind=SignalKind.FLAG),
)
"""Small ranges, so that trying all whole numbers and halves comes close to trying everything."""


def deck_of(*texts: str) -> Deck:
    """A deck whose conditions are *texts*, of which nothing else is asked."""
    small = small_deck()
    names = Names(
        signals={s.name: s for s in SIGNALS},
        facts=frozenset(("told",)),
        phases=frozenset(small.phases),
        refs=frozenset(("brief",)),
        marks=frozenset(("touchdown",)),
    )
    table = Table(names)
    for text in texts:
        table.add(text)
    return replace(small, signals=SIGNALS, conditions=table.conditions)


numbers = st.sampled_from(
    ["height_ft", "low_ft", "abs(low_ft)", "height_ft - low_ft", "min(height_ft, low_ft)", "2 * low_ft", "-low_ft"]
)
limits = st.sampled_from(["-1", "0", "1", "2", "3", "height_ft", "low_ft", "max(low_ft, 1)", "low_ft / 2"])
operators = st.sampled_from(["<", "<=", ">", ">=", "==", "!="])
simple = st.one_of(
    st.builds("{} {} {}".format, numbers, operators, limits),
    st.sampled_from(
        [
            "wet",
            "told",
            "done('brief')",
            "gear == 'down'",
            "gear != 'up'",
            "gear in ('up', 'moving')",
            "phase == 'ground'",
            "0 < height_ft <= 2",
            "turn(course_deg, 350) < 20",
        ]
    ),
)
conditions = st.recursive(
    simple,
    lambda inner: st.one_of(
        st.builds("({} and {})".format, inner, inner),
        st.builds("({} or {})".format, inner, inner),
        st.builds("not ({})".format, inner),
    ),
    max_leaves=5,
)


def truth_of(deck: Deck, row: int, values: dict[str, Any]) -> Truth:
    """What the engine's own language says, at *values* as the prover names them; what it does not name is anything."""
    plain: dict[str, Any] = {"height_ft": 1.0, "low_ft": 0.0, "course_deg": 10.0, "gear": "up", "wet": False}
    for name, value in values.items():
        if name in plain:
            plain[name] = value == "true" if name == "wet" else float(value) if isinstance(value, Fraction) else value
    none = (None,) * len(deck.conditions)
    return Evaluator(deck.conditions)(
        plain,
        {"told": values.get("fact told", "false") == "true"},
        str(values.get("phase", "approach")),
        {"brief"} if values.get("done brief") == "true" else set(),
        {},
        0,
        {},
        none,
        (0,) * len(none),
    )[row]


points = st.fixed_dictionaries(
    {
        "height_ft": st.sampled_from([Fraction(n, 2) for n in range(9)]),
        "low_ft": st.sampled_from([Fraction(n, 2) for n in range(-4, 5)]),
        "course_deg": st.sampled_from([Fraction(n) for n in (0, 9, 10, 11, 90, 329, 330, 331, 360)]),
        "gear": st.sampled_from(["up", "moving", "down"]),
        "wet": st.sampled_from(["true", "false"]),
        "fact told": st.sampled_from(["true", "false"]),
        "done brief": st.sampled_from(["true", "false"]),
        "phase": st.sampled_from(["approach", "ground"]),
    }
)
WANTED: dict[str, tuple[Truth, ...]] = {"true": (True,), "false": (False,), "not true": (False, None)}


@settings(max_examples=400, deadline=None)
@given(conditions, st.sampled_from(sorted(WANTED)), st.lists(points, min_size=5, max_size=5))
def test_what_is_shown_is_so_and_what_is_impossible_never_is(
    text: str, wanted: Any, tried: list[dict[str, Any]]
) -> None:
    deck = deck_of(text)
    answer = Prover(deck).can((len(deck.conditions) - 1, wanted))
    row = len(deck.conditions) - 1
    match answer:
        case Possible(case=case):
            assert truth_of(deck, row, case.values()) in WANTED[wanted], case.values()
        case Impossible():
            assert all(truth_of(deck, row, point) not in WANTED[wanted] for point in tried)
        case _:
            raise AssertionError("sums of readings are always settled")


@settings(max_examples=150, deadline=None)
@given(conditions, conditions)
def test_one_condition_implies_another_where_no_point_says_otherwise(first: str, second: str) -> None:
    """Two conditions at once: an implication is the impossibility of one without the other."""
    deck = deck_of(first, second)
    rows = [next(i for i, c in enumerate(deck.conditions) if c.text == tidy(text)) for text in (first, second)]
    prover = Prover(deck)
    answer = prover.can((rows[0], "true"), (rows[1], "not true"))
    never = isinstance(prover.can((rows[0], "true")), Impossible)
    assert prover.implies(*rows) is (rows[0] == rows[1] or (isinstance(answer, Impossible) and not never))
    if isinstance(answer, Possible):
        values = answer.case.values()
        assert truth_of(deck, rows[0], values) is True and truth_of(deck, rows[1], values) is not True


@pytest.mark.parametrize(
    ("text", "possible", "fallible"),
    [
        ("height_ft > 1 and low_ft > 1 and height_ft + low_ft < 2", False, True),
        ("height_ft - low_ft > 6", False, True),
        ("height_ft - low_ft >= 6", True, True),
        ("height_ft >= low_ft - 2", True, False),
        ("turn(course_deg, 350) > 180", False, True),
        ("gear == 'up' and gear == 'down'", False, True),
        ("wet or not wet", True, False),
        ("since('touchdown') >= 0", True, True),
        ("not since('touchdown') > 5 and since('touchdown') > 6", False, True),
        ("rising(wet) and not wet", False, True),
        ("held(wet, 5) and not wet", False, True),
        ("falling(wet) and wet", False, True),
        ("not held(wet, 5) and wet", True, True),
        ("(height_ft > 2) == wet and height_ft > 3 and not wet", False, True),
    ],
)
def test_by_hand(text: str, possible: bool, fallible: bool) -> None:
    deck = deck_of(text)
    row = len(deck.conditions) - 1
    prover = Prover(deck)
    assert isinstance(prover.can((row, "true")), Possible) is possible
    assert isinstance(prover.can((row, "not true")), Possible) is fallible


PRODUCTS = [
    ("height_ft * height_ft > 16", False),
    ("height_ft * low_ft > 8", False),
    ("height_ft * low_ft >= 7 and height_ft < 3.5", False),
    ("height_ft * low_ft >= 7 and height_ft < 3.6", True),
    ("8 / height_ft < 2", False),
    ("8 / height_ft < 2.5 and height_ft < 3", False),
    ("height_ft / (low_ft + 3) > 2 and low_ft > 0", False),
]


@pytest.mark.parametrize(("text", "possible"), PRODUCTS)
def test_products_by_the_extra(text: str, possible: bool) -> None:
    """What intervals leave open is settled by the solver of the extra, both ways."""
    pytest.importorskip("z3")
    deck = deck_of(text)
    row = len(deck.conditions) - 1
    answer = Prover(deck).can((row, "true"))
    assert isinstance(answer, Possible if possible else Impossible)
    if isinstance(answer, Possible):
        assert truth_of(deck, row, answer.case.values()) is True


def test_without_the_extra_a_product_stays_open(monkeypatch: pytest.MonkeyPatch) -> None:
    """Never guessed: intervals prove what is out of range, and say nothing of the rest."""
    monkeypatch.setitem(sys.modules, "flowdeck.vet.proof.solver", None)
    deck = deck_of("height_ft * low_ft >= 7 and height_ft < 3.5", "height_ft * low_ft > 8")
    prover = Prover(deck)
    assert isinstance(prover.can((0, "true")), Open) and isinstance(prover.can((1, "true")), Impossible)
    assert (prover.asked, prover.unsettled) == (2, 1)


@settings(max_examples=150, deadline=None)
@given(conditions, st.sampled_from(sorted(WANTED)))
def test_the_solver_of_the_extra_agrees(text: str, wanted: Any) -> None:
    """Two ways to an answer that share nothing but the question."""
    pytest.importorskip("z3")
    from flowdeck.vet.proof.solver import settle

    deck = deck_of(text)
    row = len(deck.conditions) - 1
    translate = Translator(deck)
    asked = {"true": translate.true(row), "false": translate.false(row)}
    asked["not true"] = negated(asked["true"], translate.domains)
    assert (settle(asked[wanted], translate) is False) is isinstance(Prover(deck).can((row, wanted)), Impossible)
