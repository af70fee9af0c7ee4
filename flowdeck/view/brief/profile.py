"""The vertical profile of a brief as SVG: the planned path, what the fixes ask, what is done where.

Drawn for any background: lines and text take the colour of the page. A bar under a fix is what it may not go below,
one above it what it may not exceed; a fix with both is crossed between them.
"""

from collections.abc import Iterator
from html import escape
from math import ceil

from flowdeck.arrival.brief import Brief
from flowdeck.arrival.profile import Point
from flowdeck.view.vertical import FINAL_NM, WIDTH, Frame, axes
from flowdeck.view.words import safe

_HEIGHT, _TOP = 340.0, 40.0
_BAR = 26.0


STANDALONE = (
    "text{fill:#1b1f24;font:12px Arial,sans-serif}.small{font-size:11.5px}.end{text-anchor:end}"
    ".middle{text-anchor:middle}.strong{font-weight:700}.path{fill:none;stroke:#1b1f24;stroke-width:2.6}"
    ".grid{stroke:#d4d8dd}.axis,.bar,.least{stroke:#1b1f24}.bar{stroke-width:2}"
    ".fix{stroke:#5a636e;stroke-dasharray:2 4}"
    ".dot{fill:#fff;stroke:#1b1f24;stroke-width:2}.least{stroke-dasharray:7 4}"
)
"""Style of a drawing that stands on its own, on paper white."""


def standalone_svg(brief: Brief, far_nm: float | None = None) -> str:
    """The profile as a file of its own."""
    drawn = profile_svg(brief, far_nm)
    paper = f'<style>{STANDALONE}</style><rect width="{WIDTH:.0f}" height="{_HEIGHT:.0f}" fill="#fff"/>'
    return drawn.replace("</title>", f"</title>{paper}", 1)


def profile_svg(brief: Brief, far_nm: float | None = None) -> str:
    """The profile from *far_nm* (default: the top of descent) to the threshold; empty when there is no path."""
    if brief.profile is None:
        return ""
    far = far_nm if far_nm is not None else ceil(brief.profile.top.distance_nm / 5) * 5
    points = [p for p in brief.profile.points if p.distance_nm < far] + [brief.profile.at(far)]
    if far > brief.profile.far.distance_nm:
        points[-1] = points[-1]._replace(distance_nm=far)
    low = brief.arrival.runway.elevation_ft
    high = max(p.altitude_ft for p in points) * 1.12
    frame = Frame(far, low - (high - low) * 0.03, high, height=_HEIGHT, top=_TOP)
    parts = [
        *axes(frame),
        *_fixes(brief, frame),
        *_path(points, frame),
        *_events(brief, frame),
        *_minimum(brief, frame),
    ]
    title = f"Vertical profile of the last {far:.0f} NM: {safe(brief.arrival.title)}"
    return (
        f'<svg viewBox="0 0 {WIDTH:.0f} {_HEIGHT:.0f}" role="img" aria-label="{escape(title)}" '
        f'xmlns="http://www.w3.org/2000/svg"><title>{escape(title)}</title>{"".join(parts)}</svg>'
    )


def _path(points: list[Point], frame: Frame) -> Iterator[str]:
    line = " ".join(f"{frame.x(p.distance_nm):.1f},{frame.y(p.altitude_ft):.1f}" for p in points)
    yield f'<polyline class="path" points="{line}"/>'


def _fixes(brief: Brief, frame: Frame) -> Iterator[str]:
    base = frame.y(frame.low_ft)
    end, row = -1e9, 0
    for fix in brief.arrival.approach.fixes:
        if fix.distance_nm > frame.far_nm:
            continue
        x, half = frame.x(fix.distance_nm), len(fix.name) * 4.2
        row = 1 - row if x - half < end + 6 else 0  # names that would touch stand on two rows
        end = x + half
        y = _TOP - 6 - 14 * row
        yield f'<line class="fix" x1="{x:.1f}" x2="{x:.1f}" y1="{y + 4:.1f}" y2="{base:.1f}"/>'
        yield f'<text class="small middle strong" x="{x:.1f}" y="{y:.1f}">{escape(safe(fix.name))}</text>'
        for level, below in ((fix.at_least_ft, True), (fix.at_most_ft, False)):
            if level is None or not frame.low_ft < level < frame.high_ft:
                continue
            y = frame.y(level)
            tip = 5 if below else -5
            yield f'<line class="bar" x1="{x - _BAR / 2:.1f}" x2="{x + _BAR / 2:.1f}" y1="{y:.1f}" y2="{y:.1f}"/>'
            for side in (-_BAR / 2, _BAR / 2):
                yield f'<line class="bar" x1="{x + side:.1f}" x2="{x + side:.1f}" y1="{y:.1f}" y2="{y + tip:.1f}"/>'


def _events(brief: Brief, frame: Frame) -> Iterator[str]:
    assert brief.profile is not None
    taken: list[float] = []
    whole = frame.far_nm > FINAL_NM
    for event in brief.profile.events:
        if event.point.distance_nm > frame.far_nm:
            continue
        x, y = frame.x(event.point.distance_nm), frame.y(event.point.altitude_ft)
        yield f'<circle class="dot" cx="{x:.1f}" cy="{y:.1f}" r="3.5"/>'
        crowded = whole and event.point.distance_nm < FINAL_NM  # the second drawing names these
        if crowded or event.kind in ("level_off", "go_down") or any(abs(x - other) < 52 for other in taken):
            continue
        taken.append(x)
        words = escape(safe(_short(event.words)))
        kind, aside = ("small end", -8) if x > WIDTH - 150 else ("small", 8)
        yield f'<text class="{kind}" x="{x + aside:.1f}" y="{y - 8:.1f}">{words}</text>'


def _short(words: str) -> str:
    return words.replace("slow down from ", "").replace(" kt", "").replace(" to ", "→") if "slow" in words else words


def _minimum(brief: Brief, frame: Frame) -> Iterator[str]:
    height = brief.planned.get("planned_minimum_ft")
    if height is None or frame.far_nm > 2 * FINAL_NM or not frame.low_ft < height < frame.high_ft:
        return
    figures = {figure.key: figure.value for section in brief.sections for figure in section.figures}
    cold = figures.get("cold_ft")
    drawn = height - cold if isinstance(cold, (int, float)) else height  # the path is drawn without its correction
    left, right, y = frame.x(frame.far_nm * 0.3), frame.x(0), frame.y(drawn)
    yield f'<line class="least" x1="{left:.1f}" x2="{right:.1f}" y1="{y:.1f}" y2="{y:.1f}"/>'
    yield f'<text class="small end" x="{right:.1f}" y="{y + 14:.1f}">minimum {height:.0f}</text>'
