"""One card a seat: flows, calls, answers, standing items and what the seat answers in lists, phase by phase.

The law: what this seat may owe stands on its card once, and nothing else does. Roles change hands in flight, so
without *flying* a card has what its seat owes in either role; with it, what is owed while that seat flies.
"""

from flowdeck.card import lists
from flowdeck.card.content import Block, BlockKind, Card, Entry
from flowdeck.card.face import printable
from flowdeck.card.page import Kind
from flowdeck.card.words import WHO, condition, conditions, note, said, shown, trigger
from flowdeck.engine.words import title
from flowdeck.model.deck import Checklist, Deck, Group, Item, ItemKind
from flowdeck.model.seats import Owner, Seat

_KINDS: dict[str, BlockKind] = {"flow": "flow", "calls": "calls", "standing": "standing"}


def seat_card(deck: Deck, seat: Seat, flying: Seat | None, *, reasons: bool) -> Card:
    blocks = [block for phase in deck.phases for block in _phase(deck, phase, seat, flying, reasons=reasons)]
    part = {None: "", seat: ", flying", seat.other: ", monitoring"}[flying]
    return Card(
        deck=deck.id,
        title=f"{seat.label}{part}",
        identity=deck.identity,
        hash=deck.hash,
        blocks=tuple(blocks),
        seat=seat,
    )


def owes(owner: Owner, seat: Seat, flying: Seat | None) -> bool:
    """Whether *seat* may owe what is *owner*'s while *flying* flies; None: whoever flies."""
    return any(seat in owner.seats(each) for each in ([flying] if flying else Seat))


def _phase(deck: Deck, phase: str, seat: Seat, flying: Seat | None, *, reasons: bool) -> list[Block]:
    if seat not in deck.phases[phase].seats:
        return []
    found = [
        _group(deck, group, seat, flying, reasons=reasons) for group in deck.groups.values() if group.phase == phase
    ]
    found += [
        _list(deck, each, seat, flying, reasons=reasons) for each in deck.checklists.values() if each.phase == phase
    ]
    return [block for block in found if block.entries]


def _group(deck: Deck, group: Group, seat: Seat, flying: Seat | None, *, reasons: bool) -> Block:
    items = [deck.items[ref] for ref in group.items if owes(deck.items[ref].by, seat, flying)]
    common = _common(items) if group.kind == "flow" else None
    return Block(
        kind=_KINDS[group.kind],
        ref=group.id,
        title=printable(group.title),
        about=f"from {condition(deck, common)}" if common is not None else "",
        section=printable(title(deck, group.phase)),
        entries=tuple(_entry(deck, item, common, reasons=reasons) for item in items),
    )


def _common(items: list[Item]) -> int | None:
    """The opening that most items of a flow have; none where some are open from the start of the phase."""
    opens = [item.opens for item in items]
    if None in opens or not opens:
        return None
    most = max(opens, key=opens.count)
    return most if opens.count(most) * 2 > len(opens) else None


def _entry(deck: Deck, item: Item, common: int | None, *, reasons: bool) -> Entry:
    """*common*: the opening that stands at the head of the block."""
    under = conditions(deck, item)
    opens: tuple[str, ...] = ()
    if item.opens is not None and item.opens != common:
        opens = (trigger(deck, item.opens),)
    prompt, answer = shown(deck, item.do), shown(deck, item.to)
    if item.kind is ItemKind.CALL:
        prompt = said(deck, item.do)
    if item.kind is ItemKind.ANSWER:
        prompt = said(deck, deck.items[item.partner].do) if item.partner in deck.items else ""
        answer = said(deck, item.do)
    return Entry(
        kind=Kind.ITEM,
        ref=item.id,
        prompt=prompt,
        answer=answer,
        who=WHO[item.by],
        under=(*opens, *under),
        note=note(deck, item, reasons=reasons),
        bold=item.kind is ItemKind.CALL,
        conditional=bool(under),
        critical=item.critical,
        point=item.point,
    )


def _list(deck: Deck, checklist: Checklist, seat: Seat, flying: Seat | None, *, reasons: bool) -> Block:
    """The lines that this seat answers; with the holds and the last words when it may read the list."""
    reads, calls = owes(checklist.read_by, seat, flying), owes(checklist.called_by, seat, flying)
    entries: list[Entry] = []
    for i, ref in enumerate(checklist.lines):
        entries += lists.holds(deck, checklist, i) if reads else []
        entries += [lists.line(deck, ref, reasons=reasons)] if owes(deck.items[ref].by, seat, flying) else []
    if reads:
        entries += [*lists.holds(deck, checklist, len(checklist.lines)), lists.completion(deck, checklist)]
    return Block(
        kind="answers",
        ref=checklist.id,
        title=f"{printable(checklist.title)}, this seat",
        about=lists.about(deck, checklist) if reads or calls else "",
        note=note(deck, checklist, reasons=reasons) if reads or calls else "",
        section=printable(title(deck, checklist.phase)),
        conditional=bool(conditions(deck, checklist)) and (reads or calls),
        entries=tuple(entries),
    )
