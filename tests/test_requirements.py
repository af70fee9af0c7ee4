"""Each requirement of the trade (R1 to R54) and the tests that hold it; the table itself is checked."""

import ast
from functools import lru_cache
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent

LISTS, FLIGHT, SLIPS = "engine/test_lists.py", "engine/test_flight.py", "engine/test_slips.py"
PROPERTIES, MACHINE = "engine/test_properties.py", "engine/test_machine.py"
SCREEN, BOARD = "tui/test_flight_screen.py", "view/test_board.py"
REFUSED = "phasefile/test_corpus.py::test_what_is_said_of_a_broken_file"
VETTED = "vet/test_pairs.py::test_what_a_rule_says"
JOURNAL, CLI, LOOK = "live/test_journal.py", "test_cli.py", "tui/test_look.py"

HELD_BY: dict[int, str] = {
    1: f"{LISTS}::test_a_check_never_sets_a_state",
    2: REFUSED,
    3: f"{SLIPS}::test_read_do",
    4: f"{LISTS}::test_one_current_line",
    5: f"{LISTS}::test_list_is_open_until_the_reader_says_complete",
    6: f"{LISTS}::test_due_prompts_the_other_pilot",
    7: f"{SLIPS}::test_wrong_time",
    8: f"{SLIPS}::test_nonstandard_response",
    9: f"{SLIPS}::test_rote",
    10: f"{LISTS}::test_a_line_for_both_needs_two_seats",
    11: f"{SLIPS}::test_chunked",
    12: f"{SLIPS}::test_no_completion",
    13: f"{LISTS}::test_resuming_repeats_the_last_line_done",
    14: f"{LISTS}::test_an_interruption_stops_the_list_at_its_line",
    15: "live/test_kills.py::test_killed_at_random_moments",
    16: f"{LISTS}::test_long_hold_offers_the_top",
    17: f"{FLIGHT}::test_no_deferral_without_a_cue",
    18: f"{LISTS}::test_completion_names_what_is_deferred",
    19: f"{BOARD}::test_skipped_lines_and_held_lists_stay_visible",
    20: f"{SLIPS}::test_gate_failed",
    21: f"{FLIGHT}::test_two_challenges_unanswered_offer_to_take_over",
    22: f"{FLIGHT}::test_control_passes_in_three_parts_and_is_never_nobodys",
    23: f"{SLIPS}::test_call_missed",
    24: f"{SLIPS}::test_call_prompted",
    25: VETTED,
    26: VETTED,
    27: f"{SLIPS}::test_flow_order",
    28: f"{PROPERTIES}::test_any_interleaving_of_two_correct_seats_breaks_no_order",
    29: REFUSED,
    30: VETTED,
    31: VETTED,
    32: f"{BOARD}::test_sterile_holds_advice_back_and_counts_it",
    33: f"{BOARD}::test_a_safety_report_is_shown_in_the_sterile_period",
    34: f"{BOARD}::test_the_datum_of_the_sterile_period_is_the_decks",
    35: "later",
    36: f"{SLIPS}::test_wrong_time",
    37: f"{MACHINE}::test_go_around_from_every_airborne_phase_until_committed",
    38: f"{FLIGHT}::test_a_second_approach_inherits_nothing_that_does_not_survive",
    39: "later",
    40: "later",
    41: f"{PROPERTIES}::test_nothing_is_lost_and_somebody_always_flies",
    42: f"{LOOK}::test_red_and_amber_only_for_warnings_and_cautions",
    43: f"{FLIGHT}::test_flicker_around_a_limit_prompts_once",
    44: f"{SCREEN}::test_every_input_has_a_key",
    45: f"{SLIPS}::test_from_memory",
    46: f"{SLIPS}::test_unverified_without_pointing",
    47: f"{FLIGHT}::test_either_seat_may_go_around_from_every_airborne_phase",
    48: "later",
    49: f"{CLI}::test_rehearse_in_words",
    50: f"{CLI}::test_help_has_an_example_and_the_notice",
    51: f"{FLIGHT}::test_flicker_around_a_limit_prompts_once",
    52: f"{SLIPS}::test_rote",
    53: f"{LISTS}::test_undo_takes_back_an_answer_and_says_so",
    54: f"{FLIGHT}::test_a_signal_closes_an_item_without_a_seat",
}
MAY_WAIT = {33, 35, 39, 40, 48}


@lru_cache
def _tests_in(file: str) -> frozenset[str]:
    tree = ast.parse((ROOT / file).read_text(encoding="utf-8"))
    kinds = (ast.FunctionDef, ast.AsyncFunctionDef)
    return frozenset(node.name for node in tree.body if isinstance(node, kinds) and _asserts(node))


def _asserts(node: ast.AST) -> bool:
    """Whether a test checks something: an assert, or an expected exception."""
    return any(
        isinstance(part, ast.Assert) or (isinstance(part, ast.Attribute) and part.attr == "raises")
        for part in ast.walk(node)
    )


@pytest.mark.parametrize("number", range(1, 55))
def test_each_requirement_has_its_test(number: int) -> None:
    held_by = HELD_BY[number]
    if held_by == "later":
        assert number in MAY_WAIT
        return
    file, _, name = held_by.partition("::")
    assert name in _tests_in(file), f"R{number}: {held_by}"
