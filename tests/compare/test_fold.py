"""What is one decision is signed once, with all that changed by it; what is two decisions stays two."""

from flowdeck.compare.aspects import Aspect as A
from flowdeck.compare.aspects import Thing as T
from flowdeck.compare.change import Change, Sheet, Value
from flowdeck.compare.comparison import compare
from tests.support.small import APPROACH, GROUND, LANDING, small_deck

SMALL = small_deck()


def changes(**changed: str) -> list[Change]:
    return list(compare(SMALL, small_deck(**changed)).changes)


def covered(change: Change) -> list[str]:
    return [each.new.id for each in change.covers]


def test_the_words_of_a_flow_are_signed_once_for_all_its_items() -> None:
    """The one with its own opening is not among them."""
    [change] = changes(approach=APPROACH.replace('opens: "distance_nm <= 10"', 'opens: "distance_nm <= 9"'))
    assert (change.thing, change.aspect) == (T.FLOW, A.OPENS)
    assert covered(change) == ["gear-down", "flap-land"]


def test_two_items_that_changed_unlike_are_two_changes() -> None:
    text = GROUND.replace("to: SET\n", "to: SET\n        late: {after_s: 10}\n")
    text = text.replace("to: CUTOFF\n", "to: CUTOFF\n        late: {after_s: 20}\n")
    assert [(c.thing, c.aspect, c.spot.id) for c in changes(ground=text)] == [
        (T.ACTION, A.LATE, "brake"),
        (T.ACTION, A.LATE, "cut"),
    ]


def test_a_calls_reason_is_its_answers_reason() -> None:
    [change] = changes(approach=APPROACH.replace("Both wait for the level.", "Both look."))
    assert change.thing is T.CALL and covered(change) == ["to-go-answer"]


def test_a_lists_reason_is_that_of_its_lines() -> None:
    [change] = changes(ground=GROUND.replace("Nothing rolls, nothing turns.", "Nothing rolls."))
    assert change.thing is T.CHECKLIST and covered(change) == ["gl-brake", "gl-lever"]


def test_both_halves_of_a_standing_item() -> None:
    text = APPROACH.replace("by: pilot_monitoring\n    do: Engine anti-ice", "by: captain\n    do: Engine anti-ice")
    [change] = changes(approach=text)
    assert change.spot.id == "anti-ice-on" and covered(change) == ["anti-ice-off"]


def test_an_end_that_is_only_the_beginning_turned_round() -> None:
    """Without `until` it ends when it does not begin any more: one change, not two."""
    text = APPROACH.replace('    until: "held(not in_cloud, 60) or tat_c > 12"\n', "")
    old = small_deck(approach=text)
    new = small_deck(approach=text.replace("tat_c <= 10", "tat_c <= 8"))
    [change] = compare(old, new).changes
    assert (change.spot.id, change.aspect) == ("anti-ice-on", A.OPENS)
    ends = [c.spot.id for c in compare(SMALL, old).changes]
    assert ends == ["anti-ice-off"], "but an end of its own that goes is one"


def whole(value: Value) -> Sheet:
    assert isinstance(value, Sheet)
    return value


def test_a_flow_that_came_is_told_with_its_items() -> None:
    flow = (
        "flows:\n  - flow: extra\n    title: Extra\n    by: captain\n    items:\n"
        "      - {item: one, do: One, to: DONE, why: One.}\n      - {item: two, do: Two, to: DONE, why: Two.}\n"
    )
    [change] = changes(landing=LANDING.replace("flows:\n", flow))
    assert change.old is None and [part.id for part in whole(change.after).parts] == ["one", "two"]


def test_an_item_that_moved_into_a_new_flow_did_not_come_with_it() -> None:
    cabin = "      - {item: cabin, do: Cabin, to: TOLD, by: pilot_monitoring, why: They wait for a word.}\n"
    flow = f"  - flow: extra\n    title: Extra\n    by: pilot_monitoring\n    opens: on_ground\n    items:\n{cabin}"
    came, moved = changes(landing=LANDING.replace(cabin, flow))
    assert (came.thing, came.aspect, whole(came.after).parts) == (T.FLOW, A.WHOLE, ())
    assert (moved.aspect, moved.before, moved.after) == (A.PLACE, "rollout", "extra")


def test_a_list_a_call_and_a_standing_item_that_went_are_told_once_each() -> None:
    begin, end = APPROACH.index("calls:\n"), APPROACH.index("gates:\n")
    landing_list = APPROACH[APPROACH.index("checklists:\n") : begin]
    text = APPROACH[:begin].replace(landing_list, "") + APPROACH[end:]
    text = text.replace("      - {that: \"done('landing-list')\", words: landing checklist}\n", "")
    text = text.replace("done('minimum-answer')", "height_aal_ft <= 400")
    gone = {c.spot.id: whole(c.before) for c in changes(approach=text) if c.aspect is A.WHOLE}
    assert {id_: [part.id for part in sheet.parts] for id_, sheet in gone.items()} == {
        "landing-list": ["ll-gear", "ll-altimeters", "ll-flap", "before-flap"],
        "to-go": ["to-go-answer"],
        "minimum": ["minimum-answer"],
        "anti-ice-on": ["anti-ice-off"],
    }
