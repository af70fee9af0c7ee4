"""A comparison as plain data for JSON: stable keys, units in their names, null where there is nothing."""

from typing import Any, assert_never

from flowdeck import DISCLAIMER
from flowdeck.compare.change import Asked, Change, Cond, Rank, Sheet, Span, Spot, Value, Way
from flowdeck.compare.comparison import Comparison
from flowdeck.compare.timing import Window
from flowdeck.compare.weight import Weight, weight_of
from flowdeck.compare.workload import LINE_S, Load
from flowdeck.model.deck import Edge, Move
from flowdeck.view.compare.words import thing_of, what_of
from flowdeck.view.words import deck_data


def compare_data(c: Comparison) -> dict[str, Any]:
    return {
        "notice": DISCLAIMER,
        "old": deck_data(c.old),
        "new": deck_data(c.new),
        "different": bool(c.changes),
        "counts": {str(w): sum(weight_of(change) is w for change in c.changes) for w in Weight},
        "changes": [_change(c, number, change) for number, change in enumerate(c.changes, 1)],
        "windows": [_window(window) for window in c.windows],
        "workload": [_load(load) for load in c.loads],
        "checklists": [
            {
                "old": each.old,
                "new": each.new,
                "lines_before": each.lines_before,
                "lines_after": each.lines_after,
                "reading_before_s": each.before_s,
                "reading_after_s": each.after_s,
            }
            for each in c.lists
        ],
        "reading_s_a_line": LINE_S,
    }


def _change(c: Comparison, number: int, change: Change) -> dict[str, Any]:
    at = c.stage_of(change)
    old_phase, new_phase = c.stages[at] if at >= 0 else (None, None)
    return {
        "number": number,
        "weight": str(weight_of(change)),
        "old_phase": old_phase,
        "new_phase": new_phase,
        "thing": str(change.thing),
        "aspect": str(change.aspect),
        "old": _spot(change.old),
        "new": _spot(change.new),
        "before": _value(change.before),
        "after": _value(change.after),
        "tendency": None if change.tendency is None else str(change.tendency),
        "with": [{"thing": str(x.thing), "old": x.old.id, "new": x.new.id} for x in change.covers],
        "words": f"{thing_of(c, change)}: {what_of(change)}",
    }


def _spot(spot: Spot | None) -> dict[str, Any] | None:
    return None if spot is None else {"id": spot.id, "phase": spot.phase or None, "within": spot.home or None}


def _value(value: Value) -> Any:
    match value:
        case None | bool() | float() | int():
            return value
        case str():
            return str(value)
        case tuple():
            return list(value)
        case Cond(text):
            return {"condition": text}
        case Span(after_s, start):
            return {"after_s": after_s, "from": start}
        case Edge():
            return {"after": value.before, "hard": value.hard, "kind": value.kind, "reason": value.reason}
        case Asked(that, words, kind):
            return {"that": that, "words": words, "kind": kind or None}
        case Move():
            return {"signal": value.signal, "to": value.to, "same_as": value.same_as, "in_s": value.in_s}
        case Way(to, when):
            return {"to": to, "when": when}
        case Rank(number, of, behind):
            return {"number": number, "of": of, "after": behind}
        case Sheet(rows, parts):
            return {
                "fields": [{"aspect": str(row.aspect), "value": _value(row.value)} for row in rows],
                "parts": [{"thing": str(p.thing), "id": p.id, **_value(p.sheet)} for p in parts],
            }
        case _:
            assert_never(value)


def _window(window: Window) -> dict[str, Any]:
    return {
        "thing": str(window.thing),
        "things": [{"old": old.id, "new": new.id} for old, new in window.things],
        "tendency": None if window.whole is None else str(window.whole),
        "limits": [
            {
                "limit": str(bound.aspect),
                "before": _value(bound.before),
                "after": _value(bound.after),
                "same_text": bound.same,
                "tendency": None if bound.tendency is None else str(bound.tendency),
            }
            for bound in window.bounds
        ],
    }


def _load(load: Load) -> dict[str, Any]:
    return {
        "old_phase": load.old_phase,
        "new_phase": load.new_phase,
        "owner": str(load.owner),
        "items_before": load.before.items,
        "items_after": load.after.items,
        "lines_before": load.before.lines,
        "lines_after": load.after.lines,
        "calls_before": load.before.calls,
        "calls_after": load.after.calls,
    }
