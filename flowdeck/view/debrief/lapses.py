"""The lapses of a played pilot in words: how many were caught, how soon, and what went by."""

from collections import Counter
from statistics import median
from typing import Any

from flowdeck.debrief.lapses import Fate, LapseFate
from flowdeck.debrief.study import Debrief
from flowdeck.engine.words import title
from flowdeck.model.lapse import LAPSE_MEANING
from flowdeck.view.columns import Table
from flowdeck.view.words import clock, safe

_WORDS = {
    Fate.CAUGHT: "caught",
    Fate.MENDED: "put right by its maker",
    Fate.WENT_BY: "went by",
    Fate.HARMLESS: "nothing came of it",
}


def lapses_line(d: Debrief) -> str:
    """All of them in a sentence."""
    if not d.lapses:
        return "none made"
    counts = Counter(lapse.fate for lapse in d.lapses)
    caught = [
        lapse.latency_ms / 1000 for lapse in d.lapses if lapse.fate is Fate.CAUGHT and lapse.latency_ms is not None
    ]
    soon = f" (median {median(caught):.0f} s, {min(caught):.0f} to {max(caught):.0f} s)" if caught else ""
    parts = [
        f"{counts[fate]} {words}{soon if fate is Fate.CAUGHT else ''}" for fate, words in _WORDS.items() if counts[fate]
    ]
    return f"{len(d.lapses)} made; {', '.join(parts)}"


def lapses_table(d: Debrief) -> Table:
    rows = tuple(
        (
            clock(lapse.at),
            lapse.seat.label,
            safe(title(d.deck, lapse.ref)),
            lapse.kind.replace("_", " "),
            _WORDS[lapse.fate],
            "-" if lapse.latency_ms is None else f"{lapse.latency_ms / 1000:.0f} s",
        )
        for lapse in d.lapses
    )
    note = "made on purpose by the pilot whom the tool played; after how long it was caught or put right"
    return Table("Lapses on purpose", ("at", "<by", "<what", "<lapse", "<", "after"), rows, note)


def lapse_data(lapse: LapseFate) -> dict[str, Any]:
    return {
        "at_ms": lapse.at,
        "seat": str(lapse.seat),
        "ref": lapse.ref,
        "kind": str(lapse.kind),
        "meaning": LAPSE_MEANING[lapse.kind],
        "fate": str(lapse.fate),
        "latency_ms": lapse.latency_ms,
        "deviations": list(lapse.slips),
    }
