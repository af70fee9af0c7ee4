"""Trends over flights: sums by hand, curves in order of time, shares only of many."""

from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flowdeck.debrief.study import study
from flowdeck.debrief.summary import Slipped, Summary, Tally, summary_of
from flowdeck.debrief.trends import CURVE, FEW, Share, trends_of
from flowdeck.model.deviation import Severity, Slip
from tests.scenarios.flown import flown


def slipped(item: str, slip: Slip, number: int = 1) -> Slipped:
    return Slipped(
        number=number, slip=slip, severity=Severity.CAUTION, seat=None, item=item, title=item.title(), phase="approach",
        at=1000, trapped_by=None, latency_ms=None,
    )  # fmt: skip


def flight(day: int, counts: dict[Slip, tuple[int, int | None]], *slips: Slipped, owed: dict[str, int]) -> Summary:
    return Summary(
        begun=f"2026-01-{day:02}T10:00:00",
        deck="small", deck_title="Small", deck_hash="0", scenario="quiet", scenario_title="Quiet", solo=False,
        end="parked", length_ms=1000,
        tallies=tuple(Tally(slip=slip, count=n, chances=of) for slip, (n, of) in counts.items()),
        slips=slips, owed=owed,
    )  # fmt: skip


THREE = [
    flight(3, {Slip.LATE: (0, 10), Slip.ROTE: (0, None)}, owed={"gear": 1, "flap": 3}),
    flight(
        1, {Slip.LATE: (2, 10), Slip.ROTE: (1, 4)},
        slipped("gear", Slip.LATE), slipped("flap", Slip.LATE), owed={"gear": 1, "flap": 3},
    ),
    flight(2, {Slip.LATE: (1, 12), Slip.ROTE: (0, None)}, slipped("gear", Slip.LATE), owed={"gear": 2}),
]  # fmt: skip
"""The days are out of order; two of them were flown by one person."""


def test_three_flights_by_hand() -> None:
    """Late 2 of 10, 1 of 12, 0 of 10: 3 of 32. Rote was judged once. Gear slipped twice of four times owed."""
    found = trends_of(THREE)
    assert (found.flights, found.first, found.last) == (3, "2026-01-01T10:00:00", "2026-01-03T10:00:00")
    late, rote = found.classes
    assert (late.slip, late.whole, late.curve) == (Slip.LATE, Share(3, 32), (Share(2, 10), Share(1, 12), Share(0, 10)))
    assert (rote.slip, rote.whole, rote.curve) == (Slip.ROTE, Share(1, 4), (Share(1, 4), Share(0, 0), Share(0, 0)))
    gear, flap = found.items
    assert (gear.item, gear.title, gear.whole, gear.last) == ("gear", "Gear", Share(2, 4), "2026-01-02T10:00:00")
    assert (flap.item, flap.whole, flap.last) == ("flap", Share(1, 6), "2026-01-01T10:00:00")


def test_the_order_in_which_flights_are_given_changes_nothing() -> None:
    assert len({repr(trends_of(order)) for order in permutations(THREE)}) == 1


@pytest.mark.parametrize(("n", "of", "share"), [(1, FEW - 1, None), (1, FEW, 1 / FEW), (0, FEW, 0.0), (3, 60, 0.05)])
def test_a_share_only_of_many(n: int, of: int, share: float | None) -> None:
    assert Share(n, of).share == share


def test_no_flights() -> None:
    found = trends_of([])
    assert (found.flights, found.first, found.classes, found.items) == (0, "", (), ())


@given(st.lists(st.tuples(st.integers(0, 5), st.integers(5, 40)), min_size=1, max_size=60))
def test_a_curve_is_the_whole_in_parts_as_equal_as_can_be(counts: list[tuple[int, int]]) -> None:
    flights = [flight(1 + i % 28, {Slip.LATE: pair}, owed={}) for i, pair in enumerate(counts)]
    [late] = trends_of(flights).classes
    assert len(late.curve) == min(CURVE, len(flights))
    assert sum(part.n for part in late.curve) == late.whole.n == sum(n for n, _ in counts)
    assert sum(part.of for part in late.curve) == late.whole.of == sum(of for _, of in counts)
    if len({of for _, of in counts}) == 1:
        sizes = {part.of for part in late.curve}
        assert max(sizes) - min(sizes) <= counts[0][1]


@pytest.mark.parametrize("name", ["slips", "go-around", "cold"])
def test_a_summary_holds_what_the_debrief_found(name: str) -> None:
    done = flown(name)
    d = study(done.deck, done.scenario, done.events)
    s = summary_of(d, "2026-01-05T12:30:00")
    assert [(t.slip, t.count, t.chances) for t in s.tallies] == [(c.slip, c.count, c.chances) for c in d.classes]
    assert [x.number for x in s.slips] == [each.deviation.number for each in d.slips]
    assert all(s.owed.get(x.item, 0) >= 1 for x in s.slips if x.slip not in (Slip.EARLY, Slip.REPEATED))
    gear = "gear-down"
    assert s.owed[gear] == sum(life.item == gear and life.was_owed for life in d.lives) >= 1
