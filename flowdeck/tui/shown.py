"""What a screen reads of a flight, whether it is flown or looked at again."""

from typing import Protocol

from flowdeck.model import events as ev
from flowdeck.model.readings import Readings
from flowdeck.trial.flight import Flight


class Shown(Protocol):
    """What a screen reads of a flight that is flown, or of one that is looked at again."""

    @property
    def trouble(self) -> str: ...
    @property
    def flight(self) -> Flight: ...
    @property
    def now(self) -> int: ...
    @property
    def flown(self) -> list[tuple[float, float]]: ...
    def before(self) -> Readings: ...
    def tick(self) -> tuple[ev.Event, ...]: ...
