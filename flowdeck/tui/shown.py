"""What a screen reads of a flight, whether it is flown here, by a played crew or elsewhere, or looked at again."""

from collections.abc import Callable
from typing import Protocol, runtime_checkable

from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.readings import Readings
from flowdeck.trial.film import Film
from flowdeck.trial.flight import Flight
from flowdeck.view.vantage import Vantage
from flowdeck.wire.link.messages import Present
from flowdeck.wire.link.stations import Station


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


class Flown(Shown, Protocol):
    """What the screen of a flight does with it: sends what the keys mean, and keeps what a debrief needs."""

    @property
    def vantage(self) -> Vantage: ...
    @property
    def greeting(self) -> str: ...
    @property
    def kept(self) -> str:
        """What becomes of the flight when the screen is left, in words."""
        ...

    @property
    def steps(self) -> bool:
        """Whether the flight can be moved on to its next event from here."""
        ...

    def clock(self) -> float: ...
    def send(self, input_: inp.Input) -> tuple[ev.Event, ...]:
        """What happened by it, as far as it is known already; a refusal among it."""
        ...

    def revise(self, report: str) -> tuple[ev.Event, ...]: ...
    def play(self, happening: str) -> tuple[ev.Event, ...]: ...
    def hold_back(self, happening: str, for_s: float) -> tuple[ev.Event, ...]: ...
    def step_on(self) -> tuple[ev.Event, ...]: ...
    def refusal(self) -> str:
        """Why something sent earlier was refused, each once; empty when nothing was."""
        ...

    def film(self) -> Film | None: ...
    def keep(self, note: ev.Noted) -> str: ...


@runtime_checkable
class Crewed(Flown, Protocol):
    """What the screen of a flight that is flown elsewhere reads of the link to it."""

    on_news: Callable[[], None] | None

    @property
    def station(self) -> Station: ...
    @property
    def roster(self) -> tuple[Present, ...]: ...
