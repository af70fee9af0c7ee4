"""The logbook in words: a line a flight, and over all of them what slips how often of how many times."""

from collections.abc import Iterable, Sequence
from typing import Any

from flowdeck import DISCLAIMER
from flowdeck.debrief.summary import Summary
from flowdeck.debrief.trends import FEW, Share, Trends
from flowdeck.view.columns import in_columns
from flowdeck.view.debrief.words import length
from flowdeck.view.words import safe

HEADS = ("no", "<begun", "<scenario", "<end", "length", "dev", "of caution up", "<seats", "<tags")
MOST_ITEMS = 15


def flight_row(number: int, s: Summary, tags: Iterable[str], persons: dict[str, str]) -> tuple[str, ...]:
    """One flight of the list."""
    seats = "one person" if s.solo else "two pilots"
    named = ", ".join(f"{seat.replace('_', ' ')} {name}" for seat, name in persons.items())
    return (
        str(number),
        s.begun[:16].replace("T", " "),
        safe(s.scenario),
        s.end.replace("_", " ") or "broken off",
        length(s.length_ms),
        str(len(s.slips)),
        str(sum(slip.severity.is_weighty for slip in s.slips)),
        safe(f"{seats}: {named}" if named else seats),
        safe(" ".join(tags)),
    )


def list_text(rows: list[tuple[str, ...]]) -> str:
    if not rows:
        return "no flights here; add some: flowdeck log add JOURNAL\n"
    return "\n".join([DISCLAIMER, "", *(line.rstrip() for line in in_columns(HEADS, rows))]) + "\n"


def trends_text(t: Trends) -> str:
    """Classes with their curve, then the items that slip most."""
    if not t.flights:
        return "no flights here; add some: flowdeck log add JOURNAL\n"
    lines = [f"{t.flights} flights, {t.first[:10]} to {t.last[:10]}", DISCLAIMER, "", "By class, and by parts of them"]
    rows = [
        (trend.slip.replace("_", " "), *_share(trend.whole), "  ".join(f"{part.n}/{part.of}" for part in trend.curve))
        for trend in t.classes
        if trend.whole.n
    ]
    never = [trend.slip.replace("_", " ") for trend in t.classes if not trend.whole.n]
    lines += in_columns(("<class", "n", "of", "<share", "<oldest to newest"), rows) if rows else ["  nothing slipped"]
    if never:
        lines.append(f"  never: {', '.join(never)}")
    if t.items:
        lines += ["", "What slips most"]
        items = [
            (safe(item.title), item.slip.replace("_", " "), *_share(item.whole), item.last[:10])
            for item in t.items[:MOST_ITEMS]
        ]
        lines += in_columns(("<item", "<class", "n", "of", "<share", "<last"), items)
        if len(t.items) > MOST_ITEMS:
            lines.append(f"  and {len(t.items) - MOST_ITEMS} more")
    lines += ["", f"n of how often it could have been; a share only of {FEW} or more; nothing here grades a person"]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _share(share: Share) -> tuple[str, str, str]:
    part = share.share
    return str(share.n), str(share.of), "" if part is None else f"1 in {share.of / share.n:.0f}" if share.n else ""


def trends_data(t: Trends) -> dict[str, Any]:
    def share(s: Share) -> dict[str, Any]:
        return {"count": s.n, "opportunities": s.of, "share": s.share}

    return {
        "notice": DISCLAIMER,
        "flights": t.flights,
        "first": t.first or None,
        "last": t.last or None,
        "classes": [{"class": str(c.slip), **share(c.whole), "curve": [share(p) for p in c.curve]} for c in t.classes],
        "items": [
            {"item": i.item, "title": i.title, "class": str(i.slip), **share(i.whole), "last": i.last} for i in t.items
        ],
    }


COLUMNS = (
    "journal", "begun", "deck", "deck_hash", "scenario", "one_person", "end", "length_s", "deviations",
    "of_caution_or_above", "trapped", "tags",
)  # fmt: skip


def csv_row(journal: str, s: Summary, tags: Sequence[str]) -> tuple[str, ...]:
    """One flight for a spreadsheet, in the order of `COLUMNS`; no text in it begins a formula."""
    cells = (
        journal,
        s.begun,
        s.deck,
        s.deck_hash[:12],
        s.scenario,
        "yes" if s.solo else "no",
        s.end,
        f"{s.length_ms / 1000:.0f}",
        str(len(s.slips)),
        str(sum(slip.severity.is_weighty for slip in s.slips)),
        str(sum(slip.trapped_by is not None for slip in s.slips)),
        " ".join(tags),
    )
    return tuple(f"'{cell}" if cell[:1] in "=+-@\t\r" and cell else safe(cell) for cell in cells)
