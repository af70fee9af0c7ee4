"""Which lapses are drawn, how often, and what slip each comes to."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flowdeck.crew.lapses import as_planted, drawn
from flowdeck.engine.program import program
from flowdeck.engine.work import Work
from flowdeck.live.bundled import read_lapses
from flowdeck.model.lapse import LAPSE_MEANING, LapseKind, Lapses
from flowdeck.model.readings import Readings
from flowdeck.model.session import Session
from tests.support.cockpit import bundled
from tests.support.moments import flown_until

DECK = bundled("clean")[0]


def certain(*kinds: LapseKind) -> Lapses:
    return Lapses(id="certain", title="Certain", percent=dict.fromkeys(kinds, 100.0))


@pytest.mark.parametrize("kind", list(LapseKind))
def test_at_a_hundred_percent_everything_of_a_kind_is_let_slip(kind: LapseKind) -> None:
    """Each kind has things in the deck that it can be of, and no other thing is drawn."""
    found = drawn(DECK, certain(kind), 1, 1)
    assert found and {lapse.kind for lapse in found} == {kind}
    assert len({lapse.ref for lapse in found}) == len(found)


@given(st.integers(0, 10_000), st.integers(1, 5))
def test_at_nothing_nothing_is(seed: int, approach: int) -> None:
    assert drawn(DECK, Lapses(id="x", title="x", percent=dict.fromkeys(LapseKind, 0.0)), seed, approach) == ()


@pytest.mark.parametrize("name", ["light", "line", "heavy"])
def test_as_many_as_the_file_says(name: str) -> None:
    """The mean over 120 seeds lies within five standard deviations of the sum of the rates."""
    lapses = read_lapses(name)
    chances = [rate / 100 for kind, rate in lapses.percent.items() for _ in drawn(DECK, certain(kind), 1, 1)]
    expected, variance = sum(chances), sum(p * (1 - p) for p in chances)
    runs = 120
    mean = sum(len(drawn(DECK, lapses, seed, 1)) for seed in range(runs)) / runs
    room = 5 * (variance / runs) ** 0.5
    both = sum(p * expected for p in chances) / 10  # two lapses on one thing count as one: at the most a tenth of that
    assert expected - both - room <= mean <= expected + room


def test_what_could_stop_the_flight_is_not_let_slip() -> None:
    """Items that tell a fact, and calls whose answer does: the flight itself waits for them."""
    refs = {lapse.ref for lapse in drawn(DECK, certain(LapseKind.CALL_OMITTED, LapseKind.ITEM_OMITTED), 1, 1)}
    assert "minimum-call" not in refs and "minimum-call-answer" not in refs
    assert not {ref for ref in refs if DECK.items[ref].tells}


def test_a_late_act_comes_between_the_times_of_the_file() -> None:
    lapses = Lapses(id="x", title="x", percent={LapseKind.ITEM_LATE: 100.0}, late_s=(5.0, 9.0))
    times = [lapse.by_s for lapse in drawn(DECK, lapses, 3, 1)]
    assert min(times) >= 5 and max(times) <= 9 and len(set(times)) > 10


def test_a_wrong_value_is_plausible_and_wrong() -> None:
    """At a moment of a flight: a figure of the same unit near the right one, or another word of the selector."""
    flight = flown_until("clean", lambda f: f.now > 900_000)
    work = Work(program(DECK), flight.session, flight.readings, flight.now)
    found = 0
    for lapse in drawn(DECK, certain(LapseKind.ITEM_MISSET), 2, 1):
        slip = as_planted(work, 2, lapse)
        if slip is None:
            continue
        found += 1
        right = work.value(DECK.items[lapse.ref].value or "")
        assert slip.kind == "say" and slip.value is not None and (right is None or type(slip.value) is type(right))
    assert found >= 5


def test_without_a_reading_no_wrong_value_can_be_told() -> None:
    work = Work(program(DECK), Session(), Readings(), 0)
    lapses = drawn(DECK, certain(LapseKind.LINE_MISSAID), 1, 1)
    assert lapses and all(as_planted(work, 1, lapse) is None for lapse in lapses)


def test_each_kind_says_what_it_is() -> None:
    assert set(LAPSE_MEANING) == set(LapseKind)
