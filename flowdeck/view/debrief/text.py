"""A debrief for a terminal: at a glance, what slipped phase by phase with its reason, then the tables."""

from textwrap import wrap

from flowdeck import DISCLAIMER
from flowdeck.debrief.study import Debrief, Span
from flowdeck.debrief.timeline import Entry, Kind
from flowdeck.engine.words import title
from flowdeck.model.seats import Seat
from flowdeck.view.columns import Table, in_columns
from flowdeck.view.debrief.words import busiest, glance, heading, slip_words, tables, yardsticks
from flowdeck.view.words import clock, safe

WIDTH = 100
_MARK = {"warning": "!!", "caution": "! ", "advice": "- "}


def debrief_text(d: Debrief, begun: str, width: int = WIDTH, *, timeline: bool = False) -> str:
    """The whole debrief, ending with a line feed. *begun*: local date and time, or empty."""
    lines = [safe(d.scenario.title)]
    for words in (*heading(d, begun), DISCLAIMER):
        lines += wrap(words, width)
    lines += ["", "At a glance"]
    for name, value in glance(d):
        lines += wrap(value, width, initial_indent=f"  {name:18}", subsequent_indent=" " * 20)
    lines.append("")
    for span in d.spans:
        lines += [*_span(d, span, width), ""]
    for each in [*tables(d), *([yardsticks()] if d.slips else [])]:
        lines += [*_table(each, width), ""]
    lines += _work(d)
    if timeline:
        lines += ["", "Timeline", *(_entry(entry) for entry in d.timeline)]
    return "\n".join(line.rstrip() for line in lines).rstrip() + "\n"


def _span(d: Debrief, span: Span, width: int) -> list[str]:
    name = span.how.replace("_", " ").capitalize() if span.how else title(d.deck, span.phase)
    lines = [f"{safe(name)}, {clock(span.at)} to {clock(span.until)}"]
    for each in (slip_words(d, s) for s in d.slips if d.spans[s.span] is span):
        head = f"  {_MARK[each.severity]}{each.at}  {each.kind:21}"
        lines += wrap(each.sentence, width, initial_indent=head, subsequent_indent=" " * len(head))
        inner = " " * 14
        said = each.expected in each.sentence and each.actual in each.sentence
        for words in (
            "" if said else f"expected: {each.expected}; found: {each.actual}",
            f"why: {each.reason}" if each.reason else "",
            each.trapped,
        ):
            lines += wrap(words, width, initial_indent=inner, subsequent_indent=inner)
    return lines if len(lines) > 1 else [lines[0], "  nothing slipped"]


def _table(each: Table, width: int) -> list[str]:
    lines = [each.title, *in_columns(each.heads, list(each.rows))]
    too_wide = any(len(line) > width for line in lines)
    if too_wide:  # the last column has words: it goes below
        head, *rows = in_columns(each.heads[:-1], [row[:-1] for row in each.rows])
        lines = [each.title, head]
        for first, row in zip(rows, each.rows, strict=True):
            lines += [first, *wrap(row[-1], width, initial_indent=" " * 6, subsequent_indent=" " * 6)]
    return [*lines, *(wrap(f"({each.note})", width, initial_indent="  ", subsequent_indent="  ") if each.note else [])]


def _work(d: Debrief) -> list[str]:
    lines = ["Acts in each minute (captain on the left)"]
    for m in d.minutes:
        left, right = "▪" * min(m.captain, 30), "▪" * min(m.first_officer, 30)
        lines.append(f"  {left:>30} {clock(m.minute * 60_000)[:5]} {right}")
    words = busiest(d)
    return [*lines, *([f"  {words}"] if words else [])]


def _entry(entry: Entry) -> str:
    who = {Seat.CAPTAIN: "CPT", Seat.FIRST_OFFICER: "FO", None: ""}[entry.seat]
    seen = "seen: " if entry.kind is Kind.SEEN else ""
    return f"  {clock(entry.at)}  {who:3}  {seen}{safe(entry.words)}"
