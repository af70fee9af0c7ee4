"""What came and what went as a whole, each told once, with all that it holds."""

from collections.abc import Iterator
from typing import TypeAlias

from flowdeck.compare.aspects import FIELDS, Aspect, Thing
from flowdeck.compare.change import Change, Part, Row, Sheet
from flowdeck.compare.common import Side
from flowdeck.compare.match import Matches
from flowdeck.compare.parts import part_values
from flowdeck.compare.records import Book, Record, spot_of
from flowdeck.model.deck import ItemKind

Known: TypeAlias = dict[Thing, frozenset[str]]
"""Ids that are matched in the other deck."""


def came_and_went(m: Matches) -> Iterator[Change]:
    """A flow or list is told with the items that came with it, a call with its answer, a standing item once."""
    gone = {thing: frozenset(pairs) for thing, pairs in m.pairs.items()}
    come = {thing: frozenset(pairs.values()) for thing, pairs in m.pairs.items()}
    for record in _alone(m.old, gone):
        yield Change(
            thing=record.thing,
            aspect=Aspect.WHOLE,
            old=spot_of(record),
            new=None,
            before=_sheet(m.old_side, m.old, record, gone),
        )
    for record in _alone(m.new, come):
        yield Change(
            thing=record.thing,
            aspect=Aspect.WHOLE,
            old=None,
            new=spot_of(record),
            after=_sheet(m.new_side, m.new, record, come),
        )


def _alone(book: Book, known: Known) -> Iterator[Record]:
    for thing, records in book.items():
        if len(known[thing]) < len(records):
            yield from (r for id_, r in records.items() if id_ not in known[thing] and not _goes_with(r, known))


def _goes_with(record: Record, known: Known) -> bool:
    """Whether it is told with what it stands in, or belongs to, since that came or went too."""
    match record.thing:
        case Thing.ACTION:
            return record.home not in known[Thing.FLOW]
        case Thing.LINE | Thing.HOLD:
            return record.home not in known[Thing.CHECKLIST]
        case Thing.ANSWER:
            return record.of.partner not in known[Thing.CALL]
        case Thing.STANDING:
            return record.of.kind is ItemKind.STANDING_OFF and record.of.partner not in known[Thing.STANDING]
        case _:
            return False


def _sheet(side: Side, book: Book, record: Record, known: Known) -> Sheet:
    rows = []
    for aspect in FIELDS[record.thing]:
        value = side.told(aspect, side.raw(record.of, aspect))
        if value is not None and value is not False:
            rows.append(Row(aspect, value))
    rows += [Row(aspect, value) for aspect, value in part_values(side, record)]
    if record.thing in (Thing.CALL, Thing.STANDING, Thing.GATE) and record.of.phases != (record.phase,):
        rows.append(Row(Aspect.PHASES, record.of.phases))
    parts = [each for each in _inside(book, record) if each.id not in known[each.thing]]
    return Sheet(
        tuple(sorted(rows, key=lambda row: _RANK[row.aspect])),
        tuple(Part(each.thing, each.id, _sheet(side, book, each, known)) for each in parts),
    )


_FIRST = (Aspect.TITLE, Aspect.DO, Aspect.TO, Aspect.BY, Aspect.CALLED_BY, Aspect.READ_BY)
_RANK = {aspect: i for i, aspect in enumerate((*_FIRST, *(a for a in Aspect if a not in _FIRST)))}
"""What it is and who does it, then the rest, the hardest first."""


def _inside(book: Book, record: Record) -> list[Record]:
    of = record.of
    match record.thing:
        case Thing.FLOW:
            return [book[Thing.ACTION][id_] for id_ in of.items]
        case Thing.CHECKLIST:
            lines = [book[Thing.LINE][id_] for id_ in of.lines]
            return [*lines, *(book[Thing.HOLD][hold.id] for hold in of.holds)]
        case Thing.CALL:
            return [] if of.partner is None else [book[Thing.ANSWER][of.partner]]
        case Thing.STANDING if of.kind is ItemKind.STANDING_ON:
            return [book[Thing.STANDING][of.partner]]
        case _:
            return []
