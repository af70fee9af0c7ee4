"""A brief as one self-contained page: no network, no script, for screen and paper, light and dark."""

from html import escape

from flowdeck import DISCLAIMER
from flowdeck.arrival.brief import Brief
from flowdeck.arrival.sheet import Figure
from flowdeck.view.brief.profile import FINAL_NM, profile_svg
from flowdeck.view.brief.words import caution_title, glance, heading_of, rule_of, tables_of, value_of
from flowdeck.view.words import safe

_STYLE = """
:root{color-scheme:light dark;--ink:#1b1f24;--paper:#fff;--soft:#5a636e;--rule:#d4d8dd;--amber:#8a5300;--wash:#fff6e5}
@media (prefers-color-scheme:dark){:root{--ink:#e6e8ea;--paper:#14171a;--soft:#9aa4ae;--rule:#363c43;--amber:#ffc46b;
--wash:#2b2415}}
*{box-sizing:border-box}
body{margin:0 auto;max-width:60rem;padding:1.5rem 1rem 3rem;background:var(--paper);color:var(--ink);
font:1rem/1.45 "Liberation Sans",Arial,sans-serif}
h1{font-size:1.6rem;margin:0 0 .2rem}
h2{font-size:1.05rem;margin:1.6rem 0 .4rem;border-bottom:1px solid var(--rule);padding-bottom:.2rem}
p{margin:.3rem 0}.soft{color:var(--soft)}
.notice{border-left:4px solid var(--ink);padding:.2rem .8rem;margin:.8rem 0}
.cautions{background:var(--wash);border-left:4px solid var(--amber);padding:.6rem 1rem;margin:1rem 0}
.cautions h2{border:0;margin:0;color:var(--amber)}.cautions ul{margin:.3rem 0;padding-left:1.1rem}
.glance{display:grid;grid-template-columns:repeat(auto-fill,minmax(9.5rem,1fr));gap:.9rem 1rem;margin:1.2rem 0}
.glance dt{color:var(--soft);font-size:.85rem}.glance dd{margin:0;font-size:1.3rem;font-weight:700}
.stop{font-weight:700;font-size:1.15rem}
.wide{overflow-x:auto}
table{border-collapse:collapse;width:100%;font-variant-numeric:tabular-nums}
th,td{text-align:right;padding:.22rem .7rem .22rem 0;vertical-align:top;border-bottom:1px solid var(--rule)}
th{font-weight:400;color:var(--soft)}
td.word,th.word{text-align:left}
.figures td:nth-child(2){font-weight:700;white-space:nowrap}
.figures td:nth-child(2).long{white-space:normal;text-align:left}
.figures td:nth-child(3){color:var(--soft);text-align:left;width:50%}
.wide svg{min-width:38rem}
svg{width:100%;height:auto;display:block;color:var(--ink)}
svg text{fill:currentColor;font-size:12px;font-family:inherit}svg .small{font-size:11.5px}
svg .end{text-anchor:end}svg .middle{text-anchor:middle}svg .strong{font-weight:700}
svg .path{fill:none;stroke:currentColor;stroke-width:2.6;stroke-linejoin:round}
svg .grid{stroke:var(--rule)}svg .axis{stroke:currentColor}svg .fix{stroke:var(--soft);stroke-dasharray:2 4}
svg .bar{stroke:currentColor;stroke-width:2}svg .dot{fill:var(--paper);stroke:currentColor;stroke-width:2}
svg .least{stroke:currentColor;stroke-dasharray:7 4}
@media print{body{font-size:9.5pt;max-width:none;padding:0}h2{break-after:avoid}table,svg{break-inside:avoid}}
"""


def brief_page(brief: Brief) -> str:
    """The whole page as HTML."""
    arrival = brief.arrival
    title = escape(safe(arrival.title))
    parts = [
        '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">',
        '<meta name="viewport" content="width=device-width,initial-scale=1">',
        f"<title>{title}: brief</title><style>{_STYLE}</style></head><body>",
        f"<main><h1>{title}</h1>",
        f'<p class="soft">{escape(heading_of(brief))}</p>',
        f'<p class="notice">{escape(DISCLAIMER)}</p>',
        f"<p>{escape(safe(arrival.about))}</p>" if arrival.about else "",
        _remarks(brief),
        _glance(brief),
        *_profiles(brief),
        *(_section(section.title, _figures(section.figures)) for section in brief.sections),
        *(_section(name, _table(heads, rows)) for name, heads, rows in tables_of(brief)),
        "</main></body></html>\n",
    ]
    return "".join(parts)


def _remarks(brief: Brief) -> str:
    if brief.lands and not brief.cautions and not brief.unknown:
        return ""
    rows = [f"<li>{caution_title(c.kind)}: {escape(safe(c.words))}</li>" for c in brief.cautions]
    rows += [f"<li>Could not be worked out: {escape(safe(words))}</li>" for words in brief.unknown]
    stop = "" if brief.lands else '<p class="stop">No landing as planned</p>'
    return f'<section class="cautions"><h2>Cautions</h2>{stop}<ul>{"".join(rows)}</ul></section>'


def _glance(brief: Brief) -> str:
    tiles = "".join(
        f"<div><dt>{escape(safe(title))}</dt><dd>{escape(value)}</dd></div>" for title, value in glance(brief)
    )
    return f'<dl class="glance">{tiles}</dl>'


def _profiles(brief: Brief) -> list[str]:
    if brief.profile is None:
        return []
    whole = profile_svg(brief)
    final = profile_svg(brief, FINAL_NM) if brief.profile.top.distance_nm > FINAL_NM else ""
    drawings = [("The way down", whole), *([(f"The last {FINAL_NM:.0f} NM", final)] if final else [])]
    return [_section(title, f'<div class="wide">{drawing}</div>') for title, drawing in drawings]


def _section(title: str, body: str) -> str:
    return f"<section><h2>{escape(safe(title))}</h2>{body}</section>"


def _figures(figures: tuple[Figure, ...]) -> str:
    rows = []
    for figure in figures:
        value = value_of(figure)
        long = ' class="long"' if len(value) > 18 else ""
        rows.append(
            f'<tr><td class="word">{escape(safe(figure.title))}</td><td{long}>{escape(value)}</td>'
            f"<td>{escape(rule_of(figure))}</td></tr>"
        )
    head = '<tr><th class="word">figure</th><th>value</th><th class="word">how</th></tr>'
    return f'<div class="wide"><table class="figures"><thead>{head}</thead><tbody>{"".join(rows)}</tbody></table></div>'


def _table(heads: tuple[str, ...], rows: list[tuple[str, ...]]) -> str:
    kinds = [' class="word"' if head.startswith("<") else "" for head in heads]
    head = "".join(f"<th{kind}>{escape(name.lstrip('<'))}</th>" for kind, name in zip(kinds, heads, strict=True))
    body = "".join(
        f"<tr>{''.join(f'<td{kind}>{escape(cell)}</td>' for kind, cell in zip(kinds, row, strict=True))}</tr>"
        for row in rows
    )
    return f'<div class="wide"><table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table></div>'
