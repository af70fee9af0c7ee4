"""A trial as a page."""

from collections.abc import Iterator

from flowdeck.trial.batch.findings import IN_ONE, MEANING
from flowdeck.trial.batch.total import Busy, Total
from flowdeck.trial.batch.words import busiest, by_kind, counted, coverage, gates, headline, slips, tightest
from flowdeck.view.columns import Table
from flowdeck.view.html import document, scrolled, section, table, text

_STYLE = "ul.found{margin:.2rem 0;padding-left:1.2rem}svg.busy{min-width:36rem}"
_HEIGHT, _STEP, _LEFT = 60, 14, 96


def trial_page(total: Total) -> str:
    """Self-contained, for screen and paper."""
    deck, _, flown = headline(total)
    return document("Trial", (deck, flown, counted(total)), _parts(total), _STYLE)


def _parts(total: Total) -> Iterator[str]:
    later: list[str] = []
    for kind, found in by_kind(total):
        if kind in IN_ONE:
            body = f"<p>{text(', '.join(each.ref for each in found))}</p>"
        else:
            items = "".join(f"<li>{text(each.words)}</li>" for each in found)
            body = f'<ul class="found">{items}</ul>'
        found_here = section(str(kind).capitalize(), f'<p class="soft">{text(MEANING[kind])}</p>{body}')
        if kind in IN_ONE:
            later.append(found_here)
        else:
            yield found_here
    yield section("Acts a minute", _busy(total) + _note(busiest(total)))
    for each in (slips(total), gates(total), tightest(total, None), coverage(total)):
        if each.rows:
            yield section(each.title, table(each.heads, each.rows, each.title) + _note(each))
    yield from later


def _note(each: Table) -> str:
    return f'<p class="soft">{text(each.note)}</p>' if each.note else ""


def _busy(total: Total) -> str:
    """Each seat's acts by the minute of the flight, as bars: the mean, and a thin line to the most."""
    minutes = [busy for busy in total.busy if busy.runs * 2 >= total.runs]
    if not minutes:
        return ""
    top = max(max(b.captain_most, b.first_officer_most) for b in minutes) or 1
    width = max(_LEFT + _STEP * len(minutes) + 10, 760)
    rows = "".join(_seat(minutes, top, row, seat) for row, seat in enumerate(("captain", "first_officer")))
    marks = "".join(
        f'<text class="small middle" x="{_LEFT + _STEP * i + _STEP / 2:g}" y="{2 * _HEIGHT + 34}">{b.minute}</text>'
        for i, b in enumerate(minutes)
        if b.minute % 5 == 0
    )
    label = f"acts a minute of each seat, {len(minutes)} minutes, at most {top}"
    svg = (
        f'<svg class="busy" role="img" aria-label="{text(label)}" viewBox="0 0 {width} {2 * _HEIGHT + 40}">'
        f"{rows}{marks}</svg>"
    )
    return scrolled(svg, "Acts a minute")


def _seat(minutes: list[Busy], top: int, row: int, seat: str) -> str:
    floor = (row + 1) * _HEIGHT + row * 16
    bars = []
    for i, busy in enumerate(minutes):
        mean, most = getattr(busy, seat), getattr(busy, f"{seat}_most")
        x = _LEFT + _STEP * i
        bars.append(_bar(x + 2, floor, _STEP - 4, mean / top * (_HEIGHT - 8)))
        bars.append(_bar(x + _STEP / 2 - 0.5, floor, 1, most / top * (_HEIGHT - 8)))
    name = seat.replace("_", " ").capitalize()
    line = f'<line class="axis" x1="{_LEFT}" x2="{_LEFT + _STEP * len(minutes)}" y1="{floor}" y2="{floor}"/>'
    return f'<text x="0" y="{floor - 4}">{name}</text>{"".join(bars)}{line}'


def _bar(x: float, floor: float, width: float, height: float) -> str:
    return f'<rect x="{x:g}" y="{floor - height:.1f}" width="{width:g}" height="{height:.1f}" fill="currentColor"/>'
