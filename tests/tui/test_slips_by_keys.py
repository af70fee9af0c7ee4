"""Each slip that a person can make is made at the keys of the screen, and shows in the margin.

`rote` and `chunked` are not judged with one person in both seats; `tests/engine/test_slips.py` raises them.
"""

from collections.abc import Awaitable, Callable

import pytest

from flowdeck.model.deviation import Slip
from flowdeck.trial.flight import take_off
from tests.support.cockpit import Cockpit, cockpit
from tests.support.small import small_deck, small_scenario


async def prepared(c: Cockpit) -> None:
    """Briefing, speed and aids, rightly."""
    await c.press("f", "j", "f")
    await choose(c, "150")
    await c.wait(2)
    await c.press("j", "j")


async def choose(c: Cockpit, text: str) -> None:
    """Choose a value by its number on the screen."""
    question = c.app.screen._question  # type: ignore[attr-defined]  # the open question
    index = next(i for i, choice in enumerate(question.choices, start=1) if choice.text == text)
    await c.press(str(index))


async def near(c: Cockpit, distance_nm: float) -> None:
    await c.until(lambda flight: flight.plane.distance_nm <= distance_nm)


async def configured(c: Cockpit) -> None:
    await prepared(c)
    await near(c, 9.8)
    await c.pick("gear", "j")
    await c.wait(8)
    await c.pick("flap", "j")
    await c.wait(8)


async def list_called(c: Cockpit) -> None:
    await near(c, 7.9)
    await c.press("c", "enter")


async def omitted(c: Cockpit) -> None:
    """A line is passed over, and the list is called complete."""
    await configured(c)
    await list_called(c)
    await c.press("s", "j", "f")
    await choose(c, "1013")
    await c.press("j")
    await choose(c, "1013")
    await c.press("j", "f", "m")


async def late(c: Cockpit) -> None:
    await c.wait(62)


async def early(c: Cockpit) -> None:
    await c.pick("gear", "j")


async def out_of_order(c: Cockpit) -> None:
    await prepared(c)
    await near(c, 9.8)
    await c.pick("flap", "j")


async def flow_order(c: Cockpit) -> None:
    await c.press("f", "j", "slash", *"aids", "enter", "p", "j")


async def repeated(c: Cockpit) -> None:
    await prepared(c)
    await c.pick("aids", "j")


async def wrong_seat(c: Cockpit) -> None:
    await c.pick("aids", "f")


async def unverified(c: Cockpit) -> None:
    """The aids are ticked without pointing at them."""
    await c.pick("aids", "j")


async def read_do(c: Cockpit) -> None:
    await prepared(c)
    await list_called(c)
    await c.press("r")
    await c.pick("gear down", "j")


async def from_memory(c: Cockpit) -> None:
    await configured(c)
    await list_called(c)
    await c.press("j", "f", "m")


async def nonstandard(c: Cockpit) -> None:
    """'set' is keyed where a value is asked for."""
    await configured(c)
    await list_called(c)
    await c.press("j", "f", "j", "f", "enter", *"set", "enter")


async def not_called(c: Cockpit) -> None:
    await configured(c)
    await near(c, 3.9)


async def wrong_time(c: Cockpit) -> None:
    await c.press("c", "enter")


async def no_completion(c: Cockpit) -> None:
    await configured(c)
    await list_called(c)
    await c.press("j", "f", "j", "f")
    await choose(c, "1013")
    await c.press("j")
    await choose(c, "1013")
    await c.press("j", "f")
    await c.wait(25)


async def descending(c: Cockpit) -> None:
    """A descent to 1900 ft begins: the call before level-off is owed."""
    await prepared(c)
    plane = c.app.host.flight.plane
    plane.controls.update({"selected_altitude_ft": 1900.0, "vertical_mode": "descend"})
    await c.wait(3)


async def call_missed(c: Cockpit) -> None:
    await descending(c)
    await c.wait(22)


async def call_late(c: Cockpit) -> None:
    await descending(c)
    await c.wait(9)
    await c.pick("thousand", "j")


async def call_prompted(c: Cockpit) -> None:
    await descending(c)
    await c.wait(5)
    await c.pick("thousand", "j")


async def to_the_gate(c: Cockpit) -> None:
    await prepared(c)
    plane = c.app.host.flight.plane
    plane.controls.update({"vertical_mode": "path", "selected_altitude_ft": 5000.0})
    await c.until(lambda flight: bool(flight.session.gates))


async def continued(c: Cockpit) -> None:
    await to_the_gate(c)
    await c.wait(8)


async def standing_missed(c: Cockpit) -> None:
    await prepared(c)
    await near(c, 11.6)


async def standing_left_on(c: Cockpit) -> None:
    await prepared(c)
    await near(c, 13.3)
    await c.pick("anti-ice on", "j")
    await near(c, 11.4)
    await c.wait(165)


async def deferred_lost(c: Cockpit) -> None:
    """The speed is put off by d until on the ground; it comes back there, and nobody does it."""
    await c.press("d", *"speed", "enter")
    deferred = c.session.items["speed"]
    assert deferred.cue == "on-ground"
    plane = c.app.host.flight.plane
    plane.controls.update({"vertical_mode": "path", "selected_altitude_ft": 5000.0})
    await c.until(lambda flight: flight.plane.on_ground, step_s=5)
    await c.wait(65)


MADE: dict[Slip, Callable[[Cockpit], Awaitable[None]]] = {
    Slip.OMITTED: omitted,
    Slip.LATE: late,
    Slip.EARLY: early,
    Slip.OUT_OF_ORDER: out_of_order,
    Slip.FLOW_ORDER: flow_order,
    Slip.REPEATED: repeated,
    Slip.WRONG_SEAT: wrong_seat,
    Slip.UNVERIFIED: unverified,
    Slip.READ_DO: read_do,
    Slip.FROM_MEMORY: from_memory,
    Slip.NONSTANDARD_RESPONSE: nonstandard,
    Slip.NOT_CALLED: not_called,
    Slip.WRONG_TIME: wrong_time,
    Slip.NO_COMPLETION: no_completion,
    Slip.CALL_MISSED: call_missed,
    Slip.CALL_LATE: call_late,
    Slip.CALL_PROMPTED: call_prompted,
    Slip.GATE_FAILED: to_the_gate,
    Slip.CONTINUED_PAST_GATE: continued,
    Slip.STANDING_MISSED: standing_missed,
    Slip.STANDING_LEFT_ON: standing_left_on,
    Slip.DEFERRED_LOST: deferred_lost,
}


@pytest.mark.parametrize("slip", MADE, ids=str)
async def test_a_slip_made_at_the_keys_is_seen(slip: Slip) -> None:
    """The slip is raised by key presses alone; `b` lists it by name."""
    deck = small_deck()
    flight, _ = take_off(deck, small_scenario(deck), solo=True)
    async with cockpit(flight=flight) as c:
        await MADE[slip](c)
        raised = {d.slip for d in c.session.deviations}
        assert slip in raised, sorted(raised)
        await c.press("b")
        page = str(c.app.screen.query("Static").first().render())
        assert slip.replace("_", " ") in page


def test_what_is_not_made_here_is_what_one_person_cannot_make() -> None:
    assert set(Slip) - set(MADE) == {Slip.ROTE, Slip.CHUNKED}
