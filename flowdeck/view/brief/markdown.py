"""A brief as Markdown, for notes and reviews. Text from files is escaped, so that it stays text."""

import re

from flowdeck import DISCLAIMER
from flowdeck.arrival.brief import Brief
from flowdeck.view.brief.tables import tables_of
from flowdeck.view.brief.words import caution_title, glance, heading_of, rule_of, value_of
from flowdeck.view.words import safe

_SPECIAL = re.compile(r"([\\`*_\[\]<>|#~])")


def escaped(text: str) -> str:
    """Text that Markdown shows as it is."""
    return _SPECIAL.sub(r"\\\1", safe(text))


def brief_markdown(brief: Brief) -> str:
    """The whole brief, ending with a line feed."""
    arrival = brief.arrival
    lines = [f"# {escaped(arrival.title)}", "", escaped(heading_of(brief)), "", f"*{DISCLAIMER}*", ""]
    lines += [escaped(arrival.about), ""] if arrival.about else []
    lines += ["**No landing as planned.**", ""] if not brief.lands else []
    if brief.cautions:
        lines += ["## Cautions", ""]
        lines += [f"- {caution_title(c.kind)}: {escaped(c.words)}" for c in brief.cautions]
        lines.append("")
    if brief.unknown:
        lines += ["## Could not be worked out", "", *(f"- {escaped(words)}" for words in brief.unknown), ""]
    lines += ["## At a glance", "", *(f"- {escaped(name)}: **{escaped(value)}**" for name, value in glance(brief)), ""]
    for section in brief.sections:
        lines += [f"## {escaped(section.title)}", "", "| | | how |", "|--|--:|--|"]
        lines += [f"| {escaped(f.title)} | {escaped(value_of(f))} | {escaped(rule_of(f))} |" for f in section.figures]
        lines.append("")
    for title, heads, rows, _ in tables_of(brief):
        lines += [f"## {escaped(title)}", "", f"| {' | '.join(head.lstrip('<') for head in heads)} |"]
        lines.append(f"|{'|'.join('--' if head.startswith('<') else '--:' for head in heads)}|")
        lines += [f"| {' | '.join(escaped(cell) for cell in row)} |" for row in rows]
        lines.append("")
    return "\n".join(lines).rstrip() + "\n"
