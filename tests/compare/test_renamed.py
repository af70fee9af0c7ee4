"""When a thing with another id is still the same thing, and when nobody should guess that it is."""

import pytest

from flowdeck.compare.aspects import Aspect as A
from flowdeck.compare.aspects import Thing as T
from flowdeck.compare.comparison import compare
from tests.compare.edits import Told, told
from tests.support.small import APPROACH, DECK, GROUND, LANDING, small_deck

SMALL = small_deck()
CABIN = "{item: cabin, do: Cabin, to: TOLD, by: pilot_monitoring, why: They wait for a word.}"


def landing(item: str) -> set[Told]:
    """What is told when *item* stands in the place of the cabin's."""
    assert CABIN in LANDING
    return set(map(told, compare(SMALL, small_deck(landing=LANDING.replace(CABIN, f"{{{item}}}"))).changes))


@pytest.mark.parametrize(
    ("item", "besides"),
    [
        ("item: x, do: Cabin, to: TOLD, by: pilot_monitoring, why: They wait for a word.", set()),
        ("item: x, do: Cabin, to: TOLD, by: pilot_monitoring, why: Another reason.", {A.WHY}),
        ("item: x, do: Cabin, to: TOLD, by: captain, why: They wait for a word.", {A.BY}),
        ("item: x, do: Cabin, to: TOLD, by: captain, why: Another reason.", {A.BY, A.WHY}),
        ("item: x, do: Cabin crew, to: TOLD, by: pilot_monitoring, why: They wait for a word.", {A.DO}),
        ("item: x, do: Cabin, to: SEATED, by: pilot_monitoring, why: They wait for a word.", {A.TO}),
    ],
)
def test_renamed(item: str, besides: set[A]) -> None:
    """The same but for its id; for one field and the reason; or for its words, with the same reason."""
    assert landing(item) == {(T.ACTION, aspect, "cabin", "x") for aspect in {A.NAME, *besides}}


@pytest.mark.parametrize(
    "item",
    [
        "item: x, do: Cabin crew, to: TOLD, by: pilot_monitoring, why: Another reason.",
        "item: x, do: Cabin, to: SEATED, by: pilot_monitoring, why: Another reason.",
        "item: x, do: Cabin crew, to: SEATED, by: pilot_monitoring, why: They wait for a word.",
        "item: x, do: Cabin, to: TOLD, by: captain, critical: true, why: They wait for a word.",
        "item: x, do: Radar, to: 'OFF', by: captain, why: Rays.",
    ],
)
def test_not_renamed(item: str) -> None:
    """Other words with another reason, both words, two fields, something else: told as two things."""
    assert landing(item) == {(T.ACTION, A.WHOLE, "cabin", None), (T.ACTION, A.WHOLE, None, "x")}


def test_not_renamed_into_another_flow() -> None:
    """The same words in another flow may be another act, at another time."""
    new = small_deck(
        landing=LANDING.replace(f"      - {CABIN}\n", ""),
        ground=GROUND.replace(
            "      - item: brake\n", f"      - {CABIN.replace('cabin,', 'x,')}\n      - item: brake\n"
        ),
    )
    assert set(map(told, compare(SMALL, new).changes)) == {
        (T.ACTION, A.WHOLE, "cabin", None),
        (T.ACTION, A.WHOLE, None, "x"),
    }


def test_two_alike_are_matched_in_their_order() -> None:
    two = [CABIN.replace("item: cabin", f"item: {name}") for name in ("a", "b", "x", "y")]
    old = small_deck(landing=LANDING.replace(CABIN, f"{two[0]}\n      - {two[1]}"))
    new = small_deck(landing=LANDING.replace(CABIN, f"{two[2]}\n      - {two[3]}"))
    assert set(map(told, compare(old, new).changes)) == {(T.ACTION, A.NAME, "a", "x"), (T.ACTION, A.NAME, "b", "y")}


def test_the_likest_is_the_one() -> None:
    """Of two that could be it, the one without a difference; the other is new."""
    like, less = CABIN.replace("item: cabin", "item: x"), CABIN.replace("item: cabin", "item: y")
    new = small_deck(landing=LANDING.replace(CABIN, f"{less.replace('pilot_monitoring', 'captain')}\n      - {like}"))
    assert set(map(told, compare(SMALL, new).changes)) == {
        (T.ACTION, A.NAME, "cabin", "x"),
        (T.ACTION, A.WHOLE, None, "y"),
    }


def test_a_fact_is_renamed_with_all_that_asks_for_it() -> None:
    """Conditions that ask for it by its new name have not changed."""
    new = small_deck(
        deck=DECK.replace("  vacated: {", "  runway_left: {"), landing=LANDING.replace('"vacated"', '"runway_left"')
    )
    assert [told(change) for change in compare(SMALL, new).changes] == [(T.FACT, A.NAME, "vacated", "runway_left")]


def test_a_phase_is_renamed_with_all_that_stands_in_it() -> None:
    new = small_deck(
        landing=LANDING.replace("to: ground", "to: stand"),
        ground=GROUND.replace("phase: ground", "phase: stand").replace("since('ground')", "since('stand')"),
    )
    assert [told(change) for change in compare(SMALL, new).changes] == [(T.PHASE, A.NAME, "ground", "stand")]


def test_a_flow_with_another_id_and_title_is_known_by_its_items() -> None:
    new = small_deck(
        landing=LANDING.replace("flow: rollout\n    title: Roll-out", "flow: stopping\n    title: Stopping")
    )
    assert set(map(told, compare(SMALL, new).changes)) == {
        (T.FLOW, A.NAME, "rollout", "stopping"),
        (T.FLOW, A.TITLE, "rollout", "stopping"),
    }


UNNAMED = GROUND.replace("line: gl-brake, ", "").replace("line: gl-lever, ", "")
TOP = "      - {challenge: Doors, respond: CLOSED, by: captain}\n"
FIRST = "      - {challenge: Brake,"


def test_lines_without_names_are_known_by_what_they_say() -> None:
    """One comes in at the top: every id below it moves on, and one line is told."""
    old, new = small_deck(ground=UNNAMED), small_deck(ground=UNNAMED.replace(FIRST, TOP + FIRST))
    assert [told(change) for change in compare(old, new).changes] == [(T.LINE, A.WHOLE, None, "ground-list-1")]
    assert [told(change) for change in compare(new, old).changes] == [(T.LINE, A.WHOLE, "ground-list-1", None)]


def test_what_asks_for_a_line_without_a_name_asks_for_another_one_then() -> None:
    """`done('ground-list-1')` is written as it was and is not what it was."""
    asks = UNNAMED.replace("at: \"done('brake')\"", "at: \"done('ground-list-1')\"")
    old, new = small_deck(ground=asks), small_deck(ground=asks.replace(FIRST, TOP + FIRST))
    assert set(map(told, compare(old, new).changes)) == {
        (T.LINE, A.WHOLE, None, "ground-list-1"),
        (T.GATE, A.AT, "power", "power"),
    }


def test_a_line_without_a_name_is_reworded() -> None:
    old, new = small_deck(ground=UNNAMED), small_deck(ground=UNNAMED.replace("challenge: Lever", "challenge: Levers"))
    [change] = compare(old, new).changes
    assert told(change) == (T.LINE, A.DO, "ground-list-2", "ground-list-2")


def test_a_line_gets_a_name() -> None:
    [change] = compare(small_deck(ground=UNNAMED), small_deck(ground=GROUND.replace("line: gl-brake, ", ""))).changes
    assert told(change) == (T.LINE, A.NAME, "ground-list-2", "gl-lever")


def test_what_keeps_its_id_and_becomes_another_kind_of_thing() -> None:
    """A call of the name that an item had is not that item."""
    old = small_deck(landing=LANDING.replace("item: cabin", "item: to-sit"))
    call = "calls:\n  - {call: to-sit, say: Sit, by: captain, opens: on_ground, why: They wait.}\n"
    new = small_deck(landing=LANDING.replace(f"      - {CABIN}\n", "") + call)
    assert set(map(told, compare(old, new).changes)) == {
        (T.ACTION, A.WHOLE, "to-sit", None),
        (T.CALL, A.WHOLE, None, "to-sit"),
    }


def test_a_signal_is_renamed_in_shown_text_too() -> None:
    signals = "signals:\n  {}: {{title: Speed wanted, unit: kt, low: 0, high: 400}}\nfacts:\n"
    decks = [
        small_deck(
            deck=DECK.replace("facts:\n", signals.format(name)),
            approach=APPROACH.replace('to: "{selected_speed_kt}"', f'to: "{{{name}}}"'),
        )
        for name in ("own_speed_kt", "wanted_kt")
    ]
    assert [told(change) for change in compare(*decks).changes] == [(T.SIGNAL, A.NAME, "own_speed_kt", "wanted_kt")]
