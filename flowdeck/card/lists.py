"""The card of all checklists: each line of each list, once, in the deck's order."""

from flowdeck.card.content import Block, Card, Entry
from flowdeck.card.face import printable
from flowdeck.card.page import Kind
from flowdeck.card.words import WHO, condition, conditions, note, said, shown
from flowdeck.engine.words import title
from flowdeck.model.deck import Checklist, Deck


def lists_card(deck: Deck) -> Card:
    blocks = tuple(_block(deck, checklist, reasons=True) for checklist in deck.checklists.values())
    return Card(deck=deck.id, title="Checklists", identity=deck.identity, hash=deck.hash, blocks=blocks)


def _block(deck: Deck, checklist: Checklist, *, reasons: bool) -> Block:
    return Block(
        kind="list",
        ref=checklist.id,
        title=printable(checklist.title),
        about=about(deck, checklist),
        note=note(deck, checklist, reasons=reasons),
        conditional=bool(conditions(deck, checklist)),
        entries=(*lines(deck, checklist, reasons=reasons), completion(deck, checklist)),
    )


def about(deck: Deck, checklist: Checklist) -> str:
    """How the list is worked, by whom, in which phase, from when on."""
    mode = {"verify": "Verify", "read_do": "Read and do"}[checklist.mode]
    words = [
        f"{mode}, {printable(title(deck, checklist.phase)).lower()}",
        f"called by {WHO[checklist.called_by]}, read by {WHO[checklist.read_by]}",
        f"from {condition(deck, checklist.opens)}",
        *conditions(deck, checklist),
    ]
    if checklist.not_while is not None:
        words.append(f"not while {condition(deck, checklist.not_while)}")
    return "; ".join(words)


def lines(deck: Deck, checklist: Checklist, *, reasons: bool) -> list[Entry]:
    """Lines and holds as they are read."""
    rows: list[Entry] = []
    for i, ref in enumerate(checklist.lines):
        rows += holds(deck, checklist, i)
        rows.append(line(deck, ref, reasons=reasons))
    return [*rows, *holds(deck, checklist, len(checklist.lines))]


def line(deck: Deck, ref: str, *, reasons: bool) -> Entry:
    item = deck.items[ref]
    under = conditions(deck, item)
    return Entry(
        kind=Kind.ITEM,
        ref=ref,
        prompt=shown(deck, item.do),
        answer=shown(deck, item.to),
        who=WHO[item.by],
        under=under,
        note=note(deck, item, reasons=reasons),
        conditional=bool(under),
        critical=item.critical,
        point=item.point,
    )


def holds(deck: Deck, checklist: Checklist, before: int) -> list[Entry]:
    return [
        Entry(
            kind=Kind.HOLD,
            ref=hold.id,
            prompt=printable(hold.title),
            answer=f"goes on at {condition(deck, hold.until)}",
        )
        for hold in checklist.holds
        if hold.before == before
    ]


def completion(deck: Deck, checklist: Checklist) -> Entry:
    """The reader's last words: the list is open until they are said."""
    words = said(deck, checklist.completion)
    return Entry(kind=Kind.COMPLETION, ref=checklist.id, prompt=words, who=WHO[checklist.read_by], bold=True)
