"""The screen with sixty samples a second and a deck far too large: keys answer, sizes change, memory stays."""

import gc
from pathlib import Path
from random import Random

import pytest

from flowdeck.live.host import Host
from flowdeck.trial.flight import take_off
from flowdeck.tui.app import FlowdeckApp
from tests.conftest import Measured
from tests.support.cockpit import Cockpit, TestClock
from tests.support.large import large_deck
from tests.support.pilot import rest
from tests.support.small import small_scenario

SAMPLES_PER_S = 60
FRAMES_PER_S = 20
SIZES = ((80, 24), (100, 30), (200, 60), (60, 12), (160, 50))


def resident_mb() -> float:
    gc.collect()
    status = Path("/proc/self/status").read_text(encoding="ascii")
    return int(next(line for line in status.splitlines() if line.startswith("VmRSS")).split()[1]) / 1024


async def second(c: Cockpit) -> None:
    """One second of flight in frames."""
    for _ in range(FRAMES_PER_S):
        c.clock.now += 1 / FRAMES_PER_S
        c.app.flight.frame()
    await rest(c.pilot)


async def loaded(items: int, seconds: int) -> list[float]:
    """Fly so long, a key each second and another size each ten; the memory (MB) at the end of each minute."""
    deck = large_deck(items)
    flight, _ = take_off(deck, small_scenario(deck), solo=True)
    clock = TestClock()
    host = Host(flight, None, clock, step_ms=round(1000 / SAMPLES_PER_S))
    app = FlowdeckApp(host)
    chance = Random(items)
    memory = []
    async with app.run_test(size=(100, 30)) as pilot:
        await rest(pilot)
        c = Cockpit(app, pilot, clock)
        host.tick()
        begun = host.now
        for at in range(1, seconds + 1):
            await second(c)
            before = c.session.seq
            await c.press(chance.choice("fj"))
            assert c.session.seq > before, "the key did nothing"
            if at % 10 == 0:
                await pilot.resize_terminal(*SIZES[at // 10 % len(SIZES)])
                await rest(pilot)
                assert len(c.lines()) == app.flight.query_one("#lanes").size.height
            if at % 60 == 0:
                memory.append(resident_mb())
        assert host.now - begun == pytest.approx(seconds * 1000, abs=250)
        assert len(c.session.done) >= seconds // 2
    return memory


async def test_sixty_samples_a_second() -> None:
    """A deck of a thousand items, half a minute."""
    await loaded(1000, 30)


@pytest.mark.soak(first=True)
async def test_ten_minutes_of_sixty_samples_a_second(measured: Measured) -> None:
    """A deck of five thousand items; from the third minute on the memory does not grow by more than a tenth."""
    memory = await loaded(5000, 600)
    measured(f"resident after each minute: {', '.join(f'{mb:.0f}' for mb in memory)} MB")
    assert max(memory[3:]) < memory[2] * 1.1
