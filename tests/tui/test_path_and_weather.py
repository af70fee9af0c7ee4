"""The path under the lanes, and new weather typed in."""

from flowdeck.tui.widgets.path import PathPane
from tests.support.cockpit import cockpit
from tests.support.moments import done, flown_until


async def test_v_shows_the_path_under_the_lanes_and_hides_it() -> None:
    async with cockpit("clean", size=(110, 36)) as c:
        pane, lanes = c.app.flight.query_one(PathPane), c.app.flight.query_one("#lanes")
        before = lanes.size.height
        await c.press("v")
        await c.wait(5)
        assert pane.display
        assert lanes.size.height == before - pane.outer_size.height
        assert any("NM" in pane.render_line(y).text for y in range(pane.size.height))
        await c.press("v")
        assert not pane.display
        assert lanes.size.height == before


async def test_on_a_small_terminal_v_opens_the_page() -> None:
    async with cockpit("clean", size=(80, 24)) as c:
        await c.press("v")
        assert c.app.screen.id == "page"
        await c.press("escape")
        assert not c.app.flight.query_one(PathPane).display


async def test_what_was_flown_is_drawn_as_it_was_shown() -> None:
    """On a wrong setting the altimeter's way, not the aeroplane's."""
    async with cockpit("wrong-pressure", size=(110, 36)) as c:
        await c.press("v")
        await c.wait(120)
        flight = c.app.host.flight
        assert c.app.host.flown[-1][1] == flight.readings.values["altitude_ft"]
        assert c.app.host.flown[-1][1] != flight.plane.altitude_ft


async def test_new_weather_is_typed_and_said_in_the_margin() -> None:
    async with cockpit(flight=flown_until("clean", done("approach-list")), size=(120, 36)) as c:
        await c.press("W", *"METAR XQTH 041850Z 07018G30KT 6000 13/11 Q1009", "enter")
        assert c.app.screen.id == "flight"
        margin = c.text("margin")
        assert "plan" in margin
        assert "approach speed 136 \u2192 151" in margin
        assert not c.session.item("speeds-agreed").is_done


async def test_what_is_no_report_is_said_and_changes_nothing() -> None:
    async with cockpit("clean") as c:
        await c.press("W", *"rain", "enter")
        assert "begins with METAR" in c.text("hints")
        assert c.session.revision is None
        await c.press("W", "escape")
        assert c.app.screen.id == "flight"


async def test_without_an_arrival_there_is_nothing_to_work_out() -> None:
    async with cockpit("icing") as c:
        await c.press("W")
        assert c.app.screen.id == "flight"
        assert "no arrival" in c.text("hints")


async def test_the_page_of_numbers_has_path_figures_and_plan() -> None:
    async with cockpit(flight=flown_until("cold", lambda f: f.plane.distance_nm <= 8)) as c:
        await c.press("n")
        text = str(c.app.screen.query_one("Static").render())
        assert "Vertical path, last 16 NM" in text
        assert "above flap minimum" in text
        assert "1870 ft" in text
        assert "Cold: -25 C" in text
