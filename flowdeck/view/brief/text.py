"""A brief for a terminal: what matters first on top, each figure with its rule, no line over the width."""

from itertools import zip_longest
from textwrap import wrap

from flowdeck import DISCLAIMER
from flowdeck.arrival.brief import Brief
from flowdeck.view.brief.tables import tables_of
from flowdeck.view.brief.words import caution_title, glance, heading_of, rule_of, value_of
from flowdeck.view.columns import in_columns
from flowdeck.view.words import safe

WIDTH = 100
NARROWEST_RULE = 40


def brief_text(brief: Brief, width: int = WIDTH) -> str:
    """The whole brief, ending with a line feed."""
    arrival = brief.arrival
    lines = [safe(arrival.title), *wrap(heading_of(brief), width), *wrap(DISCLAIMER, width), ""]
    if arrival.about:
        lines += [*wrap(safe(arrival.about), width), ""]
    lines += _remarks(brief, width)
    lines += [*_glance(brief, width), ""]
    for section in brief.sections:
        lines.append(safe(section.title))
        for figure in section.figures:
            lines += _figure(figure.title, value_of(figure), rule_of(figure), width)
        lines.append("")
    for title, heads, rows, _ in tables_of(brief):
        lines += [title, *in_columns(heads, rows), ""]
    return "\n".join(line.rstrip() for line in lines).rstrip() + "\n"


def _glance(brief: Brief, width: int) -> list[str]:
    """Two columns, read down."""
    rows = [f"{title:25}{value:>10}" for title, value in glance(brief)]
    half = (len(rows) + 1) // 2
    if width < 84:
        return ["At a glance", *(f"  {row}" for row in rows)]
    return ["At a glance", *(f"  {a}     {b}" for a, b in zip_longest(rows[:half], rows[half:], fillvalue=""))]


def _remarks(brief: Brief, width: int) -> list[str]:
    lines: list[str] = []
    if not brief.lands:
        lines += ["NO LANDING AS PLANNED", ""]
    if brief.cautions:
        lines.append("Cautions")
        for caution in brief.cautions:
            lines += _hanging(f"{caution_title(caution.kind)}: ", safe(caution.words), width)
        lines.append("")
    if brief.unknown:
        lines.append("Could not be worked out")
        for words in brief.unknown:
            lines += _hanging("? ", safe(words), width)
        lines.append("")
    return lines


def _hanging(mark: str, words: str, width: int) -> list[str]:
    return wrap(words, width, initial_indent=f"  {mark}", subsequent_indent="    ")


def _figure(title: str, value: str, rule: str, width: int) -> list[str]:
    """Title and value on one line; the rule beside them, or below where there is no room or the value is long."""
    head = f"  {safe(title):36}{value:>11}"
    room = width - len(head) - 3
    if len(value) > 11:
        first = wrap(f"{safe(title)}: {value}", width, initial_indent="  ", subsequent_indent="    ")
        return [*first, *wrap(rule, width, initial_indent="      ", subsequent_indent="      ")]
    if room < NARROWEST_RULE:
        return [head, *wrap(rule, width, initial_indent="      ", subsequent_indent="      ")]
    parts = wrap(rule, room) or [""]
    return [f"{head}   {parts[0]}", *(" " * (len(head) + 3) + part for part in parts[1:])]
