"""Draws the pictures of the README from flights of the bundled scenarios: `make pictures`."""

import asyncio
import re
import sys
from pathlib import Path

from flowdeck.arrival.brief import make_brief
from flowdeck.card.layout import lay_out
from flowdeck.debrief.study import study
from flowdeck.live.bundled import read_arrival, read_deck
from flowdeck.live.host import Host
from flowdeck.model.deviation import Slip
from flowdeck.trial.flight import Flight
from flowdeck.tui.app import FlowdeckApp
from flowdeck.view.brief.profile import standalone_svg as profile_file
from flowdeck.view.card.svg import standalone_svg as card_file
from flowdeck.view.debrief.lanes import standalone_svg as lanes_file
from tests.scenarios.flown import flown
from tests.support.cockpit import TestClock
from tests.support.moments import flown_until, in_phase

_BUTTONS = re.compile(r"<circle [^>]*/>")
"""The drawing's window buttons, in colours that mean something else on this screen."""
OUT = Path(__file__).resolve().parent.parent / "pictures"


def _reading(flight: Flight, line: str) -> bool:
    return flight.session.item(line).read_at is not None


async def draw(name: str, flight: Flight, size: tuple[int, int], *keys: str, out: Path = OUT) -> None:
    """One screen as an SVG file."""
    app = FlowdeckApp(Host(flight, None, TestClock()))
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        for key in keys:
            await pilot.press(key)
        await pilot.pause()
        app.flight.refresh_board()
        await pilot.pause()
        out.mkdir(exist_ok=True)
        drawing = _BUTTONS.sub("", app.export_screenshot(title="flowdeck"))
        (out / f"{name}.svg").write_text(drawing, encoding="utf-8")


async def main(out: Path = OUT) -> None:
    preparing = flown_until("clean", lambda f: f.now > 60_000)
    final = flown_until("clean", lambda f: _reading(f, "landing-gear"))
    slips = flown_until("slips", lambda f: any(d.slip is Slip.CONTINUED_PAST_GATE for d in f.session.deviations))
    await draw("preparing", preparing, (110, 32), "e", out=out)
    await draw("final", final, (110, 32), out=out)
    await draw("slips", slips, (110, 32), out=out)
    await draw("small", final, (80, 24), out=out)
    shutdown = flown_until("clean", lambda f: in_phase("shutdown")(f) and "engine-1-cut" in f.session.done)
    await draw("shutdown", shutdown, (110, 32), out=out)
    await draw("numbers", final, (110, 32), "n", out=out)
    await draw("path", flown_until("cold", lambda f: f.plane.distance_nm <= 8), (120, 40), "v", out=out)
    profile = profile_file(make_brief(read_arrival("skarn-fell")))
    (out / "profile.svg").write_text(f"{profile}\n", encoding="utf-8")
    done = flown("slips")
    deck, _ = read_deck("twinjet")
    layout = lay_out(deck, "checklist")
    cards = card_file(layout.cards[0].pages[:3], layout.paper)
    (out / "cards.svg").write_text(f"{cards}\n", encoding="utf-8")
    lanes = lanes_file(study(done.deck, done.scenario, done.events))
    (out / "lanes.svg").write_text(f"{lanes}\n", encoding="utf-8")


if __name__ == "__main__":
    asyncio.run(main(Path(sys.argv[1]) if len(sys.argv) > 1 else OUT))
