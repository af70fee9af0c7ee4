"""What the changes come to, as tables: where they are, the work of each seat, the reading of lists, the windows."""

from typing import NamedTuple

from flowdeck.compare.comparison import Comparison
from flowdeck.compare.timing import Bound, Window
from flowdeck.compare.weight import Weight
from flowdeck.compare.workload import LINE_S, Load, Work
from flowdeck.model.seats import Owner
from flowdeck.view.columns import Table
from flowdeck.view.compare.labels import aspect_words
from flowdeck.view.compare.values import named, told
from flowdeck.view.compare.words import entries
from flowdeck.view.words import safe, title


def tables(c: Comparison) -> list[Table]:
    """Where the changes are; what becomes of the work; how long the lists take."""
    found = [_counts(c)] if c.changes else []
    return [*found, work(c), reading(c)]


def _counts(c: Comparison) -> Table:
    rows = []
    for stage in entries(c):
        counts = [str(sum(e.weight is weight for e in stage.entries) or "") for weight in Weight]
        numbers = f"{stage.entries[0].number} to {stage.entries[-1].number}"
        rows.append((stage.title, *counts, numbers if len(stage.entries) > 1 else str(stage.entries[0].number)))
    return Table("Where the changes are", ("<phase", "hardest", "closely", "words", "numbers"), rows)


def work(c: Comparison) -> Table:
    """Rows of phases and seats where something differs, and all of it."""
    heads = ("<phase", "<who", "items", "lines", "calls")
    rows = [_load(c, load) for load in c.loads if load.before != load.after]
    whole = [_sum([load.before for load in c.loads]), _sum([load.after for load in c.loads])]
    rows.append(("All phases", "all", *_counts_was_now(*whole)))
    note = "A standing item counts twice, on and off; a call and its answer are two calls."
    if len(rows) == 1:
        note = f"No seat has more or less to do than before. {note}"
    return Table("What each seat has to do", heads, rows, note)


def _load(c: Comparison, load: Load) -> tuple[str, ...]:
    phase = title(c.new, load.new_phase) if load.new_phase is not None else title(c.old, load.old_phase or "")
    return (safe(phase), owner_words(load.owner), *_counts_was_now(load.before, load.after))


def owner_words(owner: Owner) -> str:
    return owner.replace("_", " ")


def _counts_was_now(before: Work, after: Work) -> tuple[str, str, str]:
    return (
        was_now(before.items, after.items),
        was_now(before.lines, after.lines),
        was_now(before.calls, after.calls),
    )


def _sum(works: list[Work]) -> Work:
    return Work(sum(w.items for w in works), sum(w.lines for w in works), sum(w.calls for w in works))


def was_now(before: float, after: float) -> str:
    return f"{after:g}" if before == after else f"{before:g} \N{RIGHTWARDS ARROW} {after:g}"


def reading(c: Comparison) -> Table:
    """Lists whose length differs, and all of them."""
    rows = []
    for each in c.lists:
        if each.lines_before != each.lines_after or None in (each.old, each.new):
            deck, id_ = (c.new, each.new) if each.new is not None else (c.old, each.old)
            lines = was_now(each.lines_before, each.lines_after)
            rows.append((safe(title(deck, id_ or "")), lines, was_now(each.before_s, each.after_s)))
    before, after = sum(x.lines_before for x in c.lists), sum(x.lines_after for x in c.lists)
    rows.append(("All checklists", was_now(before, after), was_now(before * LINE_S, after * LINE_S)))
    return Table("Reading the checklists", ("<checklist", "lines", "s"), rows, f"At {LINE_S:g} s a line: our proposal.")


WINDOWS_NOTE = (
    "Earlier, later, wider and narrower are said where they follow from the texts alone. Where nothing is said, both "
    "texts must be read."
)


class WindowWords(NamedTuple):
    """*things*: whose it is; *whole*: what became of it, or empty; *bounds*: name, was, now, how."""

    things: str
    whole: str
    bounds: tuple[tuple[str, str, str, str], ...]


def windows(c: Comparison) -> list[WindowWords]:
    return [_window(c, each) for each in c.windows]


def _window(c: Comparison, window: Window) -> WindowWords:
    names = [named(c.new, window.thing, new.id) for _, new in window.things]
    whole = f"the window is {window.whole}" if window.whole is not None else ""
    return WindowWords(", ".join(names), whole, tuple(_bound(c, window, bound) for bound in window.bounds))


def _bound(c: Comparison, window: Window, bound: Bound) -> tuple[str, str, str, str]:
    was = "; ".join(told(c.old, window.thing, bound.aspect, bound.before))
    now = "; ".join(told(c.new, window.thing, bound.aspect, bound.after))
    how = bound.tendency or ("the same" if bound.same else "")
    if bound.same and bound.tendency is not None:
        how = f"{bound.tendency}, with the opening"
    return aspect_words(window.thing, bound.aspect), was, now, str(how)
