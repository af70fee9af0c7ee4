"""What stands in a deck, in words: a limit, an edge, a need, a place, a whole item.

Conditions stay as they are written, since it is their text that is signed. Every text is safe to show.
"""

from collections.abc import Iterator
from typing import assert_never

from flowdeck.compare.aspects import PHASES, Aspect, Thing
from flowdeck.compare.change import Asked, Cond, Part, Rank, Row, Sheet, Span, Value, Way
from flowdeck.engine.words import title
from flowdeck.model.deck import Deck, Edge, Move
from flowdeck.model.seats import Owner, Seat
from flowdeck.view.compare.labels import THINGS, absent_words, aspect_words
from flowdeck.view.words import safe

_CODES = frozenset({Aspect.ORDERS, Aspect.MODE, Aspect.LASTS, Aspect.KIND})
_SECONDS = frozenset({Aspect.WITHIN_S, Aspect.STALE_S})


def named(deck: Deck, thing: Thing, id_: str) -> str:
    """A thing by the name that people have for it and its id: `Gear DOWN (gear-down)`."""
    match thing:
        case Thing.DECK:
            return safe(deck.identity.title)
        case Thing.FLOW:
            return safe(f"{deck.groups[id_].title} ({id_})")
        case Thing.HOLD:
            hold = next(h for each in deck.checklists.values() for h in each.holds if h.id == id_)
            return safe(f"{hold.title} ({id_})")
        case Thing.FACT:
            return safe(f"{deck.facts[id_].title} ({id_})")
        case Thing.CUE:
            return safe(f"{deck.cues[id_].title} ({id_})")
        case Thing.SIGNAL:
            return safe(f"{next(s.title for s in deck.signals if s.name == id_)} ({id_})")
        case Thing.MARK | Thing.POLICY | Thing.TERM:
            return safe(id_)
        case _:
            return ref(deck, id_)


def ref(deck: Deck, id_: str) -> str:
    """An item, list, gate or phase, by its title and id; any other name as it is."""
    known = id_ in deck.items or id_ in deck.checklists or id_ in deck.gates or id_ in deck.phases
    return safe(f"{title(deck, id_)} ({id_})" if known else id_)


def told(deck: Deck, thing: Thing, aspect: Aspect, value: Value) -> list[str]:
    """*value* of *deck* in words, one line or more."""
    return [safe(line) for line in _lines(deck, thing, aspect, value)]


def _lines(deck: Deck, thing: Thing, aspect: Aspect, value: Value) -> list[str]:
    match value:
        case None:
            return [absent_words(aspect)]
        case bool():
            return ["yes" if value else "no"]
        case float() | int():
            seconds = aspect in _SECONDS or (thing is Thing.POLICY and aspect is Aspect.FIGURE)
            return [f"{value:g}{' s' if seconds else ''}"]
        case str():
            return [_word(deck, thing, aspect, value)]
        case tuple():
            return ["; ".join(_word(deck, thing, aspect, each) for each in value)]
        case Cond(text):
            return [text]
        case Span(after_s, start):
            own = "its call" if thing is Thing.ANSWER else "its opening"
            return [f"{after_s:g} s after {own if start is None else ref(deck, start)}"]
        case Edge():
            return [edge_words(deck, value)]
        case Asked(that, words, kind):
            return [f"{that} ({kind}: {words})" if kind else f"{that} ({words})"]
        case Move():
            to = value.same_as if value.same_as is not None else _scalar(value.to)
            return [f"{value.signal} to {to} in {value.in_s:g} s"]
        case Way(to, when):
            return [f"to {ref(deck, to)} when {when}"]
        case Rank(number, of, behind):
            after = "first" if behind is None else f"after {_member(deck, thing, behind)}"
            return [f"{number} of {of}, {after}"]
        case Sheet():
            return list(_sheet(deck, thing, value))
        case _:
            assert_never(value)


def edge_words(deck: Deck, edge: Edge) -> str:
    how = f"hard, {edge.kind}" if edge.hard else "flow order only"
    return f"after {ref(deck, edge.before)}: {how}" + (f": {edge.reason}" if edge.reason else "")


def _sheet(deck: Deck, thing: Thing, sheet: Sheet) -> Iterator[str]:
    for row in sheet.rows:
        yield _row(deck, thing, row)
    for part in sheet.parts:
        yield f"{THINGS[part.thing].lower()} {named(deck, part.thing, part.id)}: {_part(deck, part, sheet.rows)}"


def _row(deck: Deck, thing: Thing, row: Row) -> str:
    return f"{aspect_words(thing, row.aspect)}: {'; '.join(_lines(deck, thing, row.aspect, row.value))}"


def _part(deck: Deck, part: Part, known: tuple[Row, ...]) -> str:
    """A part on one line; its words stand in its name, and what it has from the whole is said there."""
    rows = [row for row in part.sheet.rows if row.aspect not in (Aspect.TITLE, Aspect.DO) and row not in known]
    return "; ".join(_row(deck, part.thing, row) for row in rows)


def _member(deck: Deck, thing: Thing, id_: str) -> str:
    if thing is Thing.FLOW:
        return named(deck, Thing.FLOW, id_)
    holds = {hold.id for each in deck.checklists.values() for hold in each.holds}
    return named(deck, Thing.HOLD, id_) if id_ in holds else ref(deck, id_)


def _word(deck: Deck, thing: Thing, aspect: Aspect, word: str) -> str:
    if aspect in (Aspect.BY, Aspect.CALLED_BY, Aspect.READ_BY, Aspect.SEATS):
        return _owner(word)
    if aspect is Aspect.PLACE:
        return _place(deck, thing, word)
    if aspect in PHASES or aspect in (Aspect.VERIFIES, Aspect.STOPS, Aspect.EXIT_ORDER):
        return ref(deck, word)
    if aspect is Aspect.CUE:
        return named(deck, Thing.CUE, word)
    if aspect is Aspect.REOPENED_BY or aspect is Aspect.TELLS or aspect is Aspect.REVISED:
        return named(deck, Thing.FACT if word in deck.facts else Thing.SIGNAL, word)
    if aspect in (Aspect.VALUE, Aspect.STRIP):
        return named(deck, Thing.SIGNAL, word)
    return word.replace("_", " ") if aspect in _CODES else word


def _owner(word: str) -> str:
    if word in list(Seat):
        return Seat(word).label
    return word.replace("_", " ").capitalize() if word in list(Owner) else word


def _place(deck: Deck, thing: Thing, id_: str) -> str:
    if thing is Thing.ACTION:
        group = deck.groups[id_]
        return f"flow {named(deck, Thing.FLOW, id_)}, {title(deck, group.phase)}"
    if thing in (Thing.LINE, Thing.HOLD):
        return f"{named(deck, Thing.CHECKLIST, id_)}, {title(deck, deck.checklists[id_].phase)}"
    return named(deck, Thing.PHASE, id_)


def _scalar(value: object) -> str:
    if isinstance(value, bool):
        return "on" if value else "off"
    return f"{value:g}" if isinstance(value, float) else str(value)
