"""Draws the pictures of the README from flights of the bundled scenarios: `make pictures`."""

import asyncio
import re
import sys
from pathlib import Path

from flowdeck.arrival.brief import make_brief
from flowdeck.card.layout import lay_out
from flowdeck.crew.pilot import Pilot
from flowdeck.debrief.study import study
from flowdeck.live.bundled import read_arrival, read_deck, read_lapses
from flowdeck.live.host import Host
from flowdeck.live.seated import Seated
from flowdeck.model import inputs as inp
from flowdeck.model.deviation import Slip
from flowdeck.model.seats import Seat
from flowdeck.trial.flight import Flight
from flowdeck.tui.app import FlowdeckApp
from flowdeck.view.brief.profile import standalone_svg as profile_file
from flowdeck.view.card.svg import standalone_svg as card_file
from flowdeck.view.debrief.lanes import standalone_svg as lanes_file
from flowdeck.wire.link.stations import Station
from tests.scenarios.flown import flown
from tests.support.cockpit import TestClock, bundled
from tests.support.crewed import Hosted, host_of
from tests.support.moments import flown_until, in_phase
from tests.support.played import flown_with

_BUTTONS = re.compile(r"<circle [^>]*/>")
"""The drawing's window buttons, in colours that mean something else on this screen."""
OUT = Path(__file__).resolve().parent.parent / "pictures"


def _reading(flight: Flight, line: str) -> bool:
    return flight.session.item(line).read_at is not None


async def draw(name: str, flight: Flight, size: tuple[int, int], *keys: str, out: Path = OUT) -> None:
    """One screen of one person in both seats as an SVG file."""
    await draw_screen(name, FlowdeckApp(Host(flight, None, TestClock())), size, *keys, out=out)


async def draw_screen(name: str, app: FlowdeckApp, size: tuple[int, int], *keys: str, out: Path) -> None:
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


async def draw_seat(out: Path) -> None:
    """A captain beside a played first officer who lets much slip, about to speak up."""
    pilot = Pilot(seat=Seat.FIRST_OFFICER, seed=3, lapses=read_lapses("heavy"))
    done = flown_with("clean", pilot, Pilot(seat=Seat.CAPTAIN, seed=103), limit_s=960)
    host = Host(done.flight, None, TestClock(), past=done.events, pilots=(pilot,))
    await draw_screen("seat", FlowdeckApp(Seated(host)), (110, 32), out=out)


async def draw_before(out: Path) -> None:
    """The page before a flight on three terminals, as the captain sees it."""
    clock = TestClock()
    here = Hosted(host_of(*bundled("clean"), None, clock, solo=False), clock)
    await here.serve()
    here.host.send(inp.Pause(at=0))
    here.server.turn()
    for station in (Station.FIRST_OFFICER, Station.INSTRUCTOR, Station.CAPTAIN):
        link = await here.guest(station)
    await draw_screen("before", FlowdeckApp(link), (110, 32), out=out)
    await here.leave()


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
    await draw_seat(out)
    await draw_before(out)
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
