"""Tables of one value over another, read between their rows and never beyond them."""

from bisect import bisect_right

from msgspec import Struct

from flowdeck.arrival.bounds import within


class Table(Struct, frozen=True):
    """*rows* of (argument, value), arguments rising. *over* and *unit* name the argument in messages."""

    over: str
    unit: str
    rows: tuple[tuple[float, float], ...]

    @property
    def low(self) -> float:
        return self.rows[0][0]

    @property
    def high(self) -> float:
        return self.rows[-1][0]

    def at(self, argument: float) -> float:
        """The value at *argument*, linear between rows. Raises `OutOfRange` where the table ends."""
        within(self.over, argument, self.unit, self.low, self.high)
        index = bisect_right(self.rows, argument, key=lambda row: row[0])
        if index == len(self.rows):
            return self.rows[-1][1]
        (left, low), (right, high) = self.rows[index - 1], self.rows[index]
        return low + (high - low) * (argument - left) / (right - left)
