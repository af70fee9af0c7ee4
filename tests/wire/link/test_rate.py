"""A link may send a burst, and then no more than its share of each second."""

from hypothesis import given
from hypothesis import strategies as st

from flowdeck.wire.link.rate import A_SECOND, BURST, Bucket, draw


def test_a_burst_and_then_one_each_25_ms() -> None:
    bucket: Bucket | None = Bucket()
    for _ in range(BURST):
        assert bucket is not None
        bucket = draw(bucket, 0)
    assert bucket is not None
    assert draw(bucket, 24) is None
    assert draw(bucket, 25) is not None


@given(st.lists(st.integers(0, 2000), max_size=300))
def test_never_more_than_burst_and_share(gaps: list[int]) -> None:
    bucket, now, taken = Bucket(), 0, 0
    for gap in gaps:
        now += gap
        after = draw(bucket, now)
        if after is not None:
            bucket, taken = after, taken + 1
        assert taken <= BURST + now * A_SECOND / 1000
        assert after is None or 0 <= after.left <= BURST * 1000


@given(st.integers(0, 10**9), st.integers(-(10**6), 0))
def test_a_clock_that_goes_back_gives_nothing(at: int, back: int) -> None:
    after = draw(Bucket(left=5000, at=at), at + back)
    assert after is not None and after.left == 4000
