"""A deck as the rules see it: the deck, where its things are written, and what is worked out once for all rules."""

from collections.abc import Iterator
from functools import cached_property
from typing import TYPE_CHECKING, TypeAlias, assert_never

from flowdeck.model.deck import Checklist, Deck, Item, ItemKind
from flowdeck.model.diagnostic import Place
from flowdeck.phasefile.places import Places
from flowdeck.vet.firsts import Firsts
from flowdeck.vet.proof import Prover
from flowdeck.vet.ways import Ways

if TYPE_CHECKING:
    from flowdeck.card.check import Violation

Finding: TypeAlias = tuple[Place, str]
"""Where, and what was found with how to mend it."""


class Subject:
    """Of one deck; nothing in it is changed by a rule."""

    def __init__(self, deck: Deck, places: Places) -> None:
        self.deck = deck
        self.places = places
        self.prover = Prover(deck)

    def at(self, ref: str, *fields: str | int) -> Place:
        """Where a thing, or a field of it, is written."""
        return self.places.of(ref, *fields)

    @staticmethod
    def fields(item: Item) -> tuple[str, str]:
        """In which fields *do* and *to* of an item are written; a call and an answer have no second one."""
        match item.kind:
            case ItemKind.LINE:
                return "challenge", "respond"
            case ItemKind.CALL | ItemKind.ANSWER:
                return "say", ""
            case ItemKind.ACTION | ItemKind.STANDING_ON | ItemKind.STANDING_OFF:
                return "do", "to"
            case _:
                assert_never(item.kind)

    def answered(self, item: Item) -> Place:
        """Where its state or answer is written."""
        return self.at(item.id, self.fields(item)[1])

    def text(self, row: int) -> str:
        """A condition as it is written."""
        return self.deck.conditions[row].text

    @cached_property
    def ways(self) -> Ways:
        return Ways(self.deck, self.prover)

    @cached_property
    def firsts(self) -> Firsts:
        return Firsts(self.deck)

    @property
    def actions(self) -> Iterator[Item]:
        """What is set from memory in flows."""
        return (item for item in self.deck.items.values() if item.kind is ItemKind.ACTION)

    @property
    def lines(self) -> Iterator[tuple[Checklist, int, Item]]:
        """Each line with its list and its number from 0."""
        for checklist in self.deck.checklists.values():
            for number, ref in enumerate(checklist.lines):
                yield checklist, number, self.deck.items[ref]

    def on_cards(self, rule: str) -> "Iterator[Violation]":
        """What the printed cards would violate; an answer is told for its own words, the call for its."""
        for each in self._violations:
            item = self.deck.items.get(each.ref)
            of_call = rule == "line-too-wide" and item is not None and item.kind is ItemKind.ANSWER
            if each.rule == rule and not of_call:
                yield each

    @cached_property
    def _violations(self) -> "tuple[Violation, ...]":
        from flowdeck.card.check import violations  # it loads the engine, which nothing else of vetting needs

        return violations(self.deck)

    @cached_property
    def verified_by(self) -> dict[str, tuple[str, ...]]:
        """Lines that verify an item, by the item."""
        found: dict[str, tuple[str, ...]] = {}
        for _, _, line in self.lines:
            for ref in line.verifies:
                found[ref] = (*found.get(ref, ()), line.id)
        return found
