"""Guessing a code costs its wait; the table of those who guess is bounded."""

from hypothesis import given
from hypothesis import strategies as st

from flowdeck.wire.link.knock import FORGIVEN_MS, MOST_ADDRESSES, Door, fits, right, wait_ms, wrong


def test_three_free_then_the_wait_doubles_to_half_a_minute() -> None:
    door, now, waits = Door(), 0, []
    for _ in range(12):
        door = wrong(door, "a", now)
        waits.append(wait_ms(door, "a", now))
        now += waits[-1]
        assert wait_ms(door, "a", now) == 0
    assert waits == [0, 0, 500, 1000, 2000, 4000, 8000, 16000, 30000, 30000, 30000, 30000]


def test_another_address_does_not_wait() -> None:
    door = Door()
    for _ in range(5):
        door = wrong(door, "a", 0)
    assert wait_ms(door, "a", 0) > 0
    assert wait_ms(door, "b", 0) == 0


def test_a_right_code_and_a_long_time_are_forgiving() -> None:
    door = Door()
    for _ in range(8):
        door = wrong(door, "a", 0)
    assert wait_ms(right(door, "a"), "a", 0) == 0
    assert wait_ms(wrong(door, "a", FORGIVEN_MS), "a", FORGIVEN_MS) == 0


def test_the_oldest_address_makes_room() -> None:
    door = Door()
    for _ in range(3):
        door = wrong(door, "first", 0)
    for number in range(MOST_ADDRESSES - 1):
        door = wrong(door, str(number), 0)
    assert wait_ms(door, "first", 0) == 500
    door = wrong(door, "one more", 0)
    assert len(door.failed) == MOST_ADDRESSES
    assert wait_ms(door, "first", 0) == 0


@given(st.text(), st.text())
def test_a_code_fits_itself_alone(code: str, offered: str) -> None:
    assert fits(code, code)
    assert fits(code, offered) == (code == offered)


@given(st.lists(st.tuples(st.integers(0, 3), st.integers(0, 100_000)), max_size=60))
def test_no_wait_is_longer_than_half_a_minute(knocks: list[tuple[int, int]]) -> None:
    door, now = Door(), 0
    for address, later in knocks:
        now += later
        door = wrong(door, str(address), now)
        assert 0 <= wait_ms(door, str(address), now) <= 30_000
