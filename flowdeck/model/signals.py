"""What a signal is: a named reading with a type, a unit, a range and an age at which it is stale."""

from enum import StrEnum

from msgspec import Struct


class SignalKind(StrEnum):
    NUMBER = "number"
    CHOICE = "choice"
    FLAG = "flag"


class Signal(Struct, frozen=True, kw_only=True):
    """A named reading.

    *unit* is the suffix that its name carries (`ft`, `kt`, `nm` ...), empty for a pure number.
    *low* and *high* bound what the reading can be; *choices* lists the values of a choice.
    *stale_s*: unheard for longer, the reading is unknown; None for values that do not age, such as
    figures worked out before the approach (*planned*). *at_start*: where a deck's own signal stands at the start of a
    flight, if its crew moves it.
    """

    name: str
    title: str
    kind: SignalKind = SignalKind.NUMBER
    unit: str = ""
    low: float | None = None
    high: float | None = None
    choices: tuple[str, ...] = ()
    stale_s: float | None = 5.0
    planned: bool = False
    at_start: float | str | bool | None = None
