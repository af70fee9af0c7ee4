"""What a reviser must look at hardest: who, when, after what, and what a gate asks for; wording and reasons last."""

import pytest

from flowdeck.compare.comparison import compare
from flowdeck.compare.weight import Weight, weight_of
from tests.compare.edits import EDITS, edited
from tests.support.small import small_deck

SMALL = small_deck()
BY_NAME = {edit.name: edit for edit in EDITS}
HEAVY = (
    *("item added", "item removed", "other seat", "flow added", "opens", "opens of a flow", "due", "late", "when"),
    *("late no more", "missed", "complete by", "unless", "hard edge removed", "hard edge made flow order", "need"),
    *("caller", "reader", "line removed", "hold's end", "hold removed", "answer no more", "standing item's end"),
    *("gate's moment", "gate's condition", "gate's time", "gate's order", "gate's stops", "way out", "committed"),
    *("standing item's phases", "standing item's seat"),
)
MIDDLE = (
    *(
        "other state",
        "items in another order",
        "in any order",
        "seen",
        "edge added",
        "edge's kind",
        "need's kind",
        "move",
    ),
    *("flag", "deferral", "reopened by", "mode", "response", "lines in another order", "hold elsewhere", "sterile"),
    *("status", "fact", "fact added", "policy", "signal"),
)
LIGHT = (
    *("item renamed", "item reworded", "why", "flow's title", "flow renamed", "early", "edge's reason", "completion"),
    *("need's reason", "list's why", "call reworded", "answer reworded", "call renamed", "call's why", "gate's words"),
    *("strip", "version", "deck renamed", "mark renamed", "cue", "term"),
)


@pytest.mark.parametrize(
    ("name", "weight"),
    [
        *((name, Weight.HEAVY) for name in HEAVY),
        *((name, Weight.MIDDLE) for name in MIDDLE),
        *((name, Weight.LIGHT) for name in LIGHT),
    ],
)
def test_how_hard_to_look(name: str, weight: Weight) -> None:
    new = edited(BY_NAME[name])
    assert new is not None
    assert {weight_of(change) for change in compare(SMALL, new).changes} == {weight}
