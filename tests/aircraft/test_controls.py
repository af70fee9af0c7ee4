"""Controls travel in their time, show what is between, and go back to where they stood."""

from msgspec.structs import replace

from flowdeck.aircraft.controls import command, take_back, travel_on
from flowdeck.aircraft.readings import show
from flowdeck.aircraft.state import Aeroplane, with_faults
from flowdeck.model.condition import Scalar
from flowdeck.model.deck import Item, ItemKind, Move
from flowdeck.model.seats import Owner
from tests.aircraft.conftest import DECK, SCENARIO, aeroplane

FLAP, GEAR, SPEED = DECK.items["flap-land"], DECK.items["gear-down"], DECK.items["speed"]
START = 10_000


def item(*moves: Move, value: str | None = None, id_: str = "test-item") -> Item:
    kind = ItemKind.ACTION
    return Item(
        id=id_, kind=kind, phases=("approach",), group="g", by=Owner.EITHER, do="Test", moves=moves, value=value
    )


def done(plane: Aeroplane, thing: Item, keyed: Scalar | None = None, at: int = START) -> Aeroplane:
    return command(plane, thing, show(plane, SCENARIO), keyed, at)


def shown(plane: Aeroplane, name: str, at: int) -> Scalar | None:
    return show(travel_on(plane, at), SCENARIO)[name]


def test_a_number_travels_in_proportion() -> None:
    """Flap from 11 to 31 in five seconds."""
    plane = done(aeroplane(), FLAP)
    readings = [shown(plane, "flap_deg", START + ms) for ms in (0, 1250, 2500, 5000, 9000)]
    assert readings == [11.0, 16.0, 21.0, 31.0, 31.0]


def test_a_word_shows_what_is_between_until_it_arrives() -> None:
    plane = done(aeroplane(), GEAR)
    assert [shown(plane, "gear", START + ms) for ms in (0, 5999, 6000)] == ["moving", "moving", "down"]


def test_a_word_without_a_between_stays_until_it_arrives() -> None:
    plane = done(aeroplane(), item(Move(signal="engine_anti_ice", to="on", in_s=2)))
    assert [shown(plane, "engine_anti_ice", START + ms) for ms in (0, 1999, 2000)] == ["off", "off", "on"]


def test_what_is_there_already_shows_nothing_between() -> None:
    plane = done(aeroplane({"gear": "down"}), GEAR)
    assert shown(plane, "gear", START + 100) == "down"


def test_several_controls_of_one_item() -> None:
    both = item(Move(signal="fd_left", to="off", in_s=1), Move(signal="fd_right", to="off", in_s=3))
    plane = done(aeroplane(), both)
    assert (shown(plane, "fd_left", START + 1000), shown(plane, "fd_right", START + 1000)) == ("off", "on")
    assert shown(plane, "fd_right", START + 3000) == "off"


def test_a_keyed_value_replaces_the_target() -> None:
    """What the pilot keys goes into the selector, right or wrong; the deck's figure otherwise."""
    later = START + 1000
    assert shown(done(aeroplane(), SPEED), "selected_speed_kt", later) == 150.0
    assert shown(done(aeroplane(), SPEED, 163.0), "selected_speed_kt", later) == 163.0
    assert shown(done(aeroplane(), SPEED, "163"), "selected_speed_kt", later) == 163.0
    assert shown(done(aeroplane(), SPEED, "fast"), "selected_speed_kt", later) == 200.0


def test_a_target_may_be_another_reading() -> None:
    """The pressure as reported; unknown, and nothing moves."""
    setting = item(Move(signal="pressure_left_hpa", same_as="pressure_reported_hpa", in_s=1))
    plane = aeroplane(around={"pressure_reported_hpa": 1002.0})
    assert shown(done(plane, setting), "pressure_left_hpa", START + 1000) == 1002.0
    lost = item(Move(signal="pressure_left_hpa", same_as="planned_minimum_ft", in_s=1))
    assert done(plane, lost) == plane


def test_a_later_action_overtakes_an_earlier_one() -> None:
    """Flap to 31, and before it is there, back to 11: from where it stands."""
    plane = travel_on(done(aeroplane(), FLAP), START + 2500)
    plane = done(plane, item(Move(signal="flap_deg", to=11.0, in_s=5)), at=START + 2500)
    assert shown(plane, "flap_deg", START + 5000) == 16.0
    assert shown(plane, "flap_deg", START + 7500) == 11.0
    assert len(plane.travels) == 1


def test_taken_back_after_it_arrived() -> None:
    plane = travel_on(done(aeroplane(), FLAP), START + 5000)
    plane = take_back(plane, FLAP, START + 10_000)
    assert [shown(plane, "flap_deg", START + 10_000 + ms) for ms in (0, 2500, 5000)] == [31.0, 21.0, 11.0]


def test_taken_back_on_its_way() -> None:
    """The gear is still moving: it turns round, and is up after its own time."""
    plane = travel_on(done(aeroplane(), GEAR), START + 3000)
    plane = take_back(plane, GEAR, START + 3000)
    assert [shown(plane, "gear", START + 3000 + ms) for ms in (0, 5999, 6000)] == ["moving", "moving", "up"]


def test_nothing_is_taken_back_to_a_state_between() -> None:
    """Gear down; up again while it moves; that taken back: it goes down, where it was bound for."""
    plane = travel_on(done(aeroplane(), GEAR), START + 2000)
    up = item(Move(signal="gear", to="up", in_s=6))
    plane = travel_on(done(plane, up, at=START + 2000), START + 3000)
    plane = take_back(plane, up, START + 3000)
    assert shown(plane, "gear", START + 3000 + 6000) == "down"


def test_taken_back_once_only_and_only_what_it_moved() -> None:
    plane = travel_on(done(done(aeroplane(), FLAP), SPEED), START + 5000)
    back = travel_on(take_back(plane, FLAP, START + 6000), START + 20_000)
    assert (back.controls["flap_deg"], back.controls["selected_speed_kt"]) == (11.0, 150.0)
    again = take_back(back, FLAP, START + 21_000)
    assert again.travels == () and again.controls == back.controls


def test_an_item_that_moves_nothing_changes_nothing() -> None:
    plane = aeroplane()
    assert done(plane, DECK.items["brief"]) == plane
    assert done(plane, item(Move(signal="tat_c", to=3.0))) == plane, "no pilot moves the weather"


def test_a_fault_beats_a_control() -> None:
    """Gear held up by a fault: the lever's work does not show, until the fault is over."""
    stuck = with_faults(done(aeroplane(), GEAR), {"gear": "up"}, None)
    arrived = travel_on(stuck, START + 6000)
    assert arrived.control("gear") == "up"
    assert show(arrived, SCENARIO)["gear"] == "up"
    assert show(replace(arrived, faults={}), SCENARIO)["gear"] == "down"


def test_a_failed_instrument_shows_nothing_and_moves_nothing() -> None:
    plane = with_faults(aeroplane(), {"flap_deg": None, "altitude_ft": None}, None)
    readings = show(plane, SCENARIO)
    assert (readings["flap_deg"], readings["altitude_ft"]) == (None, None)
    assert plane.control("flap_deg") == 11.0


def test_the_auxiliary_power_unit_takes_its_time() -> None:
    """Starting for 40 seconds, and no power from it before it runs."""
    plane = done(aeroplane(), item(Move(signal="apu_state", to="running", in_s=40)))
    before = show(travel_on(plane, START + 39_000), SCENARIO)
    then = show(travel_on(plane, START + 40_000), SCENARIO)
    assert (before["apu_state"], before["apu_power"]) == ("starting", False)
    assert (then["apu_state"], then["apu_power"]) == ("running", True)
    off = done(travel_on(plane, START + 40_000), item(Move(signal="apu_state", to="off", in_s=15)), at=START + 50_000)
    assert (shown(off, "apu_state", START + 60_000), shown(off, "apu_power", START + 60_000)) == ("stopping", False)
    assert shown(off, "apu_state", START + 65_000) == "off"
