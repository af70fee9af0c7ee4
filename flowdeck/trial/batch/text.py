"""A trial for a terminal."""

from textwrap import wrap

from flowdeck.trial.batch.findings import IN_ONE, MEANING
from flowdeck.trial.batch.total import Total
from flowdeck.trial.batch.words import busiest, by_kind, counted, coverage, gates, headline, slips, tightest
from flowdeck.view.columns import in_columns
from flowdeck.view.words import safe

MOST_OF_A_KIND = 12


def trial_text(total: Total, width: int = 100) -> str:
    """Findings first, then what they rest on."""
    lines = headline(total)
    lines.append(counted(total))
    later: list[str] = []
    for kind, found in by_kind(total):
        if kind in IN_ONE:
            later += ["", f"{kind}: {MEANING[kind]}", *wrapped(", ".join(each.ref for each in found), width)]
            continue
        lines += ["", f"{kind}: {MEANING[kind]}"]
        lines += [line for each in found[:MOST_OF_A_KIND] for line in wrapped(each.words, width)]
        if len(found) > MOST_OF_A_KIND:
            lines.append(f"  and {len(found) - MOST_OF_A_KIND} more; --json has them all")
    for table in (slips(total), gates(total), tightest(total), busiest(total)):
        if table.rows:
            lines += ["", table.title, *in_columns(table.heads, table.rows)]
            lines += [f"  {table.note}"] if table.note else []
    lines += [*later, "", coverage(total).note]
    return "".join(f"{safe(line)}\n" for line in lines)


def wrapped(words: str, width: int) -> list[str]:
    return wrap(words, width, initial_indent="  ", subsequent_indent="    ", break_on_hyphens=False)
