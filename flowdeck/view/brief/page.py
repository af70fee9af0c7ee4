"""A brief as one self-contained page."""

from flowdeck.arrival.brief import Brief
from flowdeck.arrival.sheet import Figure
from flowdeck.view.brief.profile import profile_svg
from flowdeck.view.brief.tables import tables_of
from flowdeck.view.brief.words import caution_title, glance, heading_of, rule_of, value_of
from flowdeck.view.html import document, scrolled, section, table, text
from flowdeck.view.vertical import FINAL_NM

_STYLE = """
.cautions{background:var(--wash);border-left:4px solid var(--amber);padding:.6rem 1rem;margin:1rem 0}
.cautions h2{border:0;margin:0;color:var(--amber)}.cautions ul{margin:.3rem 0;padding-left:1.1rem}
.glance{display:grid;grid-template-columns:repeat(auto-fill,minmax(9.5rem,1fr));gap:.9rem 1rem;margin:1.2rem 0}
.glance dt{color:var(--soft);font-size:.85rem}.glance dd{margin:0;font-size:1.3rem;font-weight:700}
.stop{font-weight:700;font-size:1.15rem}
.figures td:nth-child(2){font-weight:700;white-space:nowrap}
.figures td:nth-child(2).long{white-space:normal;text-align:left}
.figures td:nth-child(3){color:var(--soft);text-align:left;width:50%}
.wide svg{min-width:38rem}
svg .path{fill:none;stroke:currentColor;stroke-width:2.6;stroke-linejoin:round}
svg .fix{stroke:var(--soft);stroke-dasharray:2 4}svg .bar{stroke:currentColor;stroke-width:2}
svg .dot{fill:var(--paper);stroke:currentColor;stroke-width:2}svg .least{stroke:currentColor;stroke-dasharray:7 4}
"""


def brief_page(brief: Brief) -> str:
    """The whole page as HTML."""
    arrival = brief.arrival
    parts = [
        f"<p>{text(arrival.about)}</p>" if arrival.about else "",
        _remarks(brief),
        _glance(brief),
        *_profiles(brief),
        *(section(each.title, _figures(each.figures, each.title)) for each in brief.sections),
        *(section(name, table(heads, rows, name)) for name, heads, rows, _ in tables_of(brief)),
    ]
    return document(arrival.title, [heading_of(brief)], parts, _STYLE)


def _remarks(brief: Brief) -> str:
    if brief.lands and not brief.cautions and not brief.unknown:
        return ""
    rows = [f"<li>{caution_title(c.kind)}: {text(c.words)}</li>" for c in brief.cautions]
    rows += [f"<li>Could not be worked out: {text(words)}</li>" for words in brief.unknown]
    stop = "" if brief.lands else '<p class="stop">No landing as planned</p>'
    return f'<section class="cautions"><h2>Cautions</h2>{stop}<ul>{"".join(rows)}</ul></section>'


def _glance(brief: Brief) -> str:
    tiles = "".join(f"<div><dt>{text(title)}</dt><dd>{text(value)}</dd></div>" for title, value in glance(brief))
    return f'<dl class="glance">{tiles}</dl>'


def _profiles(brief: Brief) -> list[str]:
    if brief.profile is None:
        return []
    whole = profile_svg(brief)
    final = profile_svg(brief, FINAL_NM) if brief.profile.top.distance_nm > FINAL_NM else ""
    drawings = [("The way down", whole), *([(f"The last {FINAL_NM:.0f} NM", final)] if final else [])]
    return [section(title, scrolled(drawing, title)) for title, drawing in drawings]


def _figures(figures: tuple[Figure, ...], label: str) -> str:
    rows = []
    for figure in figures:
        value = value_of(figure)
        long = ' class="long"' if len(value) > 18 else ""
        rows.append(
            f'<tr><td class="word">{text(figure.title)}</td><td{long}>{text(value)}</td>'
            f"<td>{text(rule_of(figure))}</td></tr>"
        )
    heads = '<th scope="col" class="word">figure</th><th scope="col">value</th><th scope="col" class="word">how</th>'
    body = f'<table class="figures"><thead><tr>{heads}</tr></thead><tbody>{"".join(rows)}</tbody></table>'
    return scrolled(body, label)
