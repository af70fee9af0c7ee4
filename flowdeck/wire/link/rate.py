"""How many messages a link may send: a bucket that fills with time and gives one for each message."""

from msgspec import Struct

A_SECOND = 40
BURST = 80
TOO_MANY = f"more than {A_SECOND} messages a second"


class Bucket(Struct, frozen=True):
    """*left* at the time *at* (ms), in thousandths of a message."""

    left: int = BURST * 1000
    at: int = 0


def draw(bucket: Bucket, now: int) -> Bucket | None:
    """The bucket after one message at *now* (ms of a clock that only runs on); None when it has none left."""
    left = min(BURST * 1000, bucket.left + max(0, now - bucket.at) * A_SECOND)
    return None if left < 1000 else Bucket(left - 1000, now)
