"""Sizes of paper and of what is printed on it, in millimetres.

What a pilot reads in flight has an x-height of at least 2.5 mm and a gap between lines of a third of the size of the
letters (NASA CR-177605, from memory; CAP 676, second-hand). What only tells which card this is (its head and foot)
is smaller: nobody reads it while flying, and it would take a third of a small page.
"""

from msgspec import Struct

from flowdeck.card.face import X_HEIGHT

LEAST_X_HEIGHT_MM = 2.5
"""NASA CR-177605, from memory."""
LEAST_GAP = 0.25
"""Between lines, as a share of the size of letters: 25 to 33 %, NASA CR-177605, from memory."""


class Paper(Struct, frozen=True, kw_only=True):
    """*side*, *top*, *bottom* are margins; *read* is the size of letters and *pitch* from line to line."""

    name: str
    width: float
    height: float
    side: float
    top: float
    bottom: float
    read: float
    pitch: float
    heading: float
    fine: float
    fine_pitch: float
    gutter: float
    who: float

    @property
    def left(self) -> float:
        return self.side

    @property
    def right(self) -> float:
        return self.width - self.side

    @property
    def prompt_x(self) -> float:
        """Where a challenge begins; marks stand left of it."""
        return self.side + self.gutter

    @property
    def who_x(self) -> float:
        """Where the narrow column of who answers begins."""
        return self.right - self.who

    @property
    def x_height(self) -> float:
        return self.read * X_HEIGHT

    @property
    def gap(self) -> float:
        """Between lines, as a share of the size of letters."""
        return (self.pitch - self.read) / self.read


A5 = Paper(
    name="a5", width=148, height=210, side=8, top=8, bottom=7, read=4.75, pitch=6.35, heading=5.6,
    fine=2.7, fine_pitch=3.6, gutter=7, who=13,
)  # fmt: skip
A4 = Paper(
    name="a4", width=210, height=297, side=16, top=14, bottom=12, read=5, pitch=6.7, heading=6,
    fine=2.9, fine_pitch=3.9, gutter=7.5, who=14,
)  # fmt: skip
PAPERS = {paper.name: paper for paper in (A5, A4)}
