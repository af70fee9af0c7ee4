"""Approaches that are broken off, high and low: what is asked for then, what is not, and in which order."""

from functools import cache
from pathlib import Path

import pytest

from flowdeck.model import events as ev
from flowdeck.model.deviation import Slip, Trapper
from flowdeck.trial.report import standing_deviations
from tests.scenarios.flown import Flown, variant
from tests.support.daily import some

ROOT = Path(__file__).resolve().parents[2]
CLEAN = (ROOT / "scenarios" / "clean.yaml").read_text(encoding="utf-8")
SECOND = """happenings:
  - happening: second-four
    when: "phase == 'approach' and since('go_around') > 30 and distance_nm > 22"
    after_s: 4
    words: "Descend four thousand feet."
    sets: {cleared_altitude_ft: 4000}
  - happening: second-platform
    when: "phase == 'approach' and since('go_around') > 30 and distance_nm <= 22"
    after_s: 4
    words: "Descend two thousand five hundred feet, cleared for the approach once more."
    sets: {cleared_altitude_ft: 2500}
"""
CLIMB_HIGH = """  - happening: climb-again
    when: "phase == 'go_around'"
    after_s: 12
    words: "Climb and maintain seven thousand feet."
    sets: {cleared_altitude_ft: 7000}
"""
BROKEN_OFF = {
    "at nine thousand": ("discontinue", "altitude_ft < 9100", ""),
    "high, and cleared to climb": ("discontinue", "altitude_ft < 6400", CLIMB_HIGH),
    "level before the fix": ("discontinue", "flap_deg == 11 and distance_nm < 8 and vertical_mode == 'hold'", ""),
    "on the final path": ("go_around", "vertical_mode == 'path' and flap_deg == 11", ""),
    "with flap 19": ("go_around", "vertical_mode == 'path' and flap_deg == 19", ""),
    "with landing flap": ("go_around", "flap_deg == 31 and height_aal_ft < 800", ""),
}
FLAPS = ("retract-19", "retract-11", "retract-3", "retract-0")
SPEEDS = ("go-around-speed", "speed-flap-11", "speed-flap-3", "speed-clean")


@cache
def broken_off(name: str) -> Flown:
    slip, when, told = BROKEN_OFF[name]
    text = CLEAN.replace("solo: true", "solo: false").replace("happenings:\n", SECOND + told)
    return variant("clean", f'{text}slips:\n  - {{slip: {slip}, of: flight, when: "{when}"}}\n')


def away(result: Flown) -> list[ev.Event]:
    """The events of the phase that begins with the go-around."""
    entered = next(i for i, e in enumerate(result.events) if isinstance(e, ev.PhaseEntered) and e.phase == "go_around")
    left = next(
        i for i, e in enumerate(result.events) if i > entered and isinstance(e, ev.PhaseEntered) and e.airborne_again
    )
    return list(result.events[entered:left])


def done_in(events: list[ev.Event]) -> list[str]:
    return [event.item for event in events if isinstance(event, ev.ItemDone)]


@pytest.mark.parametrize("name", some(BROKEN_OFF, ["high, and cleared to climb", "with flap 19", "with landing flap"]))
def test_each_ends_at_its_stand_without_a_deviation(name: str) -> None:
    """The second approach is flown to its end, and a crew that forgets nothing is not blamed for anything."""
    result = broken_off(name)
    assert result.flight.session.ended == "secured"
    assert standing_deviations(result.flight.session) == ()


@pytest.mark.parametrize(
    ("name", "flaps", "speeds"),
    [
        ("at nine thousand", (), ()),
        ("high, and cleared to climb", (), ()),
        ("level before the fix", FLAPS[2:], SPEEDS[2:]),
        ("on the final path", FLAPS[2:], SPEEDS[2:]),
        ("with flap 19", FLAPS[1:], SPEEDS[1:]),
        ("with landing flap", FLAPS, SPEEDS),
    ],
)
def test_only_the_flap_that_was_out_comes_in_each_with_its_speed(
    name: str, flaps: tuple[str, ...], speeds: tuple[str, ...]
) -> None:
    """In this order; and of the other steps nothing is shown, not even as found."""
    events = away(broken_off(name))
    assert tuple(item for item in done_in(events) if item in FLAPS) == flaps
    assert tuple(item for item in done_in(events) if item in SPEEDS) == speeds
    shown = {event.item for event in events if isinstance(event, (ev.ItemFound, ev.ItemOpened))}
    assert shown & {*FLAPS, *SPEEDS} == {*flaps, *speeds}


@pytest.mark.parametrize("name", ["with flap 19", "with landing flap"])
def test_before_the_climb_is_called_nothing_is_asked_for_but_thrust_mode_and_one_step_of_flap(name: str) -> None:
    """Heading, speeds, controller and thrust back to climb come after it."""
    events = away(broken_off(name))
    called = next(i for i, e in enumerate(events) if isinstance(e, ev.ItemDone) and e.item == "positive-climb")
    before = {event.item for event in events[:called] if isinstance(event, ev.ItemOpened)}
    before -= {"thousand-to-go"}  # a call that goes by altitude, in whatever phase
    assert before <= {"go-around-thrust", "modes-read", "retract-19", "positive-climb"}
    order = done_in(events)
    assert order.index("positive-climb") < order.index("gear-up") < order.index("climb-thrust")


@pytest.mark.parametrize("name", ["with flap 19", "with landing flap", "on the final path"])
def test_the_mode_that_is_read_is_the_one_that_has_come(name: str) -> None:
    read = next(e for e in away(broken_off(name)) if isinstance(e, ev.ItemDone) and e.item == "modes-read")
    assert read.shown == "Mode go around, autopilot on"


def test_high_up_the_altitude_that_is_set_and_read_is_the_cleared_one() -> None:
    """3000 ft, the missed-approach altitude, would be a descent; a new clearance is set, read and climbed to."""
    for name, altitudes in (("at nine thousand", [9000]), ("high, and cleared to climb", [4000, 7000])):
        events = away(broken_off(name))
        read = [e.shown for e in events if isinstance(e, ev.ItemDone) and e.item == "discontinued-altitude-read"]
        assert read == [f"{altitude}, AS CLEARED" for altitude in altitudes]
        assert "go-around-altitude" not in done_in(events) and "go-around-thrust" not in done_in(events)
        assert ("climb-away" in done_in(events)) is (len(altitudes) == 2)


def test_a_wrong_altitude_is_not_confirmed_and_holds_the_descent_until_it_is_put_right() -> None:
    """The knob is turned to 6000 instead of 9000: read, corrected, confirmed, and only then the descent begins."""
    slips = (
        '  - {slip: say, of: selector, value: 6000, when: "distance_nm > 40",'
        " causes: [{class: unverified, item: selector}]}\n"
    )
    result = variant("clean", f"{CLEAN.replace('solo: true', 'solo: false')}slips:\n{slips}")
    first = done_in(list(result.events))
    steps = ("selector", "selector-corrected", "selector-confirmed", "start-descent")
    assert [item for item in first if item in steps][:4] == list(steps)
    confirmed = next(e for e in result.of(ev.ItemDone) if e.item == "selector-confirmed")
    assert confirmed.value in (None, 9000) and confirmed.shown == "9000, AS CLEARED"
    found = standing_deviations(result.flight.session)
    assert [(d.slip, d.item, d.trapped_by) for d in found] == [(Slip.UNVERIFIED, "selector", Trapper.TOOL)]


def test_a_descent_that_waits_for_the_confirmation_says_so() -> None:
    """Each time it opens it is held by a hard edge on the confirmation, not hidden until then."""
    result = variant("clean", CLEAN)
    edges = result.deck.items["start-descent"].after
    assert [edge.before for edge in edges if edge.hard] == ["selector-confirmed"]
    opened = [event.at for event in result.of(ev.ItemOpened) if event.item == "start-descent"]
    confirmed = [event.at for event in result.of(ev.ItemDone) if event.item == "selector-confirmed"]
    begun = [event.at for event in result.of(ev.ItemDone) if event.item == "start-descent"]
    assert len(opened) == len(begun) >= 2
    for shown, at in zip(opened, begun, strict=True):
        between = [moment for moment in confirmed if shown <= moment < at]
        assert len(between) == 1
