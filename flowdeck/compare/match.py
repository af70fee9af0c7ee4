"""Which thing of the older deck is which of the newer one.

What has the same id and is of the same kind is the same thing; what is left is looked at by the rule in
`flowdeck.compare.alike`, again and again, since what was renamed makes others alike that name it.
"""

from typing import NamedTuple

from flowdeck.compare.alike import Likely, Pairs, Sides, by_fields, likest
from flowdeck.compare.aspects import Thing
from flowdeck.compare.common import Renamed, Rows, Side
from flowdeck.compare.records import Book, Record, book_of, unnamed_lines
from flowdeck.model.deck import Deck

ROUNDS = 5
"""So often it is looked again; each round goes through what is left alone."""

_WHOLE = (Thing.PHASE, Thing.FLOW, Thing.CHECKLIST)
_BY_FIELDS = (
    *(Thing.FACT, Thing.SIGNAL, Thing.MARK, Thing.CUE, Thing.GATE, Thing.HOLD, Thing.LINE, Thing.ACTION),
    *(Thing.STANDING, Thing.CALL),
)
_NAMED = {Thing.FACT: "names", Thing.SIGNAL: "names", Thing.PHASE: "phases"}


class Matches(NamedTuple):
    """*pairs*: old id to new, by kind. *unnamed*: lines whose ids are only numbers, of either deck."""

    old: Book
    new: Book
    pairs: dict[Thing, Pairs]
    old_side: Side
    new_side: Side
    unnamed: tuple[frozenset[str], frozenset[str]]


def match(old: Deck, new: Deck) -> Matches:
    """Match the things of two decks."""
    matcher = _Matcher(old, new)
    for _ in range(ROUNDS):
        if not matcher.look():
            break
    sides = matcher.sides()
    return Matches(matcher.old, matcher.new, matcher.pairs, *sides, matcher.unnamed)


class _Matcher:
    def __init__(self, old: Deck, new: Deck) -> None:
        self.decks = old, new
        self.old, self.new = book_of(old), book_of(new)
        a, b = ({x for each in deck.checklists.values() for x in unnamed_lines(each)} for deck in (old, new))
        self.unnamed = frozenset(a), frozenset(b)
        self.pairs: dict[Thing, Pairs] = {}
        for thing in Thing:
            there = self.new[thing]
            self.pairs[thing] = {id_: id_ for id_ in self.old[thing] if id_ in there}
        self.pairs[Thing.DECK] = {old.id: new.id}
        for id_ in a | b:
            self.pairs[Thing.LINE].pop(id_, None)

    def sides(self) -> Sides:
        """Both decks in the tongue of what has been matched so far."""
        renamed: dict[str, Pairs] = {"ids": {}, "names": {}, "phases": {}}
        for thing, pairs in self.pairs.items():
            if thing not in (Thing.DECK, Thing.POLICY, Thing.TERM):
                renamed[_NAMED.get(thing, "ids")].update((a, b) for a, b in pairs.items() if a != b)
        rows = Rows()
        return Side(self.decks[0], rows, Renamed(**renamed)), Side(self.decks[1], rows, Renamed())

    def look(self) -> bool:
        """Match what is left, once; whether anything was."""
        left = {thing: self._left(thing) for thing in (*_WHOLE, *_BY_FIELDS)}
        if not any(a and b for a, b in left.values()):
            return False
        sides = self.sides()
        found = 0
        for thing, (olds, news) in left.items():
            if not olds or not news:
                continue
            by_content = thing in _WHOLE
            chosen = self._by_content(thing, sides, olds, news) if by_content else by_fields(sides, olds, news)
            self.pairs[thing].update(chosen)
            found += len(chosen)
            if thing is Thing.CALL:
                self.pairs[Thing.ANSWER].update(self._answers(chosen))
        return found > 0

    def _left(self, thing: Thing) -> tuple[list[Record], list[Record]]:
        pairs, taken = self.pairs[thing], set(self.pairs[thing].values())
        olds = [record for id_, record in self.old[thing].items() if id_ not in pairs]
        return olds, [record for id_, record in self.new[thing].items() if id_ not in taken] if olds else []

    def _by_content(self, thing: Thing, sides: Sides, olds: list[Record], news: list[Record]) -> Pairs:
        likely = []
        insides = [_inside(thing, self.new, b) for b in news]
        for i, a in enumerate(olds):
            was = {sides[0].id(x) for x in _inside(thing, self.old, a)}
            for j, b in enumerate(news):
                if thing is not Thing.PHASE and sides[0].phase(a.phase) != b.phase:
                    continue
                now = insides[j]
                shared = len(was & now)
                if a.of.title == b.of.title or 2 * shared > max(len(was), len(now)):
                    likely.append(Likely(-shared, abs(i - j), min(i, j), max(i, j), a.id, b.id))
        return likest(likely)

    def _answers(self, calls: Pairs) -> Pairs:
        found = {}
        for old, new in calls.items():
            a, b = self.old[Thing.CALL][old].of.partner, self.new[Thing.CALL][new].of.partner
            if a is not None and b is not None:
                found[a] = b
        return found


def _inside(thing: Thing, book: Book, record: Record) -> set[str]:
    """Ids of what is in a flow or list; of a phase, its flows, lists and gates."""
    if thing is Thing.FLOW:
        return set(record.of.items)
    if thing is Thing.CHECKLIST:
        return set(record.of.lines) - unnamed_lines(record.of)
    inner = (Thing.FLOW, Thing.CHECKLIST, Thing.GATE)
    return {id_ for kind in inner for id_, each in book[kind].items() if each.phase == record.id}
