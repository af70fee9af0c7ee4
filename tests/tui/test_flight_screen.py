"""The flight screen as a pilot meets it: what one glance shows, and what each key does."""

from collections.abc import Callable
from pathlib import Path
from typing import get_args

import pytest

from flowdeck.live.host import Host
from flowdeck.live.journal import Journal
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.seats import Seat
from flowdeck.model.session import ListStatus
from flowdeck.trial.flight import Flight, take_off
from flowdeck.trial.presets import with_presets
from flowdeck.tui.keys import KEYS
from flowdeck.tui.paint import fixed_line
from tests.support.cockpit import TestClock, bundled, cockpit
from tests.support.moments import flown_until, in_phase
from tests.support.pilot import rest


def reading(line: str) -> Callable[[Flight], bool]:
    return lambda flight: flight.session.item(line).read_at is not None


def called(flight: Flight) -> bool:
    return flight.session.list("landing-list").status is ListStatus.CALLED


async def test_one_glance_at_the_start() -> None:
    """Which phase, what is next for each seat, the readings, the notice, the time: without a key pressed."""
    async with cockpit() as c:
        assert "Approach" in c.text("rail") and "Shutdown" in c.text("rail")
        assert "alt 17000" in c.text("strip") and "dist" in c.text("strip")
        assert "training and simulation only" in c.text("title") and "00:00:0" in c.text("title")
        lines = c.lines()
        assert lines[0].startswith(" Captain, flying") and "First officer, monitoring" in lines[0]
        now = lines[fixed_line(len(lines))]
        assert now.count("\u25b8") == 2  # one next item in each lane, on the same line


async def test_the_fixed_line_never_moves() -> None:
    """Whatever is done, the next item of a seat stands on the same row."""
    async with cockpit() as c:
        row = fixed_line(len(c.lines()))
        for _ in range(6):
            assert "\u25b8" in c.lines()[row]
            await c.press("f")
            if c.app.screen.id != "flight":
                await c.press("1")


async def test_each_seat_does_its_own() -> None:
    """f does the captain's line and leaves the first officer's as it is."""
    async with cockpit() as c:
        before = c.owing(Seat.FIRST_OFFICER)
        await c.press("f")
        assert "procedure-loaded" in c.session.done
        assert c.owing(Seat.FIRST_OFFICER) == before


async def test_a_value_is_chosen_or_keyed() -> None:
    """A line with a value asks for it: three choices by number, or Enter and the value."""
    async with cockpit() as c:
        await c.press("j", "j")
        assert "Weather report" in str(c.app.screen.query_one("#asked").render())
        await c.press("enter", *"1009", "enter")
        assert "weather-taken" in c.session.done
        assert c.session.deviations == ()


async def test_a_wrong_value_is_said_at_once_and_stays_as_it_was_keyed() -> None:
    """999 for 1009: a caution in the margin, and the lane keeps what was keyed, not what would have been right."""
    async with cockpit() as c:
        await c.press("j", "j", "enter", *"999", "enter")
        assert [str(d.slip) for d in c.session.deviations] == ["unverified"]
        assert "999 was keyed" in c.text("margin")
        [row] = [line for line in c.lines() if "Weather report" in line]
        assert "PRESSURE 999" in row


async def test_the_other_seat_stays_alive_while_a_value_is_asked() -> None:
    """The first officer is asked for the pressure; the captain's key works all the same."""
    async with cockpit() as c:
        await c.press("j", "j")
        assert c.app.screen.id != "flight"
        await c.press("f")
        assert "procedure-loaded" in c.session.done
        assert "weather-taken" not in c.session.done


async def test_words_that_were_said_stay_as_they_were_said() -> None:
    """A distance and height call reads at 2 NM as it was said at 5."""
    at_five = flown_until("clean", lambda f: "mile-5" in f.session.done, solo=True)
    said = at_five.session.item("mile-5").shown
    later = flown_until("clean", lambda f: f.plane.distance_nm < 2.5, solo=True)
    assert said and later.session.item("mile-5").shown == said
    async with cockpit(flight=later, size=(160, 50)) as c:
        assert any(said in line for line in c.lines())


async def test_what_waits_cannot_be_pressed_by_accident() -> None:
    """The briefing waits for the chart: the key of a seat that has nothing else says so, and does nothing."""
    async with cockpit() as c:
        for _ in range(40):
            if c.owing(Seat.CAPTAIN) is None:
                break
            await c.press("f")
            if c.app.screen.id != "flight":
                await c.press("1")
            await c.wait(2)
        before = c.session.done
        await c.press("f")
        assert c.session.done == before
        assert "waits" in c.text("hints")


async def test_the_palette_opens_and_finds_an_action() -> None:
    """ctrl+p, a word, Enter: the action is done."""
    async with cockpit() as c:
        await c.press("ctrl+p")
        await c.press(*"explain")
        await c.pilot.pause(0.3)
        await c.press("enter")
        await rest(c.pilot)
        assert c.app.flight.teach


async def test_the_list_lies_over_the_lane_of_its_reader() -> None:
    """Gear: the challenge stands large over the first officer's lane, the answer waits in the captain's."""
    flight = flown_until("clean", reading("landing-gear"), solo=True)
    async with cockpit(flight=flight) as c:
        lines = c.lines()
        [heading] = [line for line in lines if "Landing checklist   1 of 5" in line]
        assert heading.index("Landing checklist") > 50
        assert "answer" in lines[fixed_line(len(lines)) + 1][:50]


async def test_a_held_list_stays_as_a_tab_with_what_it_waits_for() -> None:
    flight = flown_until("clean", called, solo=True)
    async with cockpit(flight=flight) as c:
        await c.press("h")
        assert c.session.list("landing-list").status is ListStatus.HELD
        assert "held" in c.text("margin") and "Landing checklist" in c.text("margin")


async def test_go_on_by_h_repeats_the_last_line() -> None:
    flight = flown_until("clean", reading("landing-spoilers"), solo=True)
    async with cockpit(flight=flight) as c:
        await c.press("f")
        await c.press("h", "h")
        assert c.session.list("landing-list").reread == "landing-spoilers"


async def test_drill_shows_nothing_that_is_to_come() -> None:
    """In drill the lanes hold what was done and a prompt to pick; the pick list is in the order of the alphabet."""
    async with cockpit() as c:
        await c.press("a")
        text = "\n".join(c.lines())
        assert "Approach procedure" not in text and "pick an item" in text
        await c.press("f")
        assert "pick an item first" in c.text("hints")
        await c.pick("approach procedure", "f")
        assert "procedure-loaded" in c.session.done


async def test_withheld_prompts_stay_away_until_the_debrief() -> None:
    async with cockpit() as c:
        await c.press("w")
        await c.wait(300)
        assert c.session.deviations
        assert "late" not in c.text("margin")
        await c.press("b")
        assert "withheld" in str(c.app.screen.query("Static").first().render())


async def test_teaching_shows_why() -> None:
    async with cockpit() as c:
        await c.press("e")
        assert "The path that is briefed" in "\n".join(c.lines())


async def test_control_passes_by_three_presses() -> None:
    """x, x, x: offered, taken, confirmed; the lanes say who flies."""
    async with cockpit() as c:
        await c.press("x", "x")
        assert c.session.flying is Seat.CAPTAIN
        await c.press("x")
        assert c.session.flying is Seat.FIRST_OFFICER
        assert "First officer, flying" in c.lines()[0]


async def test_pause_stops_time_and_pace_changes_it() -> None:
    """Wall time passes at the pace that is shown; paused, it does not; a gap of a suspended terminal is not flown."""
    async with cockpit() as c:
        host = c.app.host
        await c.press("plus", "plus")
        assert "x4" in c.text("title")
        begun = host.now
        c.clock.now += 1.0
        c.app.flight.frame()
        assert host.now - begun == 4000
        await c.press("space")
        c.clock.now += 5.0
        c.app.flight.frame()
        assert host.now - begun == 4000
        assert "paused" in c.text("title")
        await c.press("space")
        c.clock.now += 3600
        c.app.flight.frame()
        assert host.now - begun <= 4000 + 4 * 2000


async def test_pace_falls_to_one_before_a_gate() -> None:
    """At x8 towards 1000 ft the pace is x1 by itself when the gate comes."""
    flight = flown_until("clean", lambda f: f.plane.distance_nm < 5.0, solo=True)
    async with cockpit(flight=flight) as c:
        await c.press("plus", "plus", "plus")
        for _ in range(90):
            c.clock.now += 1.0
            c.app.flight.frame()
            if c.session.gates:
                break
        assert "stable-1000" in c.session.gates
        assert c.session.pace == 1.0


async def test_on_to_the_next_event() -> None:
    """The dot flies on until something comes; it does not pass what is due."""
    async with cockpit() as c:
        await c.press("full_stop")
        first = c.app.host.now
        assert first > 1000
        for _ in range(8):
            await c.press("full_stop")
        assert "is due" in c.text("hints")
        assert not any(d.slip == "late" for d in c.session.deviations)


async def test_undo_is_one_key() -> None:
    async with cockpit() as c:
        await c.press("f", "u")
        assert "procedure-loaded" not in c.session.done
        assert "takes back" in c.text("hints")


async def test_an_instructor_interrupts() -> None:
    """By the same key what the scenario has in store, and what waits for a hand in any flight."""
    deck, scenario = bundled("clean")
    flight, _ = take_off(deck, with_presets(deck, scenario))
    async with cockpit(flight=flight) as c:
        await c.press("i", *"cabin call", "enter")
        assert "the galley is stowed" in c.text("margin") and c.session.interruption is not None
        await c.press("i", *"60 s later", "enter")
        assert "60 s later at the earliest" in c.text("hints")


async def test_two_challenges_then_take_over() -> None:
    """k twice with no answer: the margin says to take over; X does it."""
    async with cockpit() as c:
        for _ in range(2):
            await c.press("k", *"officer challenges: speed", "enter")
            await c.wait(6)
        assert "take over" in c.text("margin")
        await c.press("X")
        assert c.session.flying is Seat.FIRST_OFFICER


async def test_an_answered_challenge_is_quiet() -> None:
    async with cockpit() as c:
        await c.press("k", *"speed", "enter", "l")
        assert c.session.challenge is None


async def test_a_fact_is_told() -> None:
    flight = flown_until("clean", lambda f: f.plane.distance_nm < 3, solo=True)
    async with cockpit(flight=flight) as c:
        await c.press("t", *"in sight", "enter")
        assert c.session.facts["visual"] is True


@pytest.mark.parametrize("size", [(80, 24), (100, 30), (200, 60)])
async def test_sizes(size: tuple[int, int]) -> None:
    """From 80x24 to 200x60 every line fits, and both next items are seen."""
    flight = flown_until("clean", reading("landing-gear"), solo=True)
    async with cockpit(flight=flight, size=size) as c:
        lines = c.lines()
        assert all(len(line) == size[0] for line in lines)
        now = lines[fixed_line(len(lines))]
        assert "Gear" in now[: size[0] // 2] and "\u25b8" in now[size[0] // 2 :]
        assert "[f]" in c.text("hints") and "[j]" in c.text("hints")


async def test_resizing_keeps_the_flight() -> None:
    async with cockpit() as c:
        await c.press("f")
        await c.pilot.resize_terminal(80, 24)
        await rest(c.pilot)
        assert all(len(line) == 80 for line in c.lines())
        assert "procedure-loaded" in c.session.done


async def test_one_changed_row_repaints_one_row() -> None:
    """A frame in which only the distance moves touches few rows of the lanes, not all of them."""
    async with cockpit() as c:
        lanes = c.app.flight.query_one("#lanes")
        before = lanes.repainted  # type: ignore[attr-defined]
        await c.wait(4)
        assert 0 < lanes.repainted - before <= 4  # type: ignore[attr-defined]


async def test_keys_are_remappable() -> None:
    """With `captain: z`, z is the captain and f is nobody."""
    async with cockpit(mapped={"captain": "z"}) as c:
        await c.press("f")
        assert "procedure-loaded" not in c.session.done
        await c.press("z")
        assert "procedure-loaded" in c.session.done


async def test_quit_asks_first() -> None:
    async with cockpit() as c:
        await c.press("q")
        assert c.app.screen.id == "confirm"
        await c.press("n")
        assert c.app.screen.id == "flight"
        await c.press("q", "y")
        assert not c.app.is_running or c.app._exit


async def test_trouble_with_the_journal_stands_in_the_title(tmp_path: Path) -> None:
    deck, scenario = bundled("clean")
    journal = Journal.create(str(tmp_path / "a.journal"), deck, scenario, solo=True)
    async with cockpit(journal=journal) as c:
        journal.trouble = "nothing is being saved: No space left on device"
        c.app.flight.refresh_board()
        await rest(c.pilot)
        assert "nothing is being saved" in c.text("title")
    journal.close()


async def test_an_action_is_on_disk_when_the_screen_shows_it(tmp_path: Path) -> None:
    deck, scenario = bundled("clean")
    path = tmp_path / "a.journal"
    journal = Journal.create(str(path), deck, scenario, solo=True)
    async with cockpit(journal=journal) as c:
        await c.press("f")
        assert '"type":"ItemDone"' in path.read_text(encoding="utf-8")
    journal.close()


async def test_help_names_every_key() -> None:
    async with cockpit() as c:
        await c.press("question_mark")
        page = str(c.app.screen.query("Static").first().render())
        for action in KEYS:
            assert action.title in page


async def test_the_palette_has_every_action() -> None:
    async with cockpit() as c:
        titles = [command.title for command in c.app.get_system_commands(c.app.screen)]
        for action in KEYS:
            assert any(title.startswith(action.title) for title in titles)


def test_every_input_has_a_key() -> None:
    """Whatever a person may say to the engine can be said from the keyboard."""
    sent = {kind for action in KEYS for kind in action.sends}
    assert sent == set(get_args(inp.Input)) - {inp.Sample, inp.Tick}


async def test_every_action_can_be_pressed_at_any_time() -> None:
    """All keys, in three phases, one after the other: no key ever fails."""
    for phase in ("approach", "taxi_in", "shutdown"):
        flight = flown_until("clean", in_phase(phase), solo=True)
        async with cockpit(flight=flight) as c:
            for action in KEYS:
                if action.name == "quit":
                    continue
                await c.press(action.key)
                while c.app.screen.id != "flight":
                    await c.press("escape")
            assert c.app.is_running


async def test_the_host_goes_on_when_a_flight_has_ended() -> None:
    """After the end, time and keys change nothing and nothing fails."""
    deck, scenario = bundled("clean")
    flight, _ = take_off(deck, scenario)
    host = Host(flight, None, TestClock())
    host.flight = flown_until("clean", lambda f: bool(f.session.ended))
    events = host.fly_on(10_000)
    assert events == ()
    assert [type(e) for e in host.send(inp.Undo(at=host.now, seat=Seat.CAPTAIN))] == [ev.Refused]
