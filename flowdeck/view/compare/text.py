"""A comparison for a terminal: what to look at hardest first, phase by phase; then windows, work and lists."""

from functools import partial
from textwrap import wrap as any_wrap

from flowdeck import DISCLAIMER
from flowdeck.compare.comparison import Comparison
from flowdeck.compare.weight import Weight
from flowdeck.view.columns import Table, in_columns
from flowdeck.view.compare.tables import WINDOWS_NOTE, WindowWords, tables, windows
from flowdeck.view.compare.words import WEIGHTS, Entry, entries, standing
from flowdeck.view.words import deck_line, safe

WIDTH = 120
wrap = partial(any_wrap, break_on_hyphens=False)  # the name of a thing stays whole
MARKS = {Weight.HEAVY: "!!", Weight.MIDDLE: "! ", Weight.LIGHT: "- "}


def compare_text(c: Comparison, width: int = WIDTH) -> str:
    """The whole comparison, ending with a line feed."""
    lines = ["Two decks compared"]
    for name, deck in (("old", c.old), ("new", c.new)):
        lines += wrap(safe(deck_line(deck)), width, initial_indent=f"  {name}  ", subsequent_indent=" " * 7)
    lines += [*wrap(DISCLAIMER, width), ""]
    for words in standing(c):
        lines += wrap(words, width)
    if c.changes:
        lines.append("  ".join(f"{MARKS[weight].strip()} {words}" for weight, words in WEIGHTS.items()))
        counts, *rest = tables(c)
        lines += ["", *_table(counts, width), ""]
        for stage in entries(c):
            lines += [stage.title, *(line for entry in stage.entries for line in _entry(entry, width)), ""]
        if c.windows:
            lines += ["What becomes of windows", *(line for each in windows(c) for line in _window(each, width))]
            lines += [*_note(WINDOWS_NOTE, width), ""]
        for table in rest:
            lines += [*_table(table, width), ""]
    return "\n".join(line.rstrip() for line in lines).rstrip() + "\n"


def _entry(entry: Entry, width: int) -> list[str]:
    head = f"  {MARKS[entry.weight]} {entry.number:>3}  "
    indent = " " * len(head)
    lines = wrap(f"{entry.thing}: {entry.what}", width, initial_indent=head, subsequent_indent=indent)
    if entry.alike:
        lines += wrap(entry.alike, width, initial_indent=indent, subsequent_indent=f"{indent}     ")
    for name, told in (("was", entry.was), ("now", entry.now)):
        for i, words in enumerate(told):
            first = f"{indent}{name if i == 0 else '   '}  "
            lines += wrap(words, width, initial_indent=first, subsequent_indent=f"{indent}       ")
    return lines


def _window(window: WindowWords, width: int) -> list[str]:
    lines = wrap(window.things, width, initial_indent="  ", subsequent_indent="    ")
    if window.whole:
        lines.append(f"    {window.whole}")
    longest = max(len(bound[0]) for bound in window.bounds)
    for name, was, now, how in window.bounds:
        head = f"    {name:{longest}}  "
        indent = " " * (len(head) + 5)
        if was == now:
            lines += wrap(f"{was} ({how})", width, initial_indent=f"{head}     ", subsequent_indent=indent)
            continue
        lines += wrap(was, width, initial_indent=f"{head}was  ", subsequent_indent=indent)
        after = f"{now} ({how})" if how else now
        lines += wrap(after, width, initial_indent=f"{' ' * len(head)}now  ", subsequent_indent=indent)
    return lines


def _table(each: Table, width: int) -> list[str]:
    lines = [each.title, *in_columns(each.heads, list(each.rows))]
    return [*lines, *_note(each.note, width)]


def _note(words: str, width: int) -> list[str]:
    return wrap(f"({words})", width, initial_indent="  ", subsequent_indent="  ") if words else []
