"""What stands at the end of a card: the marks that occur on it, and the short forms and terms that occur on it."""

import re
from collections.abc import Iterator

from flowdeck.card.content import Block, Card, Entry
from flowdeck.card.face import printable
from flowdeck.card.page import Kind
from flowdeck.card.words import OWN
from flowdeck.engine.words import short
from flowdeck.model.deck import Deck


def closing(deck: Deck, card: Card) -> tuple[Block, ...]:
    blocks = [
        Block(kind="legend", ref="marks", title="Marks", entries=tuple(_marks(card))),
        Block(kind="glossary", ref="glossary", title="Words", entries=tuple(_words(deck, card))),
    ]
    return tuple(block for block in blocks if block.entries)


def _marks(card: Card) -> Iterator[Entry]:
    entries = [entry for block in card.blocks for entry in block.entries]
    if any(entry.critical for entry in entries):
        yield _mark("critical", "Bar", "critical: never passed over", critical=True)
    if any(entry.conditional for entry in entries) or any(block.conditional for block in card.blocks):
        yield _mark("conditional", "Fork", "owed only as the line below it says", conditional=True)
    if any(entry.point for entry in entries):
        yield _mark("point", "Ring", "point at it before it is done or answered", point=True)
    if any(entry.kind is Kind.HOLD for entry in entries):
        yield _mark("hold", "Broken rule", "the list stops here, aloud, until what is told below it")
    if any(entry.note for entry in entries) or any(block.note for block in card.blocks):
        yield _mark("number", "Small number", "at the foot of the page: what comes before, or must hold")
    if "\u2039" in " ".join(_texts(card)):
        yield _mark("reading", "\u2039 \u203a", "the reading itself is set or said")


def _mark(
    ref: str, name: str, words: str, *, critical: bool = False, conditional: bool = False, point: bool = False
) -> Entry:
    return Entry(
        kind=Kind.TERM, ref=ref, prompt=name, answer=words, critical=critical, conditional=conditional, point=point
    )


def _words(deck: Deck, card: Card) -> Iterator[Entry]:
    """Each term once: the deck's own words before those of the card, and those before names of signals."""
    known: dict[str, str] = {}
    for signal in deck.signals:
        if not set(short(signal).casefold().split()) <= set(signal.title.casefold().split()):
            known[printable(short(signal))] = printable(_begun_small(signal.title))
    own = OWN | {printable(term): printable(meaning) for term, meaning in deck.glossary.items()}
    told = {term.casefold() for term in own}
    known = {term: meaning for term, meaning in known.items() if term.casefold() not in told} | own
    text = " ".join(_texts(card))
    for term, meaning in sorted(known.items(), key=lambda each: (each[0].casefold(), each[0])):
        if _occurs(term, text):
            yield Entry(kind=Kind.TERM, ref=term, prompt=term, answer=meaning)


def _begun_small(title: str) -> str:
    """As it stands within a sentence; an abbreviation at its head stays."""
    return title if title[1:2].isupper() or title[1:2].isdigit() else title[:1].lower() + title[1:]


def _occurs(term: str, text: str) -> bool:
    """As a word of its own; a term with capitals only as it is written, any other at the head of a sentence too."""
    flags = re.IGNORECASE if term == term.lower() else 0
    return bool(term) and re.search(rf"(?<!\w){re.escape(term)}(?!\w)", text, flags) is not None


def _texts(card: Card) -> Iterator[str]:
    for block in card.blocks:
        yield from (block.title, block.about, block.note, block.section)
        for entry in block.entries:
            yield from (entry.prompt, entry.answer, entry.who, *entry.under, entry.note)
