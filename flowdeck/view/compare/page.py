"""A comparison as one self-contained page to sign: the old deck on the left, the new one on the right."""

from flowdeck.compare.comparison import Comparison
from flowdeck.compare.weight import Weight
from flowdeck.model.deck import Deck
from flowdeck.view.compare.tables import WINDOWS_NOTE, tables, windows
from flowdeck.view.compare.words import WEIGHTS, Entry, Stage, entries, standing
from flowdeck.view.compare.wordwise import marked
from flowdeck.view.html import document, scrolled, section, table, text

_STYLE = (
    "\n.change{border-left:1px solid var(--ink);padding:.15rem 0 .35rem .8rem;margin:.8rem 0 .8rem 7px;"
    "break-inside:avoid}"
    ".change.heavy{border-left-width:8px;margin-left:0}.change.middle{border-left-width:4px;margin-left:4px}"
    ".head{display:flex;gap:.6rem;align-items:flex-start;margin-bottom:.25rem}"
    ".head .no{min-width:1.7rem;font-weight:700;font-variant-numeric:tabular-nums}.head .of{flex:1}"
    ".what{font-weight:700}"
    ".box{display:inline-block;min-width:4.6rem;height:1.7rem;border:1px solid var(--soft);color:var(--soft);"
    "font-size:.72rem;padding:.1rem .3rem;flex:none}"
    ".pair{display:grid;grid-template-columns:1fr 1fr;gap:.2rem 1.2rem}"
    ".side{padding:.3rem .6rem;background:var(--faint);overflow-wrap:anywhere}"
    ".side p{margin:.1rem 0}.side .label{color:var(--soft);font-size:.8rem}.side.none{background:none}"
    "del{text-decoration:line-through}"
    "ins{text-decoration:underline;font-weight:700}"
    "table.ident td{text-align:left;overflow-wrap:anywhere}table.ident th{text-align:left}"
    "table.ident{table-layout:fixed;margin-bottom:1rem}table.ident tr>:first-child{width:7rem}"
    ".signing{display:grid;grid-template-columns:2fr 1fr 2fr;gap:1.2rem;margin:1.6rem 0 .4rem}"
    ".signing p{border-top:1px solid var(--ink);color:var(--soft);margin:2.2rem 0 0;padding-top:.2rem;font-size:.85rem}"
    ".of-what{overflow-wrap:anywhere}table.windows td,table.windows th{text-align:left}table.windows{min-width:40rem}"
    "@media(max-width:34rem){.pair,.signing{grid-template-columns:1fr}.signing{gap:0}"
    "table.ident tr>:first-child{width:5.2rem}}"
)


def compare_page(c: Comparison) -> str:
    """The whole page as HTML."""
    title = "Two decks compared" if c.new.identity.title != c.old.identity.title else c.new.identity.title
    counts, *rest = tables(c) if c.changes else [None]
    found = [section(stage.title, _stage(stage)) for stage in entries(c)]
    return document(
        f"Changes to sign: {title}" if c.changes else f"No change: {title}",
        [],
        [
            _identities(c),
            *(f"<p>{text(words)}</p>" for words in standing(c)),
            *([section(counts.title, table(counts.heads, counts.rows, counts.title) + _legend())] if counts else []),
            *found,
            *([_windows(c)] if c.windows else []),
            *(
                section(each.title, table(each.heads, each.rows, each.title) + _note(each.note))
                for each in rest
                if each is not None
            ),
            _signing(c),
        ],
        _STYLE,
    )


def _identities(c: Comparison) -> str:
    rows = []
    for name, old, new in zip(_NAMES, _identity(c.old), _identity(c.new), strict=True):
        left, right = (text(old), text(new)) if old == new or name == "Hash" else marked(old, new)
        rows.append(f'<tr><th scope="row">{name}</th><td>{left}</td><td>{right}</td></tr>')
    head = '<thead><tr><td></td><th scope="col">Old deck</th><th scope="col">New deck</th></tr></thead>'
    return f'<table class="ident">{head}<tbody>{"".join(rows)}</tbody></table>'


_NAMES = ("Deck", "Version", "Date", "Status", "Effectivity", "Type", "Operator", "Hash")


def _identity(deck: Deck) -> tuple[str, ...]:
    who = deck.identity
    effectivity = who.effectivity or "not said"
    return who.title, who.version, who.date, who.status, effectivity, who.type, who.operator, deck.hash


def _legend() -> str:
    words = ", ".join(f"{stroke} stroke: {WEIGHTS[weight]}" for weight, stroke in _STROKES.items())
    return _note(f"Beside each change: {words}. What is crossed out stood there; what is underlined stands there now.")


_STROKES = {Weight.HEAVY: "broad", Weight.MIDDLE: "middling", Weight.LIGHT: "thin"}


def _note(words: str) -> str:
    return f'<p class="soft">{text(words)}</p>' if words else ""


def _stage(stage: Stage) -> str:
    return "".join(map(_entry, stage.entries))


def _entry(entry: Entry) -> str:
    head = (
        f'<div class="head"><span class="no">{entry.number}</span><div class="of"><span class="soft">'
        f'{text(WEIGHTS[entry.weight])}</span><br>{text(entry.thing)}: <span class="what">{text(entry.what)}</span>'
        f'{_alike(entry)}</div><span class="box">initials</span></div>'
    )
    if entry.lone:
        left, right = ([side] for side in marked("\n".join(entry.was), "\n".join(entry.now)))
    else:
        left, right = ([_labelled(words) for words in side] for side in (entry.was, entry.now))
    return (
        f'<div class="change {entry.weight}" id="change-{entry.number}">{head}'
        f'<div class="pair">{_side("old", left)}{_side("new", right)}</div></div>'
    )


def _labelled(words: str) -> str:
    """A line of a whole thing, its label soft."""
    label, colon, value = words.partition(": ")
    return f'<span class="soft">{text(label)}:</span> {text(value)}' if colon else text(words)


def _alike(entry: Entry) -> str:
    return f'<br><span class="soft">{text(entry.alike)}</span>' if entry.alike else ""


def _side(label: str, lines: list[str]) -> str:
    if not lines:
        return f'<div class="side none"><p class="label">{label}: not there</p></div>'
    body = "".join(f"<p>{line}</p>" for line in lines)
    return f'<div class="side"><p class="label">{label}</p>{body}</div>'


def _windows(c: Comparison) -> str:
    rows = []
    for window in windows(c):
        for i, (name, was, now, how) in enumerate(window.bounds):
            span = f' rowspan="{len(window.bounds)}"' if len(window.bounds) > 1 else ""
            whole = f'<br><span class="soft">{text(window.whole)}</span>' if window.whole else ""
            things = f'<th scope="rowgroup"{span}>{text(window.things)}{whole}</th>' if i == 0 else ""
            left, right = (text(was), text(now)) if was == now else marked(was, now)
            rows.append(f"<tr>{things}<td>{text(name)}</td><td>{left}</td><td>{right}</td><td>{text(how)}</td></tr>")
    heads = "".join(f'<th scope="col">{name}</th>' for name in ("of", "limit", "old", "new", "which is"))
    body = f'<table class="windows"><thead><tr>{heads}</tr></thead><tbody>{"".join(rows)}</tbody></table>'
    return section("What becomes of windows", scrolled(body, "What becomes of windows") + _note(WINDOWS_NOTE))


def _signing(c: Comparison) -> str:
    total = len(c.changes)
    looked = "the change" if total == 1 else f"each of the {total} changes"
    words = f"I have looked at {looked} and put my initials in its box." if total else "There is no change to sign."
    lines = "".join(f"<p>{name}</p>" for name in ("Name", "Date", "Signature"))
    body = f'<p>{words}</p><div class="signing">{lines}</div><div class="of-what">{_hashes(c)}</div>'
    return section("Signed", body)


def _hashes(c: Comparison) -> str:
    """On the sheet that is signed, of what: a page may come apart."""
    return "".join(
        _note(f"{name}: version {d.identity.version} of {d.identity.date}, {d.identity.status}, {d.hash}")
        for name, d in (("Old deck", c.old), ("New deck", c.new))
    )
