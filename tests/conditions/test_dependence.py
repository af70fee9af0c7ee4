"""What a condition reads, however it is written: on this rests whether a signal is fresh enough to contradict."""

import pytest

from flowdeck.conditions import Names, Table, facts_used, names_used, refs_used

READS = [
    ("gear in ('up', 'down')", {"gear"}),
    ("gear not in ('up', 'down')", {"gear"}),
    ("1000 < altitude_ft < height_aal_ft", {"altitude_ft", "height_aal_ft"}),
    ("turn(heading_deg, selected_heading_deg) < 5", {"heading_deg", "selected_heading_deg"}),
    ("altitude_ft - height_aal_ft > 2 * terrain_height_ft", {"altitude_ft", "height_aal_ft", "terrain_height_ft"}),
    ("-tat_c > 3", {"tat_c"}),
    ("min(n2_1_pct, n2_2_pct, 50) < 20", {"n2_1_pct", "n2_2_pct"}),
    ("not in_cloud", {"in_cloud"}),
    ("in_cloud and on_ground or tat_c > 3", {"in_cloud", "on_ground", "tat_c"}),
    ("age(tat_c) > 3", {"tat_c"}),
    ("held(in_cloud, 3)", {"in_cloud"}),
    ("rising(held(falling(on_ground), 3))", {"on_ground"}),
    ("visual and phase == 'approach' and done('gear-down') and since('touchdown') > 3", set()),
]


@pytest.mark.parametrize(("text", "signals"), READS)
def test_every_signal_that_a_condition_reads(names: Names, text: str, signals: set[str]) -> None:
    """Through lists, chains, arithmetic, and whatever stands inside held, rising and falling."""
    table = Table(names)
    row = table.add(text)
    assert table.findings == []
    assert names_used(table.conditions[row].tree, table.conditions) == signals


def test_facts_and_names_of_things_done(names: Names) -> None:
    """The same for facts, and for items, lists and marks."""
    table = Table(names)
    row = table.add("visual and held(done('gear-down') or near_runway, 3) and since('touchdown') > 3")
    tree = table.conditions[row].tree
    assert facts_used(tree, table.conditions) == {"visual", "near_runway"}
    assert refs_used(tree, table.conditions) == {"gear-down", "touchdown"}
    assert facts_used(tree) == {"visual"}
