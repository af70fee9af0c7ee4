"""One word for two controls, or two words for one; and an abbreviation that the glossary does not explain.

A flow that calls it "Flap" and another that calls it "Flaps lever" make the reader look for a second lever. Two items
move the same control when they move the same signals; the lines of lists move nothing and are not compared.
"""

import re
from collections.abc import Iterator

from flowdeck.model.deck import Item, ItemKind
from flowdeck.model.diagnostic import Level
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.WARNING
SOURCE = "CAP 676 (from memory), AC 120-71B s5.5 (second-hand)"
_SHORT = re.compile(r"\b(?=[A-Z0-9]*[A-Z])(?=[A-Z0-9]*[A-Z0-9])[A-Z0-9]{2,5}\b")


def find(s: Subject) -> Iterator[Finding]:
    words: dict[str, Item] = {}
    controls: dict[tuple[str, ...], Item] = {}
    for item in s.deck.items.values():
        if not item.moves or item.kind is ItemKind.LINE:
            continue
        control = tuple(sorted(move.signal for move in item.moves))
        first = words.setdefault(item.do.lower(), item)
        moved = {move.signal for move in first.moves}
        if not moved & set(control):
            message = f"'{item.do}' is the word for {_listed(control)} here and for {_listed(moved)} in '{first.id}'"
            yield s.at(item.id, "do"), message
        other = controls.setdefault(control, item)
        if other.do.lower() != item.do.lower():
            message = f"{_listed(control)} is '{item.do}' here and '{other.do}' in '{other.id}'; use one word for it"
            yield s.at(item.id, "do"), message
    yield from _unexplained(s)


def _unexplained(s: Subject) -> Iterator[Finding]:
    told: set[str] = set()
    for item in s.deck.items.values():
        words = item.do if any(c.islower() for c in item.do) else ""  # in capitals throughout nothing stands out
        for short in _SHORT.findall(words):
            if short not in s.deck.glossary and short not in told:
                told.add(short)
                yield (
                    s.at(item.id, s.fields(item)[0]),
                    f"'{short}' is not in the glossary; explain it there or write it out",
                )


def _listed(names: set[str] | tuple[str, ...]) -> str:
    return " and ".join(sorted(names))
