"""The words of a card: who answers, what a line waits for, why one thing must come after another."""

from flowdeck.card.face import printable
from flowdeck.engine.words import in_words, short, signals_of, title
from flowdeck.model.deck import PLACEHOLDER, Checklist, Deck, Item, ItemKind, Need
from flowdeck.model.seats import Owner

WHO = {
    Owner.CAPTAIN: "CPT",
    Owner.FIRST_OFFICER: "FO",
    Owner.PILOT_FLYING: "PF",
    Owner.PILOT_MONITORING: "PM",
    Owner.BOTH: "both",
    Owner.EITHER: "either",
}
OWN = {
    "CPT": "captain, in the left seat",
    "FO": "first officer, in the right seat",
    "PF": "pilot flying, whoever flies now",
    "PM": "pilot monitoring, whoever does not fly now",
}
"""The card's own short forms; a deck's glossary goes before them."""


def shown(deck: Deck, text: str) -> str:
    """Shown text; a reading that is to be set or said stands by its name in small angles."""

    def named(name: str) -> str:
        signal = signals_of(deck).get(name)
        return f"\u2039{short(signal) if signal else name}\u203a"

    return printable(PLACEHOLDER.sub(lambda match: named(match[1]), text))


def said(deck: Deck, text: str) -> str:
    """Words that are spoken, in quotation marks."""
    return f"\u2018{shown(deck, text)}\u2019"


def condition(deck: Deck, number: int) -> str:
    return printable(in_words(deck, number))


def conditions(deck: Deck, thing: Item | Checklist) -> tuple[str, ...]:
    """Whether it is owed at all, in words: a line each."""
    only = [f"only if {condition(deck, thing.when)}"] if thing.when is not None else []
    never = [f"not if {condition(deck, thing.unless)}"] if thing.unless is not None else []
    return (*only, *never)


def note(deck: Deck, thing: Item | Checklist, *, reasons: bool) -> str:
    """Hard edges and what must hold at the moment of acting, with its reason when asked for; empty without any."""
    before: dict[str, list[str]] = {}
    for edge in thing.after:
        if edge.hard:
            before.setdefault(edge.reason if reasons else "", []).append(named(deck, edge.before))
    parts = [f"After {', '.join(names)}{_why(reason)}" for reason, names in before.items()]
    needs: tuple[Need, ...] = thing.needs if isinstance(thing, Item) else ()
    parts += [f"Only while {condition(deck, need.that)}{_why(need.reason if reasons else '')}" for need in needs]
    return printable(" ".join(parts))


def _why(reason: str) -> str:
    return f": {reason}" if reason else "."


def named(deck: Deck, ref: str) -> str:
    """What an item is called in a sentence: by what is acted on, where nothing else of the deck acts on it."""
    item = deck.items.get(ref)
    if item is None or item.kind in (ItemKind.CALL, ItemKind.ANSWER):
        return printable(title(deck, ref))
    alone = sum(item.do == other.do for other in deck.items.values() if other.kind is not ItemKind.LINE) == 1
    return shown(deck, item.do if alone else f"{item.do} {item.to}")


def trigger(deck: Deck, number: int) -> str:
    """From when on something is owed."""
    text = condition(deck, number)
    return text if text.startswith("after ") else f"when {text}"
