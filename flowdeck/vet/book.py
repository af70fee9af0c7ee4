"""All rules by name, in the order in which a deck is put right: what cannot work, then order, then words."""

from collections.abc import Iterator
from typing import Protocol

from flowdeck.model.diagnostic import Level
from flowdeck.vet.rules import (
    absent_seat,
    alert_colour,
    always_true,
    atc_only_trigger,
    capitals_run,
    card_letters,
    card_page_break,
    checked_without_cause,
    closes_before,
    condition_no_exit,
    critical_late,
    deadlock,
    defer_no_cue,
    due_after_late,
    duplicate_control,
    empty_window,
    gate_decides_nothing,
    line_too_wide,
    list_copies_flow,
    list_near_runway,
    list_too_long,
    memory_only,
    moves_nothing,
    needs_never,
    negative_response,
    never_looked_at_again,
    never_true,
    no_answerer,
    no_completion_line,
    no_go_around_edge,
    no_identity,
    no_trigger_window,
    no_way_out,
    reading_time,
    seat_overload,
    standing_clash,
    standing_not_undone,
    term_clash,
    thin_reason,
    two_actions,
    unreachable,
    vague_response,
    window_needs_own_item,
)
from flowdeck.vet.subject import Finding, Subject


class Rule(Protocol):
    """A module of `flowdeck.vet.rules`."""

    __name__: str
    __doc__: str | None
    LEVEL: Level
    SOURCE: str

    def find(self, s: Subject) -> Iterator[Finding]: ...


_IN_ORDER: tuple[Rule, ...] = (
    unreachable,
    never_true,
    always_true,
    deadlock,
    no_go_around_edge,
    no_way_out,
    condition_no_exit,
    standing_clash,
    standing_not_undone,
    gate_decides_nothing,
    needs_never,
    moves_nothing,
    empty_window,
    closes_before,
    due_after_late,
    window_needs_own_item,
    no_trigger_window,
    defer_no_cue,
    atc_only_trigger,
    list_near_runway,
    reading_time,
    absent_seat,
    no_answerer,
    seat_overload,
    memory_only,
    critical_late,
    never_looked_at_again,
    duplicate_control,
    list_copies_flow,
    thin_reason,
    vague_response,
    checked_without_cause,
    negative_response,
    alert_colour,
    two_actions,
    term_clash,
    no_completion_line,
    capitals_run,
    list_too_long,
    line_too_wide,
    card_page_break,
    card_letters,
    no_identity,
)
RULES: dict[str, Rule] = {rule.__name__.rpartition(".")[2].replace("_", "-"): rule for rule in _IN_ORDER}
"""By name: `critical-late` is the module `critical_late`."""


def manual(name: str) -> str:
    """What a rule finds, why, and how to mend it. Raises `KeyError` for no rule."""
    rule = RULES[name]
    return f"{name} ({rule.LEVEL})\n\n{(rule.__doc__ or '').strip()}\n\nSource: {rule.SOURCE}."
