"""What a pilot can put right from the keyboard, and what stands on the lines while it is not right."""

import pytest
from rich.style import Style

from flowdeck.engine.owed import Duty
from flowdeck.model.seats import Seat
from flowdeck.trial.flight import Flight
from flowdeck.tui.look import PASSED, SHAPES, WARNING
from flowdeck.tui.paint import fixed_line
from flowdeck.view.choosing import pickable
from flowdeck.view.lanes import Row
from flowdeck.view.vantage import BOTH_SEATS
from flowdeck.view.words import by_number
from tests.support.cockpit import Cockpit, cockpit
from tests.support.moments import flown_until
from tests.support.pilot import rest


def said(c: Cockpit) -> str:
    return str(c.app.screen.query_one("#how").render())


async def test_a_letter_is_no_pressure() -> None:
    """The question stays open and says what is expected; a number closes it."""
    async with cockpit() as c:
        await c.press("j", "j", "enter", "f", "enter")
        assert c.app.screen.id != "flight"
        assert said(c) == "Expected a number from 850 to 1100 hPa, 'f' was keyed"
        assert c.app.screen.query_one("#how").size.height == 2  # it is wrapped, not cut
        assert "weather-taken" not in c.session.done and c.session.deviations == ()
        await c.press("backspace", *"1009", "enter")
        assert c.app.screen.id == "flight"
        assert "weather-taken" in c.session.done and c.session.deviations == ()


@pytest.mark.parametrize("keyed", ["849", "1101", "nan", "-1009", "10o9"])
async def test_what_the_gauge_cannot_show_is_no_pressure(keyed: str) -> None:
    async with cockpit() as c:
        await c.press("j", "j", "enter", *keyed, "enter")
        assert "weather-taken" not in c.session.done
        assert c.app.screen.id != "flight" and "850 to 1100 hPa" in said(c)


async def test_a_wrong_value_is_put_right_by_picking_it_again() -> None:
    """999 keyed, other things done, then picked again and 1009 keyed: nothing was repeated, and the slip is caught."""
    async with cockpit() as c:
        await c.press("j", "j", "enter", *"999", "enter")
        await c.press("f")
        await c.pick("Weather report", "j")
        await c.press("enter", *"1009", "enter")
        assert [str(d.slip) for d in c.session.deviations] == ["unverified"]
        assert c.session.deviations[0].trapped_by is not None
        assert c.session.item("weather-taken").value == 1009.0


def style_at(c: Cockpit, y: int, x: int) -> Style:
    lanes = c.app.flight.query_one("#lanes")
    at = 0
    for segment in lanes.render_line(y):
        at += segment.cell_length
        if at > x:
            return segment.style or Style()
    raise AssertionError("no such cell")


def failed_gate(flight: Flight) -> bool:
    gate = flight.session.gates.get("stable-1000")
    return gate is not None and gate.status == "failed"


async def test_a_failed_gate_puts_go_around_on_both_lines_as_a_warning() -> None:
    """The flying pilot goes around, the other one says it; the key of the go-around stands under it."""
    flight = flown_until("go-around", failed_gate, solo=True)
    async with cockpit(flight=flight, size=(120, 36), mapped={"go_around": "y"}) as c:
        lines = c.lines()
        row = fixed_line(len(lines))
        mark = SHAPES[Row.WARNING]
        assert lines[row].count(mark) == 2
        assert "Go around" in lines[row][:60] and 'Say: "Go around"' in lines[row][60:]
        assert "not met: Stabilised at" in lines[row]
        assert lines[row + 1].count("now, or by [y]") == 2
        assert style_at(c, row, 4).reverse is True and style_at(c, row, 4).color == WARNING.color
        assert c.owing(Seat.CAPTAIN) == (Duty.GO_AROUND, "stable-1000")


@pytest.mark.parametrize("key", ["f", "j", "g"])
async def test_either_seats_key_goes_around_then(key: str) -> None:
    flight = flown_until("go-around", failed_gate, solo=True)
    async with cockpit(flight=flight) as c:
        await c.press(key)
        assert c.session.phase == "go_around"
        assert not any(d.slip == "continued_past_gate" for d in c.session.deviations)


async def test_gone_past_it_the_keys_are_for_the_landing_again() -> None:
    """The go-around is still shown, marked as gone past; no seat's key makes it, and g still does."""
    flight = flown_until("go-around", failed_gate, solo=True)
    async with cockpit(flight=flight, size=(120, 36)) as c:
        await c.wait(9)
        assert any(d.slip == "continued_past_gate" for d in c.session.deviations)
        lines = c.lines()
        row = fixed_line(len(lines))
        assert SHAPES[Row.WARNING] not in lines[row]
        assert any("Go around" in line and "gone past" in line for line in lines[row + 1 :])
        await c.press("f")
        await c.press("j")
        assert c.session.phase == "approach"
        await c.press("g")
        assert c.session.phase == "go_around"


async def test_a_line_passed_over_has_its_own_mark_and_is_offered_again() -> None:
    """s passes over the first line: a mark and a count while the list is open, and its reading at the end."""
    flight = flown_until("clean", lambda f: f.session.list("approach-list").status == "called", solo=True)
    async with cockpit(flight=flight, size=(120, 40)) as c:
        lines = c.deck.checklists["approach-list"].lines
        await c.press("s")
        assert c.session.item(lines[0]).skipped
        text = "\n".join(c.lines())
        first = c.deck.items[lines[0]].do
        assert f"{PASSED} 1 passed over" in text and f"{PASSED} {first}: passed over" in text
        await c.press("s")
        assert f"{PASSED} 2 passed over" in "\n".join(c.lines())
        for _ in lines[2:]:
            await c.press("s")
        text = "\n".join(c.lines())
        assert f"passed over: {first}." in text
        reader = c.app.flight.desk.reader("approach-list")
        assert c.owing(reader) == (Duty.READ, lines[0])
        await c.press("f" if reader is Seat.CAPTAIN else "j")
        assert c.session.item(lines[0]).read_at is not None and not c.session.item(lines[0]).skipped


async def test_the_pick_list_shows_readings_and_sorts_numbers_as_numbers() -> None:
    async with cockpit() as c:
        rows = [text for _, text in pickable(c.app.flight.desk.work(), BOTH_SEATS)]
        assert rows and not any("{" in row for row in rows)
        flaps = [row.split(",")[0] for row in rows if row.startswith("Flap ")]
        assert flaps == ["Flap 3", "Flap 11", "Flap 19", "Flap 31"]
        assert any(row.startswith("Landing mass") and "kg" in row for row in rows)


def test_numbers_in_words_sort_as_numbers() -> None:
    words = ["flap 31", "Flap 3", "flap 2.5", "flap 11", "\u00b2", "3 miles", "miles"]
    assert sorted(words, key=by_number) == ["3 miles", "flap 2.5", "Flap 3", "flap 11", "flap 31", "miles", "\u00b2"]


@pytest.mark.parametrize("size", [(20, 5), (39, 24), (80, 9)])
async def test_a_terminal_that_is_too_small_says_so_and_what_it_needs(size: tuple[int, int]) -> None:
    async with cockpit(size=size) as c:
        assert "needs 40 x 10" in c.text("title") and "too small" in c.text("rail")
        assert c.text("margin") == "" and c.text("hints") == ""


async def test_made_larger_it_shows_the_flight_again() -> None:
    async with cockpit(size=(20, 5)) as c:
        await c.pilot.resize_terminal(80, 24)
        await rest(c.pilot)
        assert "training and simulation only" in c.text("title") and "Approach" in c.text("rail")
        assert "\u25b8" in c.lines()[fixed_line(len(c.lines()))]


async def test_vertical_speed_is_on_a_small_screen_in_the_descent() -> None:
    flight = flown_until("clean", lambda f: f.readings.values["vertical_speed_fpm"] < -500, solo=True)  # type: ignore[operator]  # a number in flight
    async with cockpit(flight=flight, size=(80, 24)) as c:
        assert [name for name in ("alt", "ias", "dist", "v/s") if name not in c.text("strip")] == []


async def test_going_away_the_distance_says_so() -> None:
    """After the go-around the figure of the spine grows: it is said as so far out, also on a small screen."""
    flight = flown_until("go-around", lambda f: f.session.phase == "go_around", solo=True)
    async with cockpit(flight=flight, size=(80, 24)) as c:
        await c.wait(20)
        assert " out" in c.lines()[fixed_line(len(c.lines()))]
        row = c.lines()[fixed_line(len(c.lines()))]
        assert "NM" not in row.split(" out")[0][-6:]


async def test_a_step_that_finds_nothing_says_so() -> None:
    """Paused, nothing comes: no `0 s on`."""
    async with cockpit() as c:
        await c.press("space", "full_stop")
        assert "nothing is to come" in c.text("hints")


async def test_ctrl_z_goes_to_the_shell() -> None:
    """The key by which a terminal stops a program is not lost on the way."""
    async with cockpit() as c:
        bound = {b.action for b in c.app._bindings.key_to_bindings["ctrl+z"]}
        assert bound == {"suspend_process"}
