"""Three plausible values for a line that takes one: the right one, the one before, and the next best mistake.

Their order is drawn from the item's name, so it tells nothing.
"""

from zlib import crc32

from msgspec import Struct

from flowdeck.engine.judge import wanted_value
from flowdeck.engine.program import program
from flowdeck.engine.work import Work
from flowdeck.model.condition import Scalar
from flowdeck.model.deck import Deck, Item
from flowdeck.model.readings import Readings
from flowdeck.model.session import Session
from flowdeck.view.words import signals_of, value_text

_STEPS = {"ft": 100.0, "kt": 10.0, "hpa": 10.0, "deg": 10.0, "mhz": 0.5, "nm": 1.0, "kg": 500.0, "m": 100.0}


class Choice(Struct, frozen=True):
    """*text* as shown, *value* as sent."""

    text: str
    value: Scalar


def choices(deck: Deck, session: Session, readings: Readings, now: int, item: Item) -> tuple[Choice, ...]:
    """Three choices for a value item, none when its value is not known now."""
    if item.value is None:
        return ()
    work = Work(program(deck), session, readings, now)
    wanted = wanted_value(work, item)
    if wanted is None or isinstance(wanted, bool):
        return ()
    signal = signals_of(deck)[item.value]
    present = readings.value(signal, now)
    if isinstance(wanted, (int, float)):
        step = _STEPS.get(signal.unit, 1.0)
        pool: list[Scalar] = [float(wanted)]
        if isinstance(present, (int, float)) and not isinstance(present, bool):
            pool.append(float(present))
        pool += [float(wanted) + step, float(wanted) - step, float(wanted) + 2 * step]
    else:
        pool = [str(wanted), *(word for word in signal.choices if word != wanted)]
    distinct: dict[str, Choice] = {}
    for value in pool:
        text = value_text(value, signal.unit)
        distinct.setdefault(text, Choice(text, value))
    three = list(distinct.values())[:3]
    turn = crc32(f"{item.id}/{session.approach}".encode()) % len(three)
    return (*three[turn:], *three[:turn])
