"""Plausible values of an item: the right one, the one before, and the next best mistakes."""

from flowdeck.engine.judge import wanted_value
from flowdeck.engine.work import Work
from flowdeck.model.condition import Scalar
from flowdeck.model.deck import Item

_STEPS = {"ft": 100.0, "kt": 10.0, "hpa": 10.0, "deg": 10.0, "mhz": 0.5, "nm": 1.0, "kg": 500.0, "m": 100.0}


def plausible(work: Work, item: Item) -> tuple[Scalar, ...]:
    """Values that a pilot might key or say, the right one first; none where it is not known now."""
    if item.value is None:
        return ()
    wanted = wanted_value(work, item)
    if wanted is None or isinstance(wanted, bool):
        return ()
    signal = work.program.signals[item.value]
    if not isinstance(wanted, (int, float)):
        return (str(wanted), *(word for word in signal.choices if word != wanted))
    step = _STEPS.get(signal.unit, 1.0)
    present = work.value(item.value)
    pool: list[Scalar] = [float(wanted)]
    if isinstance(present, (int, float)) and not isinstance(present, bool):
        pool.append(float(present))
    return (*pool, float(wanted) + step, float(wanted) - step, float(wanted) + 2 * step)
