"""Both seats along the time of the flight, as SVG: acts, lists and holds, interruptions, gates, slips.

Drawn for any background. Shapes, not colours, tell things apart: a short stroke is an act, a bar a list being read,
an open bar a list on hold; a triangle is a warning, a diamond a caution, a dot advice.
"""

from collections.abc import Iterator

from flowdeck.debrief.study import Debrief
from flowdeck.debrief.timeline import Kind
from flowdeck.engine.words import title
from flowdeck.model.deviation import Severity
from flowdeck.model.seats import Seat
from flowdeck.view.html import text
from flowdeck.view.words import clock

_WIDTH, _LEFT, _RIGHT = 900.0, 84.0, 10.0
_LANE = {Seat.CAPTAIN: 92.0, Seat.FIRST_OFFICER: 158.0}
_MIDDLE, _BASE, _HEIGHT = 125.0, 196.0, 226.0

STYLE = (
    ".act{stroke:currentColor;stroke-width:1.1}.call{stroke:currentColor;stroke-width:1.1}"
    ".read{fill:currentColor;opacity:.22}.held{fill:none;stroke:currentColor;stroke-dasharray:3 2}"
    ".break{fill:var(--rule)}.gate{stroke:currentColor;stroke-dasharray:5 3}.lane{stroke:var(--rule)}"
    ".warning{fill:var(--red)}.caution{fill:var(--amber)}.advice{fill:var(--soft)}.band{fill:var(--faint)}"
)


class _Frame:
    def __init__(self, length_ms: int) -> None:
        self._length = max(1, length_ms)

    def x(self, at: int) -> float:
        return _LEFT + (_WIDTH - _LEFT - _RIGHT) * at / self._length


def standalone_svg(d: Debrief) -> str:
    """The drawing as a file of its own, on paper white."""
    colours = {"rule": "#d4d8dd", "red": "#b3121d", "amber": "#8a5300", "soft": "#5a636e", "faint": "#f3f5f7"}
    style = "text{fill:#1b1f24;font:12px Arial,sans-serif}.small{font-size:11.5px}.end{text-anchor:end}"
    style += ".middle{text-anchor:middle}.axis{stroke:#1b1f24}svg{color:#1b1f24}" + STYLE
    for name, colour in colours.items():
        style = style.replace(f"var(--{name})", colour)
    paper = f'<style>{style}</style><rect width="{_WIDTH:.0f}" height="{_HEIGHT:.0f}" fill="#fff"/>'
    return lanes_svg(d).replace("</title>", f"</title>{paper}", 1)


def lanes_svg(d: Debrief) -> str:
    """The whole flight; each slip is a link to where it is told."""
    frame = _Frame(d.length_ms)
    parts = [*_bands(d, frame), *_breaks(d, frame), *_gates(d, frame), *_lists(d, frame), *_acts(d, frame)]
    parts += [*_axis(d, frame), *_slips(d, frame)]
    words = f"Both seats in time: {len(d.slips)} deviations in {clock(d.length_ms)}"
    return f'<svg viewBox="0 0 {_WIDTH:.0f} {_HEIGHT:.0f}" xmlns="http://www.w3.org/2000/svg"><title>{text(words)}</title>{"".join(parts)}</svg>'


def _bands(d: Debrief, frame: _Frame) -> Iterator[str]:
    """Phases along the top, every other one shaded."""
    for span in d.spans[::2]:
        left, right = frame.x(span.at), frame.x(span.until)
        yield f'<rect class="band" x="{left:.1f}" y="8" width="{right - left:.1f}" height="{_BASE - 8:.0f}"/>'
    free = 0.0
    for span in d.spans:
        left = frame.x(span.at)
        name = span.how.replace("_", " ") if span.how else title(d.deck, span.phase)
        row = 0 if left >= free else 1
        free = left + 8 + 6.2 * len(name) if row == 0 else free
        yield f'<text class="small" x="{left + 3:.1f}" y="{22 + 14 * row:.0f}">{text(name)}</text>'
    for seat, y in _LANE.items():
        yield f'<text class="small end" x="{_LEFT - 8:.0f}" y="{y + 4:.0f}">{text(seat.label)}</text>'
        yield f'<line class="lane" x1="{_LEFT:.0f}" x2="{_WIDTH - _RIGHT:.0f}" y1="{y:.0f}" y2="{y:.0f}"/>'


def _breaks(d: Debrief, frame: _Frame) -> Iterator[str]:
    for each in d.crew.breaks:
        left, right = frame.x(each.at), frame.x(min(each.until, d.length_ms))
        top, bottom = _LANE[Seat.CAPTAIN] - 26, _LANE[Seat.FIRST_OFFICER] + 26
        yield (
            f'<rect class="break" x="{left:.1f}" y="{top:.0f}" width="{max(1.5, right - left):.1f}" '
            f'height="{bottom - top:.0f}"><title>{text(f"{clock(each.at)} interruption: {each.words}")}</title></rect>'
        )


def _gates(d: Debrief, frame: _Frame) -> Iterator[str]:
    for gate in d.crew.gates:
        x = frame.x(gate.at)
        words = f"{clock(gate.at)} {title(d.deck, gate.gate)}: {'passed' if gate.answer == 'passed' else 'not passed'}"
        line = f'<line class="gate" x1="{x:.1f}" x2="{x:.1f}" y1="44" y2="{_BASE:.0f}">'
        yield f"{line}<title>{text(words)}</title></line>"


def _lists(d: Debrief, frame: _Frame) -> Iterator[str]:
    """A list being read stands between the seats, open where it was held."""
    for r in d.readings:
        if r.called_at is None:
            continue
        end = r.completed_at or max((reply.at for reply in r.replies), default=r.called_at)
        left, right = frame.x(r.called_at), frame.x(end)
        words = f"{clock(r.called_at)} {title(d.deck, r.checklist)}"
        yield (
            f'<rect class="read" x="{left:.1f}" y="{_MIDDLE - 7:.0f}" width="{max(2.0, right - left):.1f}" height="14">'
            f"<title>{text(words)}</title></rect>"
        )
        for hold in r.holds:
            left, right = frame.x(hold.at), frame.x(hold.until if hold.until is not None else end)
            yield (
                f'<rect class="held" x="{left:.1f}" y="{_MIDDLE - 10:.0f}" width="{max(2.0, right - left):.1f}" '
                f'height="20"><title>{text(f"{clock(hold.at)} held: {hold.why or hold.point}")}</title></rect>'
            )


def _acts(d: Debrief, frame: _Frame) -> Iterator[str]:
    """One path a lane and height, so that hundreds of acts are two elements."""
    for seat, y in _LANE.items():
        for kind, kinds, half in (("act", (Kind.ITEM, Kind.LINE), 6), ("call", (Kind.CALL, Kind.ANSWER), 11)):
            moves = "".join(
                f"M{frame.x(e.at):.1f} {y - half:.0f}v{2 * half}"
                for e in d.timeline
                if e.seat is seat and e.kind in kinds
            )
            if moves:
                yield f'<path class="{kind}" d="{moves}"/>'


def _axis(d: Debrief, frame: _Frame) -> Iterator[str]:
    minutes = d.length_ms / 60_000
    step = next((s for s in (1, 2, 5, 10, 15, 30, 60, 120) if minutes / s <= 12), 240)
    yield f'<line class="axis" x1="{_LEFT:.0f}" x2="{_WIDTH - _RIGHT:.0f}" y1="{_BASE:.0f}" y2="{_BASE:.0f}"/>'
    for i in range(int(minutes // step) + 1):
        x = frame.x(i * step * 60_000)
        yield f'<line class="axis" x1="{x:.1f}" x2="{x:.1f}" y1="{_BASE:.0f}" y2="{_BASE + 5:.0f}"/>'
        yield f'<text class="small middle" x="{x:.1f}" y="{_BASE + 18:.0f}">{i * step}</text>'
    yield f'<text class="small end" x="{_LEFT - 8:.0f}" y="{_BASE + 18:.0f}">minutes</text>'


_SHAPES = {
    Severity.WARNING: "M{x:.1f} {top:.1f}l6 11h-12z",
    Severity.CAUTION: "M{x:.1f} {top:.1f}l5.5 5.5l-5.5 5.5l-5.5 -5.5z",
    Severity.ADVICE: "M{x:.1f} {top:.1f}m-3.5 5.5a3.5 3.5 0 1 0 7 0a3.5 3.5 0 1 0 -7 0",
}


def _slips(d: Debrief, frame: _Frame) -> Iterator[str]:
    """Above the captain's lane, below the first officer's, between them when nobody is known; one beside another."""
    taken: dict[float, float] = {}
    for s in d.slips:
        dev = s.deviation
        away = {Seat.CAPTAIN: -32.0, Seat.FIRST_OFFICER: 15.0}
        row = _MIDDLE - 5.5 if dev.seat is None else _LANE[dev.seat] + away[dev.seat]
        x = max(frame.x(dev.at), taken.get(row, 0.0) + 9)
        taken[row] = x
        shape = _SHAPES[dev.severity].format(x=x, top=row)
        words = f"{clock(dev.at)} {dev.slip.replace('_', ' ')}: {title(d.deck, dev.item)}"
        yield (
            f'<a href="#slip-{dev.number}" aria-label="{text(words)}"><path class="{dev.severity}" d="{shape}">'
            f"<title>{text(words)}</title></path></a>"
        )
