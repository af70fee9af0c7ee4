"""The compiled table gives what the plain evaluator gives, for any tree and any readings."""

from collections.abc import Sequence

from hypothesis import given, settings
from hypothesis import strategies as st

from flowdeck.conditions import Evaluator, changed_at, compile_truths
from flowdeck.model.condition import (
    Age,
    AllOf,
    AnyOf,
    Arith,
    Compare,
    Condition,
    Const,
    Done,
    Expr,
    FactRef,
    Falling,
    Func,
    Held,
    Negate,
    Not,
    OneOf,
    PhaseRef,
    Rising,
    Scalar,
    SignalRef,
    Since,
    Truth,
    Turn,
)

NUMBERS = ("x", "y", "z")
FLAGS = ("a", "b")
_figures = st.sampled_from([-2.5, -1.0, 0.0, 0.5, 1.0, 2.0, 180.0, 359.0, 1e9]) | st.floats(-400, 400)
_words = st.sampled_from(["on", "off", "p", "it's"])


def _numbers(children: st.SearchStrategy[Expr]) -> st.SearchStrategy[Expr]:
    several = st.lists(children, min_size=2, max_size=3).map(tuple)
    return st.one_of(
        st.builds(Arith, st.sampled_from(["+", "-", "*", "/"]), children, children),
        st.builds(Negate, children),
        st.builds(Turn, children, children),
        st.builds(Func, st.just("abs"), st.tuples(children)),
        st.builds(Func, st.sampled_from(["min", "max"]), several),
    )


_number: st.SearchStrategy[Expr] = st.recursive(
    st.one_of(
        st.builds(Const, _figures),
        st.builds(SignalRef, st.sampled_from(NUMBERS)),
        st.builds(Since, st.sampled_from(["m", "n"])),
        st.builds(Age, st.sampled_from(NUMBERS)),
    ),
    _numbers,
    max_leaves=6,
)
_word: st.SearchStrategy[Expr] = st.one_of(st.builds(Const, _words), st.just(SignalRef("w")), st.just(PhaseRef()))


def _chain(operands: Sequence[Expr], ops: Sequence[str]) -> Expr:
    return Compare(tuple(operands), tuple(ops[: len(operands) - 1]))  # type: ignore[arg-type]


_order = st.lists(st.sampled_from(["<", "<=", ">", ">=", "==", "!="]), min_size=3, max_size=3)
_equal = st.lists(st.sampled_from(["==", "!="]), min_size=1, max_size=1)


def _truth(row: int) -> st.SearchStrategy[Expr]:
    """Conditions of row number *row*, which may ask about the rows before it."""
    leaves: list[st.SearchStrategy[Expr]] = [
        st.builds(Const, st.booleans()),
        st.builds(SignalRef, st.sampled_from(FLAGS)),
        st.builds(FactRef, st.sampled_from(["f", "g"])),
        st.builds(Done, st.sampled_from(["m", "n"])),
        st.builds(_chain, st.lists(_number, min_size=2, max_size=4), _order),
        st.builds(_chain, st.lists(_word, min_size=2, max_size=2), _equal),
        st.builds(OneOf, _number, st.lists(_figures, min_size=1, max_size=3).map(tuple), st.booleans()),
        st.builds(OneOf, _word, st.lists(_words, min_size=1, max_size=3).map(tuple), st.booleans()),
    ]
    if row:
        inner = st.integers(0, row - 1)
        leaves += [
            st.builds(Held, inner, st.sampled_from([0.5, 1.0, 2.0])),
            st.builds(Rising, inner),
            st.builds(Falling, inner),
        ]

    def joined(children: st.SearchStrategy[Expr]) -> st.SearchStrategy[Expr]:
        parts = st.lists(children, min_size=2, max_size=4).map(tuple)
        pair = st.lists(children, min_size=2, max_size=2)
        return st.one_of(
            st.builds(Not, children),
            st.builds(AllOf, parts),
            st.builds(AnyOf, parts),
            st.builds(_chain, pair, _equal),
        )

    return st.recursive(st.one_of(leaves), joined, max_leaves=5)


_table = st.tuples(*(_truth(row) for row in range(4)))
_maybe_bool = st.none() | st.booleans()
_look = st.fixed_dictionaries(
    {
        "values": st.fixed_dictionaries(
            {},
            optional={
                **{name: st.none() | _figures for name in NUMBERS},
                **dict.fromkeys(FLAGS, _maybe_bool),
                "w": st.none() | _words,
            },
        ),
        "facts": st.dictionaries(st.sampled_from(["f", "g"]), _maybe_bool),
        "phase": _words,
        "done": st.frozensets(st.sampled_from(["m", "n"])),
        "times": st.dictionaries(st.sampled_from(["m", "n"]), st.integers(0, 3000)),
        "heard": st.dictionaries(st.sampled_from(NUMBERS), st.integers(0, 3000)),
    }
)


@settings(max_examples=100, deadline=None)
@given(trees=_table, looks=st.lists(_look, min_size=1, max_size=4))
def test_compiled_equals_plain(trees: tuple[Expr, ...], looks: list[dict[str, object]]) -> None:
    rows = tuple(Condition(text=str(at), tree=tree) for at, tree in enumerate(trees))
    compiled, plain = compile_truths(rows), Evaluator(rows)
    prev: tuple[Truth, ...] = compiled.nothing_known
    since: tuple[int, ...] = (0,) * len(rows)
    for step, look in enumerate(looks):
        now = 3000 + 700 * step
        answer = compiled(now=now, prev=prev, since=since, **look)  # type: ignore[arg-type]
        assert answer == plain(now=now, prev=prev, since=since, **look)  # type: ignore[arg-type]
        assert all(truth is None or isinstance(truth, bool) for truth in answer)
        prev, since = answer, changed_at(answer, prev, since, now)


def test_the_property_would_see_a_difference() -> None:
    """The two ways do depend on what they are asked: the same table, other readings, another answer."""
    rows = (Condition(text="x < 1", tree=Compare((SignalRef("x"), Const(1.0)), ("<",))),)
    values: list[dict[str, Scalar | None]] = [{"x": 0.0}, {"x": 2.0}, {"x": None}, {}]
    for look in (compile_truths(rows), Evaluator(rows)):
        answers = [look(given, {}, "", frozenset(), {}, 0, {}, (None,), (0,)) for given in values]
        assert answers == [(True,), (False,), (None,), (None,)]
