"""Slips that happened could have happened: each count has at least as many opportunities."""

from collections.abc import Callable

import pytest

from flowdeck.debrief.study import study
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.deviation import Slip
from tests.debrief.by_hand import LIST, SCENARIO, started, studied, undoes
from tests.engine.test_slips import descending, flight, prepared
from tests.support.bench import CPT, FO, BenchFlight
from tests.support.slipped import begun, transferred_by_the_wrong_one


def counts(f: BenchFlight, slip: Slip) -> tuple[int, int | None]:
    [counted] = [counted for counted in studied(f).classes if counted.slip is slip]
    return counted.count, counted.chances


def called_early_and_taken_back() -> BenchFlight:
    return undoes(prepared(flight()).calls(CPT, LIST), CPT)


def put_off(item: str) -> BenchFlight:
    f = begun()
    f.send(inp.Defer(at=f.now, seat=CPT, item=item, cue="on-ground"))
    return f


undone = "the deviation of an act that was taken back stays, and its act is no opportunity any more"

CASES: list[tuple[str, Slip, Callable[[], BenchFlight]]] = [
    (undone, Slip.EARLY, lambda: undoes(begun().does(FO, "missed"), FO)),
    (undone, Slip.WRONG_SEAT, lambda: undoes(begun().does(FO, "speed"), FO)),
    (undone, Slip.FLOW_ORDER, lambda: undoes(begun().points(FO, "aids").does(FO, "aids"), FO)),
    (undone, Slip.OUT_OF_ORDER, lambda: undoes(begun().reads(distance_nm=9.0).does(FO, "flap-land"), FO)),
    (undone, Slip.UNVERIFIED, lambda: undoes(begun().does(FO, "aids"), FO)),
    (undone, Slip.WRONG_TIME, called_early_and_taken_back),
    (
        "the selector moved before its window, seen by the signal alone, left no act",
        Slip.EARLY,
        lambda: begun().reads(selected_altitude_ft=3000.0),
    ),
    ("a list called complete that was never called", Slip.FROM_MEMORY, lambda: begun().completes(CPT, LIST)),
    ("a list called complete that was never called", Slip.WRONG_SEAT, lambda: begun().completes(CPT, LIST)),
    ("a transfer begun by the wrong seat", Slip.WRONG_SEAT, transferred_by_the_wrong_one),
    ("an item put off by the wrong seat", Slip.WRONG_SEAT, lambda: put_off("aids")),
]


@pytest.mark.parametrize(
    ("slip", "make"),
    [(slip, make) for _, slip, make in CASES],
)
def test_a_slip_that_was_made_could_have_been_made(slip: Slip, make: Callable[[], BenchFlight]) -> None:
    """One of none is no share."""
    count, chances = counts(make(), slip)
    assert count == 1, "raised, so that it is judged at all"
    assert chances is not None and chances >= count


@pytest.mark.parametrize(("why", "slip", "make"), CASES)
def test_each_of_these_flights_makes_its_slip(why: str, slip: Slip, make: Callable[[], BenchFlight]) -> None:
    """So that the table above fails for the reason that it gives, and not because nothing happened."""
    assert counts(make(), slip)[0] == 1, why


def test_an_item_put_off_before_its_window_can_be_debriefed() -> None:
    """The reverse is put off in the cruise, long before it is owed."""
    told = studied(put_off("reverse"))
    assert [life.item for life in told.lives if life.deferrals] in (["reverse"], [])


def test_a_flight_that_only_began_can_be_debriefed() -> None:
    told = study(flight().deck, SCENARIO, (started(),))
    assert told.slips == () and told.length_ms == 0 and told.end == ""


@pytest.mark.parametrize(
    "make",
    [
        pytest.param(lambda: begun().does(CPT, "speed"), id="owed since the flight began"),
        pytest.param(lambda: called_out().does(CPT, "to-go-answer"), id="an answer before its call is refused"),
    ],
)
def test_what_cannot_come_too_soon_is_no_chance_to_be_early(make: Callable[[], BenchFlight]) -> None:
    """The speed is owed from the first moment on; nothing can be answered that has not been called."""
    acts = make()
    answered = [e.item for e in acts.of(ev.ItemDone)]
    possible = sum(acts.deck.items[item].opens is not None for item in answered)
    assert counts(acts, Slip.EARLY) == (0, possible)


def called_out() -> BenchFlight:
    """One thousand to go, which waits for its height; the rest is owed from the beginning."""
    return descending(flight()).wait(1).does(FO, "to-go")
