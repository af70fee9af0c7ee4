"""The vertical path as SVG: planned, flown, and the gates where they were met.

The plan is broken, each approach a full line, a climb away from one thin; a gate that was passed is an open ring, one
that was not is crossed. The threshold is at the right.
"""

from collections.abc import Iterator
from math import ceil

from flowdeck.debrief.path import Flown, Point
from flowdeck.debrief.study import Debrief
from flowdeck.engine.words import title
from flowdeck.view.html import text
from flowdeck.view.vertical import FINAL_NM, WIDTH, Frame, axes

_HEIGHT, _TOP = 320.0, 24.0

STYLE = (
    ".flown{fill:none;stroke:currentColor;stroke-width:2.2;stroke-linejoin:round}"
    ".climb{fill:none;stroke:currentColor;stroke-width:1}"
    ".plan{fill:none;stroke:var(--soft);stroke-width:1.6;stroke-dasharray:6 4}"
    ".ring{fill:var(--paper);stroke:currentColor;stroke-width:2}.cross{stroke:currentColor;stroke-width:2.4}"
    ".least{stroke:var(--soft);stroke-dasharray:2 4}"
)


def way_svg(d: Debrief, far_nm: float | None = None) -> str:
    """The way down from *far_nm* (default: all of it); empty when no instrument showed it."""
    flown = d.flown
    points = [p for line in flown.lines for p in line]
    if not points:
        return ""
    far = far_nm if far_nm is not None else ceil(max(p.distance_nm for p in points) / 5) * 5 or 5
    near = [p.altitude_ft for p in points if p.distance_nm <= far]
    low = min([*near, *(plan.elevation_ft for plan in flown.planned)]) if near else 0.0
    high = max(near, default=low + 1000)
    room = max(500.0, high - low)
    frame = Frame(far, low - room * 0.04, high + room * 0.12, height=_HEIGHT, top=_TOP)
    parts = [*axes(frame), *_plans(flown, frame), *_lines(flown, frame), *_gates(d, frame)]
    words = f"Vertical path flown and planned, the last {far:.0f} NM"
    return (
        f'<svg viewBox="0 0 {WIDTH:.0f} {_HEIGHT:.0f}" role="img" aria-label="{text(words)}" '
        f'xmlns="http://www.w3.org/2000/svg"><title>{text(words)}</title>{"".join(parts)}</svg>'
    )


def _shown(points: list[tuple[float, float]], frame: Frame) -> str:
    inside = [(nm, ft) for nm, ft in points if 0 <= nm <= frame.far_nm and ft <= frame.high_ft]
    return " ".join(f"{frame.x(nm):.1f},{frame.y(ft):.1f}" for nm, ft in inside)


def _plans(flown: Flown, frame: Frame) -> Iterator[str]:
    """Every plan that was flown by, and the minimum of the last."""
    for plan in flown.planned:
        for points in plan.lines:
            if line := _shown(list(points), frame):
                yield f'<polyline class="plan" points="{line}"><title>planned: {text(plan.title)}</title></polyline>'
    least = flown.planned[-1].minimum_ft if flown.planned else None
    if least is not None and frame.far_nm <= 2 * FINAL_NM and frame.low_ft < least < frame.high_ft:
        y, left, right = frame.y(least), frame.x(frame.far_nm * 0.3), frame.x(0)
        yield f'<line class="least" x1="{left:.1f}" x2="{right:.1f}" y1="{y:.1f}" y2="{y:.1f}"/>'
        yield f'<text class="small end" x="{right:.1f}" y="{y - 5:.1f}">minimum {least:.0f}</text>'


def _lines(flown: Flown, frame: Frame) -> Iterator[str]:
    for points in flown.lines:
        line = _shown([(p.distance_nm, p.altitude_ft) for p in points], frame)
        if line:
            yield f'<polyline class="{"climb" if _goes_away(points) else "flown"}" points="{line}"/>'


def _goes_away(points: tuple[Point, ...]) -> bool:
    """A climb away from an approach ends farther than it began."""
    return points[-1].distance_nm > points[0].distance_nm + 1


def _gates(d: Debrief, frame: Frame) -> Iterator[str]:
    """Names stand left of their ring, below the falling line, where there is room."""
    named: list[float] = []
    for met in reversed(d.flown.gates):
        point = met.point
        if point.distance_nm > frame.far_nm:
            continue
        x, y = frame.x(point.distance_nm), frame.y(point.altitude_ft)
        words = f"{title(d.deck, met.gate)}: {'passed' if met.answer == 'passed' else 'not passed'}"
        yield f'<circle class="ring" cx="{x:.1f}" cy="{y:.1f}" r="5"><title>{text(words)}</title></circle>'
        if met.answer != "passed":
            yield f'<path class="cross" d="M{x - 6:.1f} {y - 6:.1f}l12 12m0 -12l-12 12"/>'
        name = title(d.deck, met.gate)
        if frame.far_nm <= 2 * FINAL_NM and all(abs(y - other) >= 14 for other in named):
            named.append(y)
            yield f'<text class="small end" x="{x - 9:.1f}" y="{y + 5:.1f}">{text(name)}</text>'
