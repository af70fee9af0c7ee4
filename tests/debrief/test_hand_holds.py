"""Holds of lists worked out by hand: how long, said or seen, and how each ended."""

import pytest

from flowdeck.debrief.lists import Hold
from flowdeck.model import events as ev
from tests.debrief.by_hand import LIST, holds, undoes
from tests.debrief.test_hand_lists import CALLED, LINES, OPENED, answered, held, of, read, readings
from tests.support.bench import FO
from tests.support.slipped import called, completed_on_hold, past_the_hold, resumed_too_soon


@pytest.mark.parametrize(
    ("then", "until", "way"),
    [
        (ev.ListResumed(at=9500, checklist=LIST, seat=FO, line="ll-gear"), 9500, "read again"),
        (ev.ListResumed(at=9500, checklist=LIST, seat=FO, restart=True, lines=LINES), 9500, "from the top"),
        (read(9500, "ll-altimeters"), 9500, "went on"),
        (ev.ListCompleted(at=9500, checklist=LIST, seat=FO), 9500, "completed"),
        (ev.Heard(at=9500, words="Continue."), None, "never"),
    ],
)
def test_how_a_hold_ends(then: ev.Event, until: int | None, way: str) -> None:
    """Held at 5.0 s; ended at 9.5 s, 4.5 s later, or not at all."""
    [reading] = readings(OPENED, CALLED, read(3000, "ll-gear"), answered(4000, "ll-gear"), held(5000), then)
    assert reading.holds == (Hold(at=5000, point="", why="traffic", spoken=True, seat=FO, until=until, way=way),)


def test_a_hold_that_was_only_seen_names_nobody() -> None:
    [reading] = readings(OPENED, CALLED, held(5000, spoken=False))
    assert [(h.spoken, h.seat, h.until, h.way) for h in reading.holds] == [(False, None, None, "never")]


def test_two_holds_of_one_reading() -> None:
    """3.0 s and 1.5 s; what is read after a hold has ended does not end it again."""
    again = ev.ListResumed(at=8000, checklist=LIST, seat=FO, line="ll-gear")
    [reading] = readings(
        OPENED, CALLED, read(3000, "ll-gear"), answered(4000, "ll-gear"), held(5000), again,
        read(9000, "ll-altimeters"), held(10_000), read(11_500, "ll-flap"),
    )  # fmt: skip
    assert [(h.at, h.until, h.way) for h in reading.holds] == [(5000, 8000, "read again"), (10_000, 11_500, "went on")]


def test_a_hold_taken_back_was_no_hold() -> None:
    assert of(undoes(holds(called(), FO), FO)).holds == ()


def test_a_hold_at_its_point_ended_too_soon() -> None:
    """Resumed in the moment it was held: a hold of no length, at the point before the flap."""
    [hold] = of(resumed_too_soon()).holds
    assert (hold.point, hold.spoken, hold.seat, hold.until, hold.way) == (
        "before-flap",
        True,
        FO,
        hold.at,
        "read again",
    )


def test_read_past_a_point_without_a_hold_is_no_hold() -> None:
    reading = of(past_the_hold())
    assert reading.holds == () and reading.read == LINES


def test_completed_on_hold() -> None:
    reading = of(completed_on_hold())
    assert [hold.way for hold in reading.holds] == ["completed"]
    assert reading.completed_by is FO and reading.closed_at is None
