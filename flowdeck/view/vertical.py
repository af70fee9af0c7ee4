"""The frame of every drawing of a vertical path: miles to the threshold along the bottom, altitudes up the left."""

from collections.abc import Iterator
from math import ceil

WIDTH = 900.0
LEFT, RIGHT, BOTTOM = 62.0, 24.0, 46.0
FINAL_NM = 12.0
"""Miles of the drawing of the final approach."""
_ALTITUDES = (100, 200, 500, 1000, 2000, 5000, 10_000)
_MILES = (1, 2, 5, 10, 20, 50, 100)


class Frame:
    """From NM and ft to the drawing, *height* high with *top* left free. The threshold is at the right."""

    def __init__(self, far_nm: float, low_ft: float, high_ft: float, *, height: float, top: float) -> None:
        self.far_nm, self.low_ft, self.high_ft = far_nm, low_ft, high_ft
        self.height, self.top = height, top

    @property
    def base(self) -> float:
        return self.height - BOTTOM

    def x(self, nm: float) -> float:
        return LEFT + (WIDTH - LEFT - RIGHT) * (1 - nm / self.far_nm)

    def y(self, ft: float) -> float:
        return self.top + (self.base - self.top) * (1 - (ft - self.low_ft) / (self.high_ft - self.low_ft))


def axes(frame: Frame) -> Iterator[str]:
    """Lines of round altitudes, and marks of round miles; never more than can be read."""
    step = _step(frame.high_ft - frame.low_ft, _ALTITUDES, 7)
    level = ceil(frame.low_ft / step) * step
    while level < frame.high_ft:
        y = frame.y(level)
        yield f'<line class="grid" x1="{LEFT:.1f}" x2="{WIDTH - RIGHT:.1f}" y1="{y:.1f}" y2="{y:.1f}"/>'
        unit = " ft" if level + step >= frame.high_ft else ""
        yield f'<text class="small end" x="{LEFT - 6:.1f}" y="{y + 4:.1f}">{level:.0f}{unit}</text>'
        level += step
    base, mile, stride = frame.base, 0, _step(frame.far_nm, _MILES, 12)
    while mile <= frame.far_nm:
        x = frame.x(mile)
        yield f'<line class="axis" x1="{x:.1f}" x2="{x:.1f}" y1="{base:.1f}" y2="{base + 5:.1f}"/>'
        yield f'<text class="small middle" x="{x:.1f}" y="{base + 18:.1f}">{mile}</text>'
        mile += stride
    yield f'<line class="axis" x1="{LEFT:.1f}" x2="{WIDTH - RIGHT:.1f}" y1="{base:.1f}" y2="{base:.1f}"/>'
    yield f'<text class="small" x="{LEFT:.1f}" y="{frame.height - 8:.1f}">NM to the threshold</text>'


def _step(span: float, steps: tuple[int, ...], most: int) -> int:
    """The smallest of *steps* that comes up at most so often in *span*, a larger one where all are too small."""
    return next((step for step in steps if span / step <= most), ceil(span / most))
