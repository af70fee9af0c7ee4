"""A debrief as one self-contained page: the flight at a glance, in pictures, slip by slip, and in full."""

from collections.abc import Iterator

from flowdeck.debrief.study import Debrief, Span
from flowdeck.debrief.timeline import Entry, Kind
from flowdeck.engine.words import title
from flowdeck.model.seats import Seat
from flowdeck.view.columns import Table
from flowdeck.view.debrief.lanes import STYLE as LANES_STYLE
from flowdeck.view.debrief.lanes import lanes_svg
from flowdeck.view.debrief.way import STYLE as WAY_STYLE
from flowdeck.view.debrief.way import way_svg
from flowdeck.view.debrief.words import busiest, glance, heading, slip_words, tables, yardsticks
from flowdeck.view.html import document, scrolled, section, table, text
from flowdeck.view.vertical import FINAL_NM
from flowdeck.view.words import clock

_STYLE = (
    "\n.lanes svg{min-width:44rem}.way svg{min-width:38rem}"
    "dl.glance{display:grid;grid-template-columns:max-content 1fr;gap:.25rem 1rem;margin:1.1rem 0}"
    ".glance dt{color:var(--soft)}.glance dd{margin:0}.glance div{display:contents}"
    "@media(max-width:34rem){dl.glance{grid-template-columns:1fr;gap:0}.glance dd{margin-bottom:.5rem}}"
    ".slip{border-left:4px solid var(--rule);padding:.1rem 0 .1rem .8rem;margin:.7rem 0;break-inside:avoid}"
    ".slip.warning{border-color:var(--red)}.slip.caution{border-color:var(--amber)}"
    ".slip p{margin:.1rem 0}.slip b{font-weight:700}.slip .said{font-weight:700}"
    ".slip.warning .kind{color:var(--red);font-weight:700}.slip.caution .kind{color:var(--amber)}"
    "table.line td{width:43%;text-align:left}"
    "table.line td.at{width:14%;text-align:center;color:var(--soft);padding-right:0}"
    "table.line td.at a{color:inherit}table.line td.left{text-align:right;padding-right:.8rem}"
    "table.line td.between{text-align:center}table.line td{padding:.12rem .6rem;border:0}"
    "table.line tr.event td{background:var(--faint)}table.line .seen{color:var(--soft)}"
    "a{color:inherit}table.line td a{font-weight:700}"
    "table.line th{text-align:right}table.line th.right{text-align:left}"
    "details summary{cursor:pointer;font-weight:700;margin:.6rem 0}"
    f"{LANES_STYLE}{WAY_STYLE}"
)


def debrief_page(d: Debrief, begun: str) -> str:
    """The whole page as HTML. *begun*: local date and time, or empty."""
    return document(
        f"Debrief: {d.scenario.title}",
        heading(d, begun),
        [
            _glance(d),
            *_pictures(d),
            _slips(d),
            *(_table(each) for each in tables(d)),
            _work(d),
            _sticks(d),
            _timeline(d),
        ],
        _STYLE,
    )


def _glance(d: Debrief) -> str:
    rows = "".join(f"<div><dt>{text(name)}</dt><dd>{text(value)}</dd></div>" for name, value in glance(d))
    return f'<dl class="glance">{rows}</dl>'


def _pictures(d: Debrief) -> Iterator[str]:
    legend = (
        "A stroke is an act, a long one a call; the bar between the seats is a checklist, broken while it was held; a "
        "triangle is a warning, a diamond a caution, a dot advice; a broken line is a gate."
    )
    lanes = scrolled(f'<div class="lanes">{lanes_svg(d)}</div>', "Both seats in time")
    yield section("Both seats in time", f'{lanes}<p class="soft">{legend}</p>')
    whole, final = way_svg(d), way_svg(d, FINAL_NM)
    if whole:
        drawn = scrolled(f'<div class="way">{whole}</div>', "Vertical path, all of it")
        drawn += scrolled(f'<div class="way">{final}</div>', f"Vertical path, the last {FINAL_NM:.0f} NM")
        plan = "broken: as planned" if d.flown.planned else "this flight had no brief"
        note = f"Full: as flown, by the altimeter; {plan}. A ring is a gate, crossed where it was not passed."
        yield section("The way down", f'{drawn}<p class="soft">{note}</p>')


def _slips(d: Debrief) -> str:
    parts = []
    for i, span in enumerate(d.spans):
        mine = [slip_words(d, s) for s in d.slips if s.span == i]
        parts.append(
            f'<h3>{text(_name(d, span))} <span class="soft">{clock(span.at)} to {clock(span.until)}</span></h3>'
        )
        if not mine:
            parts.append('<p class="soft">nothing slipped</p>')
        for w in mine:
            why = f'<p><span class="soft">why:</span> {text(w.reason)}</p>' if w.reason else ""
            parts.append(
                f'<div class="slip {w.severity}" id="slip-{w.number}">'
                f'<p><span class="soft">{w.at}</span> <span class="kind">{text(w.severity)}: {text(w.kind)}</span></p>'
                f'<p class="said">{text(w.sentence)}</p>'
                f'<p><span class="soft">expected:</span> {text(w.expected)}; '
                f'<span class="soft">found:</span> {text(w.actual)}</p>'
                f'{why}<p class="soft">{text(w.trapped)}</p></div>'
            )
    return section("What slipped", "".join(parts))


def _name(d: Debrief, span: Span) -> str:
    return span.how.replace("_", " ").capitalize() if span.how else title(d.deck, span.phase)


def _table(each: Table) -> str:
    note = f'<p class="soft">{text(each.note)}</p>' if each.note else ""
    return section(each.title, table(each.heads, each.rows, each.title) + note)


def _sticks(d: Debrief) -> str:
    return _table(yardsticks()) if d.slips else ""


def _work(d: Debrief) -> str:
    """Acts by the minute, the captain's to the left."""
    most = max((max(m.captain, m.first_officer) for m in d.minutes), default=0)
    if not most:
        return ""
    height, width, middle = 11, 900, 450
    reach = 340 / most
    rows = []
    for i, m in enumerate(d.minutes):
        y = 18 + i * height
        rows.append(
            f'<rect class="read" x="{middle - 28 - m.captain * reach:.1f}" y="{y}" width="{m.captain * reach:.1f}" '
            f'height="{height - 2}"/><rect class="read" x="{middle + 28}" y="{y}" '
            f'width="{m.first_officer * reach:.1f}" height="{height - 2}"/>'
        )
        if m.minute % 5 == 0:
            rows.append(f'<text class="small middle" x="{middle}" y="{y + 9}">{clock(m.minute * 60_000)[:5]}</text>')
    total = 24 + len(d.minutes) * height
    words = "Acts in each minute, the captain's to the left, the first officer's to the right"
    heads = (
        f'<text class="small end" x="{middle - 28}" y="11">Captain</text>'
        f'<text class="small" x="{middle + 28}" y="11">First officer</text>'
    )
    svg = (
        f'<svg viewBox="0 0 {width} {total}" role="img" aria-label="{words}" xmlns="http://www.w3.org/2000/svg">'
        f"<title>{words}</title>{heads}{''.join(rows)}</svg>"
    )
    return section("Work by the minute", f'{svg}<p class="soft">{text(busiest(d))}</p>')


_OUTSIDE = (Kind.PHASE, Kind.MARK, Kind.HEARD, Kind.INTERRUPTION, Kind.LASTS, Kind.PLAN, Kind.GATE, Kind.END)


def _timeline(d: Debrief) -> str:
    """Both seats line by line, one part a phase."""
    parts = []
    rows: list[str] = []
    name = ""
    for entry in d.timeline:
        if entry.kind is Kind.PHASE and rows:
            parts.append(_part(name, rows))
            rows = []
        if entry.kind is Kind.PHASE:
            name = f"{title(d.deck, entry.ref)} from {clock(entry.at)}"
        else:
            rows.append(_row(entry))
    parts.append(_part(name, rows))
    return section("Line by line", "".join(parts))


def _part(name: str, rows: list[str]) -> str:
    seats = '<th scope="col">Captain</th><td class="at"></td><th scope="col" class="right">First officer</th>'
    head = f"<thead><tr>{seats}</tr></thead>"
    body = scrolled(f'<table class="line">{head}<tbody>{"".join(rows)}</tbody></table>', name)
    return f"<details open><summary>{text(name)}</summary>{body}</details>"


def _row(entry: Entry) -> str:
    words = text(entry.words)
    if entry.kind is Kind.SEEN:
        words = f'<span class="seen">seen: {words}</span>'
    if entry.kind in (Kind.SLIP, Kind.TRAP):
        words = f'<a href="#slip-{entry.deviation}">{words}</a>'
    at = f'<td class="at">{clock(entry.at)}</td>'
    if entry.kind in _OUTSIDE or (entry.seat is None and entry.kind is not Kind.SEEN):
        return f'<tr class="event"><td class="between" colspan="3">{clock(entry.at)} {words}</td></tr>'
    if entry.seat is Seat.CAPTAIN:
        return f'<tr><td class="left">{words}</td>{at}<td></td></tr>'
    if entry.seat is Seat.FIRST_OFFICER:
        return f"<tr><td></td>{at}<td>{words}</td></tr>"
    return f'<tr><td class="left"></td>{at}<td>{words}</td></tr>'
