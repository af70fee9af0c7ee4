"""A handful of whole screens as text: `UPDATE_OUT=1` draws them anew; look at every difference."""

from collections.abc import Callable
from pathlib import Path

import pytest

from flowdeck.trial.flight import Flight
from tests.support.cockpit import Cockpit, cockpit
from tests.support.expected import expected
from tests.support.moments import flown_until

HERE = Path(__file__).resolve().parent / "screens"


def whole(c: Cockpit) -> str:
    """The screen from top to bottom, without blanks at the ends of lines."""
    bars = [c.text("title"), c.text("rail"), c.text("strip"), *c.lines(), "-" * 8, c.text("margin"), c.text("hints")]
    return "\n".join(line.rstrip() for text in bars for line in text.splitlines()) + "\n"


SCREENS: dict[str, tuple[str, Callable[[Flight], bool], tuple[int, int], tuple[str, ...]]] = {
    "preparing": ("clean", lambda f: f.now >= 30_000, (100, 30), ("e",)),
    "final": ("clean", lambda f: f.session.item("landing-spoilers").read_at is not None, (100, 30), ()),
    "final-small": ("clean", lambda f: f.session.item("landing-spoilers").read_at is not None, (80, 24), ()),
    "slips": ("slips", lambda f: len(f.session.deviations) >= 12, (120, 36), ()),
    "drill": ("clean", lambda f: f.now >= 90_000, (100, 30), ("a",)),
}


@pytest.mark.parametrize("name", SCREENS)
async def test_screen(name: str) -> None:
    """The screen is, cell for cell, the one that was looked at."""
    scenario, reached, size, keys = SCREENS[name]
    flight = flown_until(scenario, reached)
    async with cockpit(flight=flight, size=size) as c:
        await c.press(*keys)
        drawn = whole(c)
    path = HERE / f"{name}.txt"
    assert drawn == expected(path, drawn)
