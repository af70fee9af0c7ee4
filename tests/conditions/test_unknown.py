"""Three-valued truth, time and angles, asked of the compiled table and of the plain evaluator alike."""

from collections.abc import Mapping

import pytest

from flowdeck.conditions import Evaluator, Names, Table, Truths, changed_at, compile_truths
from flowdeck.model.condition import Scalar, Truth
from flowdeck.model.signals import Signal, SignalKind

SIGNALS = (
    Signal(name="a", title="A", kind=SignalKind.FLAG),
    Signal(name="b", title="B", kind=SignalKind.FLAG),
    Signal(name="x", title="X"),
    Signal(name="y", title="Y"),
    Signal(name="heading_deg", title="Heading", unit="deg"),
    Signal(name="course_deg", title="Course", unit="deg"),
    Signal(name="gear", title="Gear", kind=SignalKind.CHOICE, choices=("up", "down")),
)
NAMES = Names(
    signals={signal.name: signal for signal in SIGNALS},
    facts=frozenset({"f"}),
    phases=frozenset({"p", "q"}),
    refs=frozenset({"item"}),
    marks=frozenset({"mark"}),
)
BOTH = pytest.mark.parametrize("kind", [compile_truths, Evaluator])


def table_of(*texts: str) -> Table:
    table = Table(NAMES)
    for text in texts:
        table.add(text)
    assert [finding for finding in table.findings if finding.level == "error"] == []
    return table


def ask(
    kind: type[Evaluator],
    text: str,
    values: Mapping[str, Scalar] | None = None,
    facts: Mapping[str, bool | None] | None = None,
    done: frozenset[str] = frozenset(),
    times: Mapping[str, int] | None = None,
    now: int = 0,
    heard: Mapping[str, int] | None = None,
) -> Truth:
    """The truth of *text* at a first look."""
    table = table_of(text)
    rows = len(table.conditions)
    look: Truths | Evaluator = kind(table.conditions)
    return look(
        values or {},
        facts or {},
        "p",
        done,
        times or {},
        now,
        heard or {},
        (None,) * rows,
        (0,) * rows,
    )[-1]


KLEENE: list[tuple[Truth, Truth, Truth, Truth]] = [
    (True, True, True, True),
    (True, False, False, True),
    (True, None, None, True),
    (False, True, False, True),
    (False, False, False, False),
    (False, None, False, None),
    (None, True, None, True),
    (None, False, False, None),
    (None, None, None, None),
]


@BOTH
@pytest.mark.parametrize(("a", "b", "both", "either"), KLEENE)
def test_and_or_not(kind: type[Evaluator], a: Truth, b: Truth, both: Truth, either: Truth) -> None:
    values = {name: value for name, value in (("a", a), ("b", b)) if value is not None}
    assert ask(kind, "a and b", values) is both
    assert ask(kind, "a or b", values) is either
    assert ask(kind, "not a", values) is (None if a is None else not a)
    assert ask(kind, "a == b", values) is (None if a is None or b is None else a is b)
    assert ask(kind, "f", facts={"f": a}) is a


UNKNOWN: list[tuple[str, dict[str, Scalar], Truth]] = [
    ("x < 1", {}, None),
    ("x < 1", {"x": 0.5}, True),
    ("x + y < 1", {"x": 0.5}, None),
    ("-x < 1", {}, None),
    ("abs(x) < 1", {}, None),
    ("min(x, y) < 1", {"x": 0.5}, None),
    ("max(x, y, 3) == 3", {"x": 0.5, "y": 2.0}, True),
    ("x / y > 1", {"x": 2.0, "y": 0.0}, None),
    ("x / y > 1", {"x": 2.0, "y": 1.0}, True),
    ("x / 2 == 1", {"x": 2.0}, True),
    ("x < 1 < y", {"x": 0.5}, None),
    ("x < 1 < y", {"x": 1.5}, False),
    ("x < 1 < y", {"y": 0.5}, False),
    ("0 < x < 1", {"x": 0.5}, True),
    ("0 < x < 1", {"x": 1.5}, False),
    ("0 < x < 1", {}, None),
    ("x < 1 < 0", {}, False),
    ("gear in ('up',)", {}, None),
    ("gear in ('up',)", {"gear": "up"}, True),
    ("gear not in ('up',)", {"gear": "up"}, False),
    ("gear not in ('up',)", {}, None),
    ("x in (1, 2)", {"x": 2.0}, True),
    ("gear != 'up'", {}, None),
    ("phase == 'p'", {}, True),
    ("phase in ('q',)", {}, False),
    ("true and a", {}, None),
    ("false and a", {}, False),
    ("true", {}, True),
]


@BOTH
@pytest.mark.parametrize(("text", "values", "truth"), UNKNOWN)
def test_unknown_passes_through(kind: type[Evaluator], text: str, values: dict[str, Scalar], truth: Truth) -> None:
    assert ask(kind, text, values) is truth


@BOTH
def test_done_is_always_known_since_and_age_are_not(kind: type[Evaluator]) -> None:
    assert ask(kind, "done('item')") is False
    assert ask(kind, "done('item')", done=frozenset({"item"})) is True
    assert ask(kind, "since('mark') > 2") is None
    assert ask(kind, "since('mark') > 2", times={"mark": 1000}, now=3000) is False
    assert ask(kind, "since('mark') > 2", times={"mark": 1000}, now=3001) is True
    assert ask(kind, "age(x) > 2") is None
    assert ask(kind, "age(x) > 2", heard={"x": 0}, now=2001) is True


TURNS = [(360, 0, 0), (0, 360, 0), (350, 10, 20), (10, 350, 20), (359, 1, 2), (1, 359, 2), (0, 180, 180), (180, 0, 180),
         (90, 271, 179), (90, 269, 179), (45, 45, 0), (720, 10, 10)]  # fmt: skip


@BOTH
@pytest.mark.parametrize(("heading", "course", "degrees"), TURNS)
def test_a_turn_is_the_shortest_way_round(kind: type[Evaluator], heading: int, course: int, degrees: int) -> None:
    values: dict[str, Scalar] = {"heading_deg": float(heading), "course_deg": float(course)}
    assert ask(kind, f"turn(heading_deg, course_deg) == {degrees}", values) is True
    assert ask(kind, f"turn(heading_deg, {course}) == {degrees}", values) is True
    assert ask(kind, "turn(heading_deg, course_deg) < 400", {"heading_deg": 1.0}) is None


def follow(kind: type[Evaluator], text: str, story: list[tuple[int, bool | None]]) -> list[Truth]:
    """The truth of *text* at each moment (ms) of a story of flag `a`."""
    table = table_of(text)
    look: Truths | Evaluator = kind(table.conditions)
    prev: tuple[Truth, ...] = (None,) * len(table.conditions)
    since: tuple[int, ...] = (0,) * len(table.conditions)
    answers: list[Truth] = []
    for now, a in story:
        truths = look({"a": a}, {}, "p", frozenset(), {}, now, {}, prev, since)
        prev, since = truths, changed_at(truths, prev, since, now)
        answers.append(truths[-1])
    return answers


@BOTH
def test_held_asks_for_an_unbroken_time(kind: type[Evaluator]) -> None:
    story: list[tuple[int, bool | None]] = [
        (0, None), (1000, False), (2000, True), (6999, True), (7000, True), (8000, None), (9000, True), (13999, True),
        (14000, True), (15000, False), (30000, True),
    ]  # fmt: skip
    expected = [None, False, False, False, True, None, False, False, True, False, False]
    assert follow(kind, "held(a, 5)", story) == expected


@BOTH
def test_rising_and_falling_last_one_look_and_need_both_sides_known(kind: type[Evaluator]) -> None:
    story: list[tuple[int, bool | None]] = list(
        enumerate([True, False, True, True, None, True, False, None, True, False, False])
    )
    rising = [False, False, True, False, None, False, False, None, False, False, False]
    falling = [False, True, False, False, None, False, True, None, False, True, False]
    assert follow(kind, "rising(a)", story) == rising
    assert follow(kind, "falling(a)", story) == falling


def test_since_moves_only_for_rows_that_changed() -> None:
    assert changed_at((True, None, False), (True, False, None), (1, 2, 3), 9) == (1, 9, 9)
    since = (1, 2)
    assert changed_at((True, False), (True, False), since, 9) is since
