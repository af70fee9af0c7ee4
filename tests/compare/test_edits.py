"""Each known edit of a deck's files is told as what it is, and as nothing else; and back again."""

import pytest

from flowdeck.compare.comparison import compare
from tests.compare.edits import EDITS, Edit, edited, told
from tests.support.small import small_deck

SMALL = small_deck()


@pytest.mark.parametrize("edit", EDITS, ids=[edit.name for edit in EDITS])
def test_an_edit_is_told_as_what_it_is(edit: Edit) -> None:
    new = edited(edit)
    assert new is not None, "the edit is of words that stand there once"
    assert sorted(map(told, compare(SMALL, new).changes), key=str) == sorted(edit.told, key=str)


@pytest.mark.parametrize("edit", EDITS, ids=[edit.name for edit in EDITS])
def test_taken_back_it_is_the_same_the_other_way_round(edit: Edit) -> None:
    new = edited(edit)
    assert new is not None
    back = [(thing, aspect, b, a) for thing, aspect, a, b in edit.told]
    assert sorted(map(told, compare(new, SMALL).changes), key=str) == sorted(back, key=str)
