"""Three plausible values for a line that takes one: the right one, the one before, and the next best mistake.

Their order is drawn from the item's name, so it tells nothing.
"""

from zlib import crc32

from msgspec import Struct

from flowdeck.engine.program import program
from flowdeck.engine.values import plausible
from flowdeck.engine.work import Work
from flowdeck.model.condition import Scalar
from flowdeck.model.deck import Deck, Item
from flowdeck.model.readings import Readings
from flowdeck.model.session import Session
from flowdeck.view.words import signals_of, value_text


class Choice(Struct, frozen=True):
    """*text* as shown, *value* as sent."""

    text: str
    value: Scalar


def choices(deck: Deck, session: Session, readings: Readings, now: int, item: Item) -> tuple[Choice, ...]:
    """Three choices for a value item, none when its value is not known now."""
    pool = plausible(Work(program(deck), session, readings, now), item)
    if not pool or item.value is None:
        return ()
    unit = signals_of(deck)[item.value].unit
    distinct: dict[str, Choice] = {}
    for value in pool:
        text = value_text(value, unit)
        distinct.setdefault(text, Choice(text, value))
    three = list(distinct.values())[:3]
    turn = crc32(f"{item.id}/{session.approach}".encode()) % len(three)
    return (*three[turn:], *three[:turn])
