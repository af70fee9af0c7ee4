"""Rows that stand for a text that was read without a finding: what later checks may rest on."""

from math import inf, nan

import pytest

from flowdeck.conditions import Names, Table, compile_truths
from flowdeck.model.condition import Compare, Condition, Const, SignalRef


def test_a_sound_text_is_known_by_its_row(names: Names) -> None:
    """The same number as when it was added, and none for what was never added."""
    table = Table(names)
    table.add("visual")
    row = table.add("held(in_cloud, 3) and visual")
    assert table.known("held(in_cloud, 3) and visual") == row == 2
    assert table.known("visual") == 0
    assert table.known("on_ground") is None


def test_a_text_with_a_finding_is_not_known(names: Names) -> None:
    """Neither one that cannot be read nor one that is only warned of; nothing more is said of either."""
    table = Table(names)
    for text in ("flap_dge == 0", "gear = 'up'", "flap_deg == 61"):
        table.add(text)
        assert table.known(text) is None
    assert len(table.findings) == len(table.conditions) == 3


@pytest.mark.parametrize("number", [inf, -inf, nan])
def test_a_number_that_is_none_is_not_compiled(number: float) -> None:
    """No text holds one; a table from elsewhere that does is refused in so many words."""
    rows = (Condition(text="", tree=Compare((SignalRef("tat_c"), Const(number)), ("<",))),)
    with pytest.raises(ValueError, match=r"^a number in a condition must be finite$"):
        compile_truths(rows)
