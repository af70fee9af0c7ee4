"""What every page is made of: one self-contained document, no network, no script, for screen and paper, light and dark.

The law: whatever comes from a file or a person goes through `text`, so that no words can become markup.
"""

from collections.abc import Iterable, Sequence
from html import escape

from flowdeck import DISCLAIMER
from flowdeck.view.words import safe

STYLE = """
:root{color-scheme:light dark;--ink:#1b1f24;--paper:#fff;--soft:#5a636e;--rule:#d4d8dd;--amber:#8a5300;--wash:#fff6e5;
--red:#b3121d;--faint:#f3f5f7}
@media (prefers-color-scheme:dark){:root{--ink:#e6e8ea;--paper:#14171a;--soft:#9aa4ae;--rule:#363c43;--amber:#ffc46b;
--wash:#2b2415;--red:#ff8d86;--faint:#1d2226}}
*{box-sizing:border-box}
body{margin:0 auto;max-width:60rem;padding:1.5rem 1rem 3rem;background:var(--paper);color:var(--ink);
font:1rem/1.45 "Liberation Sans",Arial,sans-serif}
h1{font-size:1.6rem;margin:0 0 .2rem}
h2{font-size:1.05rem;margin:1.6rem 0 .4rem;border-bottom:1px solid var(--rule);padding-bottom:.2rem}
h3{font-size:1rem;margin:1.1rem 0 .3rem}
p{margin:.3rem 0}.soft{color:var(--soft)}
.notice{border-left:4px solid var(--ink);padding:.2rem .8rem;margin:.8rem 0}
.wide{overflow-x:auto}
table{border-collapse:collapse;width:100%;font-variant-numeric:tabular-nums}
th,td{text-align:right;padding:.22rem .7rem .22rem 0;vertical-align:top;border-bottom:1px solid var(--rule)}
th{font-weight:400;color:var(--soft)}
td.word,th.word{text-align:left}
svg{width:100%;height:auto;display:block;color:var(--ink)}
svg text{fill:currentColor;font-size:12px;font-family:inherit}svg .small{font-size:11.5px}
svg .end{text-anchor:end}svg .middle{text-anchor:middle}svg .strong{font-weight:700}
svg .grid{stroke:var(--rule)}svg .axis{stroke:currentColor}
@media print{body{font-size:9.5pt;max-width:none;padding:0}h2,h3{break-after:avoid}svg{break-inside:avoid}
tr{break-inside:avoid}.wide{overflow:visible}.wide svg{min-width:0!important}}
"""


def text(words: object) -> str:
    """*words* as text of a page: nothing in it is markup, nothing in it is unseen."""
    return escape(safe(str(words)))


def document(title: str, about: Iterable[str], parts: Iterable[str], style: str = "") -> str:
    """A whole page. *about*: soft lines below the heading; *parts*: markup; *style*: beside that of every page."""
    lines = "".join(f'<p class="soft">{text(line)}</p>' for line in about)
    return (
        '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width,initial-scale=1">'
        f"<title>{text(title)}</title><style>{STYLE}{style}</style></head><body><main>"
        f'<h1>{text(title)}</h1>{lines}<p class="notice">{text(DISCLAIMER)}</p>{"".join(parts)}</main></body></html>\n'
    )


def section(title: str, body: str, ref: str = "") -> str:
    """*body*: markup; *ref*: an id to link to."""
    named = f' id="{text(ref)}"' if ref else ""
    return f"<section{named}><h2>{text(title)}</h2>{body}</section>"


def scrolled(body: str, label: str) -> str:
    """What is wider than a phone scrolls by itself, by keyboard too."""
    return f'<div class="wide" tabindex="0" role="region" aria-label="{text(label)}">{body}</div>'


def table(heads: Sequence[str], rows: Iterable[Sequence[str]], label: str) -> str:
    """*heads*: one that begins with `<` is of a column of words."""
    kinds = [' class="word"' if head.startswith("<") else "" for head in heads]
    head = "".join(
        f'<th scope="col"{kind}>{text(name.lstrip("<"))}</th>' if name.lstrip("<") else f"<td{kind}></td>"
        for kind, name in zip(kinds, heads, strict=True)
    )
    body = "".join(
        f"<tr>{''.join(f'<td{kind}>{text(cell)}</td>' for kind, cell in zip(kinds, row, strict=True))}</tr>"
        for row in rows
    )
    return scrolled(f"<table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>", label)
