"""Rows of the table: numbering, inner conditions, and what a condition depends on."""

from flowdeck.conditions import Names, Table, facts_used, names_used, refs_used
from flowdeck.conditions.compile import written
from flowdeck.model.condition import AllOf, Compare, Condition, Const, Falling, Held, Not, Rising, SignalRef


def test_the_same_text_has_the_same_number(names: Names) -> None:
    table = Table(names)
    assert table.add("on_ground") == table.add("  on_ground\n") == 0
    assert table.add("not on_ground") == 1
    assert table.findings == []
    assert table.conditions == (
        Condition(text="on_ground", tree=SignalRef("on_ground")),
        Condition(text="not on_ground", tree=Not(SignalRef("on_ground"))),
    )


def test_inner_conditions_stand_before_outer_ones_and_are_shared(names: Names) -> None:
    table = Table(names)
    assert table.add("held(rising((tat_c < 3)), 2.5) and falling(on_ground)") == 3
    assert table.add("on_ground") == 2
    assert table.add("rising(tat_c < 3)") == 4, "the text differs by its brackets"
    assert table.conditions[:4] == (
        Condition(text="tat_c < 3", tree=Compare((SignalRef("tat_c"), Const(3.0)), ("<",))),
        Condition(text="rising((tat_c < 3))", tree=Rising(0)),
        Condition(text="on_ground", tree=SignalRef("on_ground")),
        Condition(
            text="held(rising((tat_c < 3)), 2.5) and falling(on_ground)",
            tree=AllOf((Held(1, 2.5), Falling(2))),
        ),
    )


def test_what_a_condition_depends_on(names: Names) -> None:
    table = Table(names)
    row = table.add("held(flap_deg == 31 and visual, 3) and done('gear-down') and since('touchdown') < age(tat_c)")
    tree = table.conditions[row].tree
    assert names_used(tree) == {"tat_c"}
    assert names_used(tree, table.conditions) == {"tat_c", "flap_deg"}
    assert facts_used(tree, table.conditions) == {"visual"}
    assert refs_used(tree) == {"gear-down", "touchdown"}


def test_each_signal_is_read_once(names: Names) -> None:
    table = Table(names)
    for limit in range(10, 30):
        table.add(f"tat_c < {limit} and visual")
    code = written(table.conditions)
    assert code.count("values.get") == 1
    assert code.count("facts.get") == 1
