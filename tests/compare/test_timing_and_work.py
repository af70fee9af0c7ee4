"""What changes do to windows, to the work of each seat, and to the reading of lists."""

import pytest

from flowdeck.compare.change import Tendency
from flowdeck.compare.comparison import compare
from flowdeck.compare.timing import Window
from flowdeck.compare.workload import Load, Work
from flowdeck.model.seats import Owner
from tests.compare.edits import EDITS, edited
from tests.support.small import APPROACH, GROUND, LANDING, small_deck

SMALL = small_deck()
E, L, W, N = Tendency.EARLIER, Tendency.LATER, Tendency.WIDER, Tendency.NARROWER
LIST = "landing-list"


def windows(*swaps: tuple[str, str]) -> tuple[Window, ...]:
    text = APPROACH
    for old, new in swaps:
        assert old in text
        text = text.replace(old, new)
    return compare(SMALL, small_deck(approach=text)).windows


OPENS, LATE, DUE = '"distance_nm <= 8"', '"distance_nm <= 4"', '"distance_nm <= 6"'
COMPLETE = '    complete_by: "height_aal_ft <= 900"\n'


@pytest.mark.parametrize(
    ("swaps", "whole"),
    [
        ([(OPENS, '"distance_nm <= 9"')], W),
        ([(OPENS, '"distance_nm <= 7"')], N),
        ([(LATE, '"distance_nm <= 3"')], W),
        ([(LATE, '"distance_nm <= 5"')], N),
        ([(OPENS, '"distance_nm <= 9"'), (LATE, '"distance_nm <= 3"')], W),
        ([(OPENS, '"distance_nm <= 9"'), (LATE, '"distance_nm <= 5"')], None),
        ([(OPENS, '"distance_nm <= 9"'), (LATE, '"distance_nm <= 5"'), (COMPLETE, "")], None),
        ([(DUE, '"distance_nm <= 7"')], None),
        ([(OPENS, '"height_aal_ft <= 2000"')], None),
        ([(COMPLETE, "")], None),
    ],
)
def test_the_window_of_a_list(swaps: list[tuple[str, str]], whole: Tendency | None) -> None:
    """Both ends known: a word for the whole; one that is not known, or gone: none."""
    [window] = windows(*swaps)
    assert window.whole == whole
    assert [spot.id for _, spot in window.things] == [LIST]


def test_a_window_that_moves_as_a_whole() -> None:
    """Seconds from the opening move with it, and it is said of the limit that is written as before."""
    [window] = windows(("held(not in_cloud, 60)", "held(not in_cloud, 90)"))
    assert window.whole is L
    assert [(b.aspect, b.same, b.tendency) for b in window.bounds] == [("opens", False, L), ("late", True, L)]


def test_a_window_whose_opening_is_not_known_to_move() -> None:
    """Neither are seconds that count from it."""
    [window] = windows(("tat_c > 12", "sat_c > 9"))
    assert window.whole is None
    assert [(b.aspect, b.same, b.tendency) for b in window.bounds] == [("opens", False, None), ("late", True, None)]


def test_items_of_a_flow_that_changed_alike_are_one_window() -> None:
    """Both open with their flow and have no other limit; with a limit of its own an item stands by itself."""
    alone = APPROACH.replace('        late: "height_aal_ft < 1500"\n', "")
    for text, things in ((alone, [["gear-down", "flap-land"]]), (APPROACH, [["gear-down"], ["flap-land"]])):
        later = text.replace('opens: "distance_nm <= 10"', 'opens: "distance_nm <= 9"')
        found = compare(small_deck(approach=text), small_deck(approach=later)).windows
        assert [[spot.id for _, spot in window.things] for window in found] == things


def test_nothing_of_time_is_no_window() -> None:
    for edit in EDITS:
        if edit.name in ("other seat", "why", "item renamed", "hard edge removed", "response"):
            new = edited(edit)
            assert new is not None and compare(SMALL, new).windows == ()


def loads(**changed: str) -> dict[tuple[str | None, Owner], tuple[Work, Work]]:
    def both(load: Load) -> tuple[Work, Work]:
        return load.before, load.after

    return {(x.new_phase, x.owner): both(x) for x in compare(SMALL, small_deck(**changed)).loads}


def test_the_work_of_the_small_deck_counted_by_hand() -> None:
    """Items by seat (a standing item twice), lines by who answers, calls and answers by who says them."""
    found = {key: before for key, (before, after) in loads().items() if before == after}
    assert found == {
        ("approach", Owner.PILOT_FLYING): Work(1, 2, 2),
        ("approach", Owner.PILOT_MONITORING): Work(6, 0, 2),
        ("approach", Owner.BOTH): Work(1, 1, 0),
        ("go_around", Owner.PILOT_FLYING): Work(1, 0, 0),
        ("landing", Owner.PILOT_FLYING): Work(1, 0, 0),
        ("landing", Owner.PILOT_MONITORING): Work(1, 0, 0),
        ("ground", Owner.CAPTAIN): Work(1, 1, 0),
        ("ground", Owner.FIRST_OFFICER): Work(2, 1, 0),
    }


def test_an_item_to_another_seat_takes_its_work_along() -> None:
    found = loads(landing=LANDING.replace("to: TOLD, by: pilot_monitoring", "to: TOLD, by: captain"))
    assert found["landing", Owner.PILOT_MONITORING] == (Work(1, 0, 0), Work(0, 0, 0))
    assert found["landing", Owner.CAPTAIN] == (Work(0, 0, 0), Work(1, 0, 0))


def test_lists_at_two_and_a_half_seconds_a_line() -> None:
    """Our proposal. A hold is no line."""
    line = "      - {line: gl-doors, challenge: Doors, respond: CLOSED, by: captain}\n"
    more = GROUND.replace("    lines:\n", f"    lines:\n{line}")
    found = {each.new: each for each in compare(SMALL, small_deck(ground=more)).lists}
    assert (found[LIST].before_s, found[LIST].after_s) == (7.5, 7.5)
    assert (found["ground-list"].before_s, found["ground-list"].after_s) == (5.0, 7.5)


def test_a_list_that_came_and_one_that_went() -> None:
    more = GROUND.replace("checklist: ground-list", "checklist: parking-list").replace("gl-", "pl-")
    more = more.replace("title: Ground checklist", "title: Parking list")
    more = more.replace("done('ground-list')", "done('parking-list')")
    lists = compare(SMALL, small_deck(ground=more)).lists
    found = [(each.old, each.new, each.lines_before, each.lines_after) for each in lists]
    assert (None, "parking-list", 0, 2) in found and ("ground-list", None, 2, 0) in found
