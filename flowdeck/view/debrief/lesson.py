"""A lesson sheet as a page: phase by phase what each pilot does and why, and where this flight differed.

The law: everything that the deck asks for in a phase stands on the sheet in the deck's order, whether this flight owed
it or not; what it did not owe is said to be so, and what differed stands with its item.
"""

from collections.abc import Iterator

from flowdeck.debrief.study import Debrief
from flowdeck.engine.words import title
from flowdeck.model.deck import PLACEHOLDER, Checklist, Deck, Gate, Group, Item, ItemKind
from flowdeck.model.seats import Owner, Seat
from flowdeck.view.debrief.words import heading
from flowdeck.view.html import document, scrolled, section, text
from flowdeck.view.sentences import sentence
from flowdeck.view.words import blank, plain

_STYLE = (
    "\ntable.lesson td{text-align:left;width:25%}table.lesson td.do{font-weight:700}"
    "table.lesson td.why{width:34%;color:var(--soft)}table.lesson td.when{width:16%;color:var(--soft)}"
    "table.lesson th{text-align:left}table.lesson .to{font-weight:400}"
    ".differed{color:var(--ink);border-left:4px solid var(--amber);padding-left:.5rem;margin-top:.25rem}"
    ".unowed td{color:var(--soft)}.unowed td.do{font-weight:400}"
)
_OWNERS = {
    Owner.PILOT_FLYING: "pilot flying",
    Owner.PILOT_MONITORING: "pilot monitoring",
    Owner.BOTH: "both",
    Owner.EITHER: "either",
}


def lesson_page(d: Debrief, begun: str) -> str:
    """The whole sheet as HTML. *begun*: local date and time, or empty."""
    flown = list(dict.fromkeys(span.phase for span in d.spans))
    parts = [_phase(d, phase) for phase in flown]
    left = [title(d.deck, phase) for phase in d.deck.phases if phase not in flown]
    if left:
        parts.append(f'<p class="soft">Not flown: {text(", ".join(left))}.</p>')
    return document(f"Lesson: {d.scenario.title}", heading(d, begun), parts, _STYLE)


def _phase(d: Debrief, phase: str) -> str:
    deck = d.deck
    parts = [_group(d, group) for group in deck.groups.values() if group.phase == phase]
    parts += [_list(d, checklist) for checklist in deck.checklists.values() if checklist.phase == phase]
    parts += [_gate(d, gate) for gate in deck.gates.values() if phase in gate.phases]
    return section(title(deck, phase), "".join(parts))


def _group(d: Debrief, group: Group) -> str:
    rows = "".join(_item(d, d.deck.items[ref]) for ref in group.items if _is_shown(d.deck.items[ref]))
    return f"<h3>{text(group.title)}</h3>{_table(rows, f'{title(d.deck, group.phase)}: {group.title}')}" if rows else ""


def _is_shown(item: Item) -> bool:
    return item.kind is not ItemKind.ANSWER  # it stands beside its call


def _item(d: Debrief, item: Item) -> str:
    lives = [life for life in d.lives if life.item == item.id and life.was_owed]
    flying = lives[0].flying if lives else d.scenario.flying
    words = f"<span>{_named(item)}</span>{_role(item.by)}"
    answer = d.deck.items.get(f"{item.id}-answer") if item.kind is ItemKind.CALL else None
    cells = {seat: words if seat in item.by.seats(flying) else "" for seat in Seat}
    if answer is not None:
        for seat in answer.by.seats(flying):
            cells[seat] += f"<span>answers {_named(answer)}</span>"
    opens = plain(d.deck, item.opens) if item.opens is not None else ""
    return _row(d, item.id, opens, cells, item.why, owed=bool(lives))


def _row(d: Debrief, ref: str, when: str, cells: dict[Seat, str], why: str, *, owed: bool) -> str:
    """*cells*: markup. What differed stands under the reason."""
    differed = "".join(f'<div class="differed">{words}</div>' for words in _differed(d, ref))
    unowed = "" if owed or differed else "<div>not owed in this flight</div>"
    kind = "" if owed or differed else ' class="unowed"'
    return (
        f'<tr{kind}><td class="when">{text(when)}</td><td class="do">{cells[Seat.CAPTAIN]}</td>'
        f'<td class="do">{cells[Seat.FIRST_OFFICER]}</td><td class="why">{text(why)}{unowed}{differed}</td></tr>'
    )


def _differed(d: Debrief, ref: str) -> Iterator[str]:
    for slipped in d.slips:
        if slipped.deviation.item == ref:  # with its item, in whichever phase it slipped
            yield text(sentence(d.deck, slipped.deviation))


def _named(item: Item) -> str:
    """Markup: what is done, and the state in lighter weight; words that are said in quotes."""
    if item.kind in (ItemKind.CALL, ItemKind.ANSWER):
        return text(f"'{blank(item.do)}'")
    to = PLACEHOLDER.sub("...", item.to)
    return f'{text(item.do)} <span class="to">{text(to)}</span>'


def _role(owner: Owner) -> str:
    return f' <span class="to">({_OWNERS[owner]})</span>' if owner in _OWNERS else ""


def _table(rows: str, label: str) -> str:
    heads = "".join(f'<th scope="col">{name}</th>' for name in ("when", "Captain", "First officer", "why"))
    return scrolled(f'<table class="lesson"><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table>', label)


def _list(d: Debrief, checklist: Checklist) -> str:
    """A list line by line, with who calls, who reads, and what each line verifies."""
    deck = d.deck
    readings = [r for r in d.readings if r.checklist == checklist.id]
    called = [r for r in readings if r.called_at is not None]
    flying = d.scenario.flying
    read = {line for r in called for line in (*r.read, *r.skipped)}
    rows = []
    for ref in checklist.lines:
        line = deck.items[ref]
        words = f"<span>{_named(line)}</span>{_role(line.by)}"
        cells = {seat: words if seat in line.by.seats(flying) else "" for seat in Seat}
        rows.append(_row(d, ref, "", cells, line.why or _verified(deck, line), owed=ref in read))
    who = f"Called by the {_owner(checklist.called_by)}, read by the {_owner(checklist.read_by)}, ended by the call "
    differed = "".join(f'<p class="differed">{words}</p>' for words in _differed(d, checklist.id))
    about = f"<p>{text(who)}'{text(checklist.completion)}'. {text(checklist.why)}</p>"
    label = f"{title(deck, checklist.phase)}: {checklist.title}"
    return f"<h3>{text(checklist.title)}</h3>{about}{differed}{_table(''.join(rows), label)}"


def _owner(owner: Owner) -> str:
    return _OWNERS.get(owner, owner.replace("_", " "))


def _verified(deck: Deck, line: Item) -> str:
    """The reason of what a line verifies, where it has none of its own."""
    return next((deck.items[ref].why for ref in line.verifies if ref in deck.items and deck.items[ref].why), "")


def _failing(words: tuple[str, ...]) -> str:
    return f" ({', '.join(words)})" if words else ""


def _gate(d: Debrief, gate: Gate) -> str:
    met = [each for each in d.crew.gates if each.gate == gate.id]
    words = {"passed": "passed", "mended": "not passed, and answered", "overrun": "gone past", "failed": "left open"}
    musts = "".join(f"<li>{text(must.words)}</li>" for must in gate.must)
    after = "else go around" if gate.orders == "go_around" else "else stop until it is so"
    told = (
        "".join(
            f'<p class="{"soft" if each.answer == "passed" else "differed"}">This flight: {words[each.answer]}'
            f"{text(_failing(each.failing))}</p>"
            for each in met
        )
        or '<p class="soft">not met in this flight</p>'
    )
    return (
        f"<h3>Gate: {text(gate.title)}</h3><p>{text(gate.why)}</p><ul>{musts}</ul><p>All of these, {after}.</p>{told}"
    )
