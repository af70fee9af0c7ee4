"""A trial in words, as tables: what the text and the page show."""

from collections.abc import Iterator

from flowdeck import DISCLAIMER
from flowdeck.trial.batch.findings import COUNTS, Finding, FindingKind, findings_of
from flowdeck.trial.batch.total import Times, Total
from flowdeck.view.columns import Table
from flowdeck.view.words import deck_line

TIGHTEST = 12
BUSIEST = 8


def headline(total: Total) -> list[str]:
    """What was flown and where it ended."""
    ends = [f"{number} {end}" for end, number in total.ends.items()]
    if total.stuck:
        ends.append(f"{len(total.stuck)} came to no end")
    return [
        deck_line(total.deck),
        DISCLAIMER,
        f"{total.runs} arrivals of '{total.scenario}', seed {total.seed}: {', '.join(ends) or 'none'}",
    ]


def counted(total: Total) -> str:
    """How much was wrong."""
    found = findings_of(total)
    wrong = sum(each.kind in COUNTS for each in found)
    if not found:
        return "nothing was found"
    return f"{wrong} findings that count, {len(found) - wrong} to know of"


def by_kind(total: Total) -> Iterator[tuple[FindingKind, list[Finding]]]:
    """Findings, those that count first."""
    found = findings_of(total)
    for kind in FindingKind:
        mine = [each for each in found if each.kind is kind]
        if mine:
            yield kind, mine


def coverage(total: Total) -> Table:
    """Conditions that were not seen both ways."""
    whole = len(total.deck.conditions)
    missing = sorted({*total.never_true, *total.never_false})
    never = dict.fromkeys(total.never_true, "true")
    never |= {row: "true or false" if row in never else "false" for row in total.never_false}
    rows = [(f"never {never[row]}", total.deck.conditions[row].text) for row in missing]
    note = f"{total.both_seen} of {whole} conditions were seen true and seen false"
    return Table("Conditions", ("<Not seen", "<Condition"), rows, note)


def tightest(total: Total, most: int | None = TIGHTEST) -> Table:
    """Where there is least time beyond what is needed."""
    ranked = sorted(
        (pair for pair in total.times.items() if _spare(pair[1]) is not None), key=lambda pair: _spare(pair[1]) or 0.0
    )
    rows = [
        (
            _title(total, ref),
            str(times.owed),
            _s(times.took_mid_s),
            _s(times.took_most_s),
            _s(times.there_mid_s),
            _s(times.there_least_s),
            str(times.overdue),
        )
        for ref, times in ranked[:most]
    ]
    heads = ("<Owed", "times", "takes s", "up to s", "has s", "at least s", "late")
    note = "takes: middle and nine tenths of the flights; has: middle and one tenth"
    return Table("Time needed and time there is", heads, rows, note)


def busiest(total: Total, most: int | None = BUSIEST) -> Table:
    """The minutes in which most is done."""
    minutes = [busy for busy in total.busy if busy.runs * 2 >= total.runs]
    if most is not None:
        top = sorted(minutes, key=lambda b: -max(b.captain, b.first_officer))[:most]
        minutes = sorted(top, key=lambda b: b.minute)
    rows = [
        (str(b.minute), f"{b.captain:.1f}", str(b.captain_most), f"{b.first_officer:.1f}", str(b.first_officer_most))
        for b in minutes
    ]
    heads = ("minute", "captain", "most", "first officer", "most")
    return Table("Acts a minute", heads, rows, "mean over the flights, and the most in one")


def gates(total: Total) -> Table:
    """How the gates went."""
    rows = [
        (total.deck.gates[ref].title, str(gate.met), str(gate.failed)) for ref, gate in total.gates.items() if gate.met
    ]
    return Table("Gates", ("<Gate", "met", "failed"), rows)


def slips(total: Total) -> Table:
    """What two pilots who forget nothing were found to do wrong: the deck asked too much of them."""
    ranked = sorted(total.slips.items(), key=lambda pair: (-pair[1], pair[0]))
    rows = [(name.partition(" ")[0].replace("_", " "), name.partition(" ")[2], str(n)) for name, n in ranked]
    return Table("Deviations of a crew that forgets nothing", ("<Class", "<Item", "times"), rows)


def _spare(times: Times) -> float | None:
    if times.took_most_s is None or times.there_least_s is None:
        return None
    return times.there_least_s - times.took_most_s


def _title(total: Total, ref: str) -> str:
    item = total.deck.items.get(ref)
    return item.do if item is not None else total.deck.checklists[ref].title


def _s(seconds: float | None) -> str:
    return "" if seconds is None else f"{seconds:.0f}"
