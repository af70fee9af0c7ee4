"""The flight screen under test: a clock that only the test moves, and keys pressed as a pilot would."""

from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from functools import lru_cache

from textual.pilot import Pilot

from flowdeck.engine.judge import wanted_value
from flowdeck.engine.owed import Duty
from flowdeck.engine.program import program
from flowdeck.engine.work import Work
from flowdeck.live.bundled import read_scenario
from flowdeck.live.host import Host
from flowdeck.live.journal import Journal
from flowdeck.model import events as ev
from flowdeck.model.deck import Deck, Item
from flowdeck.model.scenario import Scenario
from flowdeck.model.seats import Seat
from flowdeck.model.session import Session
from flowdeck.trial.flight import Flight, take_off
from flowdeck.tui.app import FlowdeckApp
from flowdeck.view.words import signals_of, value_text
from tests.support.pilot import press, rest


@lru_cache(maxsize=8)
def bundled(name: str) -> tuple[Deck, Scenario]:
    deck, scenario, _ = read_scenario(name)
    return deck, scenario


class TestClock:
    """Seconds that pass only when told to."""

    __test__ = False

    def __init__(self) -> None:
        self.now = 100.0

    def __call__(self) -> float:
        return self.now


class Cockpit:
    """An open flight screen."""

    def __init__(self, app: FlowdeckApp, pilot: Pilot[None], clock: TestClock) -> None:
        self.app = app
        self.pilot = pilot
        self.clock = clock

    @property
    def session(self) -> Session:
        return self.app.host.flight.session

    @property
    def deck(self) -> Deck:
        return self.app.host.flight.deck

    async def press(self, *keys: str) -> "Cockpit":
        await press(self.pilot, *keys)
        return self

    async def wait(self, seconds: float) -> "Cockpit":
        """Let flight time pass without pressing anything."""
        self.app.host.fly_on(round(seconds * 1000))
        self.app.flight.refresh_board()
        await rest(self.pilot)
        return self

    async def until(self, reached: Callable[[Flight], bool], step_s: float = 2.0, limit_s: float = 4000) -> "Cockpit":
        """Let flight time pass without pressing anything until something is so; what is drawn is its end."""
        end = self.app.host.now + limit_s * 1000
        while not reached(self.app.host.flight):
            assert self.app.host.now < end, "the moment never came"
            self.app.host.fly_on(round(step_s * 1000))
        return await self.wait(0)

    async def pick(self, words: str, key: str) -> "Cockpit":
        """Pick by typing, then a seat's key."""
        await self.press("slash", *words, "enter")
        return await self.press(key)

    def lines(self) -> list[str]:
        """The lanes as text."""
        lanes = self.app.flight.query_one("#lanes")
        return [lanes.render_line(y).text for y in range(lanes.size.height)]

    def text(self, bar: str) -> str:
        return str(self.app.flight.query_one(f"#{bar}").render())

    def owing(self, seat: Seat) -> tuple[Duty, str] | None:
        """What stands on a seat's line."""
        duty = self.app.flight.desk.duty(seat)
        return None if duty is None else (duty.duty, duty.ref)

    async def fly(self, until: str, limit_s: float = 4000, step_s: float = 1.0) -> "Cockpit":
        """Press each seat's key for what it owes, rightly and in time, until the phase or end *until*."""
        start = self.app.host.now
        while until not in (self.session.phase, self.session.ended):
            assert self.app.host.now - start < limit_s * 1000, f"{until} was not reached; now in {self.session.phase}"
            pressed = False
            for seat, key in ((Seat.CAPTAIN, "f"), (Seat.FIRST_OFFICER, "j")):
                if self.owing(seat) is not None and not self._too_soon(seat):
                    await self.press(key)
                    await self._answer()
                    pressed = True
                    break
            self.app.host.fly_on(500 if pressed else round(step_s * 1000))
        return self

    def _too_soon(self, seat: Seat) -> bool:
        """Whether what the line verifies is not shown yet: a pilot looks before answering."""
        owing = self.owing(seat)
        if owing is None or owing[0] is not Duty.ANSWER:
            return False
        line = self.deck.items[owing[1]]
        shown = line.seen is None or self.session.truths[line.seen] is not False
        return not shown or any(
            ref not in self.session.done and self.session.item(ref).is_owed for ref in line.verifies
        )

    async def _answer(self) -> None:
        """Choose the right one of three values when they are asked for."""
        screen = self.app.screen
        question = getattr(screen, "_question", None)
        if question is None or not hasattr(question, "choices"):
            return
        flight = self.app.host.flight
        item = self.deck.items[question.item]
        right = _right(flight.deck, item, self.app)
        index = next(i for i, choice in enumerate(question.choices) if choice.text == right)
        await self.press(str(index + 1))


def _right(deck: Deck, item: Item, app: FlowdeckApp) -> str:
    """The value that is asked for, as it is shown."""
    flight = app.host.flight
    work = Work(program(deck), flight.session, flight.readings, flight.now)
    value = wanted_value(work, item)
    assert item.value is not None and (value is None or isinstance(value, (float, str, bool)))
    return value_text(value, signals_of(deck)[item.value].unit)


@asynccontextmanager
async def cockpit(
    scenario: str = "clean",
    *,
    flight: Flight | None = None,
    size: tuple[int, int] = (100, 30),
    journal: Journal | None = None,
    mapped: dict[str, str] | None = None,
    past: tuple[ev.Event, ...] = (),
) -> AsyncIterator[Cockpit]:
    """The screen with a bundled scenario, or with a flight that is already under way, of which *past* is known."""
    if flight is None:
        deck, loaded = bundled(scenario)
        flight, past = take_off(deck, loaded, solo=True)
        if journal is not None:
            journal.append(past, sure=True)
    clock = TestClock()
    app = FlowdeckApp(Host(flight, journal, clock, past=past), mapped)
    async with app.run_test(size=size) as pilot:
        await rest(pilot)
        yield Cockpit(app, pilot, clock)
