"""A trial as JSON: keys that stay, units in their names; what hangs on the machine stands under `timing` alone."""

from typing import Any

from flowdeck import DISCLAIMER
from flowdeck.trial.batch.findings import COUNTS, findings_of
from flowdeck.trial.batch.total import Total
from flowdeck.view.words import deck_line


def trial_data(total: Total, timing: dict[str, float | int]) -> dict[str, Any]:
    """Everything that the text and the page show, and what they leave out."""
    conditions = total.deck.conditions
    return {
        "deck": deck_line(total.deck),
        "disclaimer": DISCLAIMER,
        "scenario": total.scenario,
        "seed": total.seed,
        "runs": total.runs,
        "ends": total.ends,
        "findings": [
            {"kind": str(f.kind), "counts": f.kind in COUNTS, "ref": f.ref, "words": f.words}
            for f in findings_of(total)
        ],
        "dead_ends": [
            {"run": each.run, "phase": each.stuck, "waits_for": each.why, "flown_s": each.flown_s}
            for each in total.stuck
        ],
        "owed": {ref: times._asdict() for ref, times in total.times.items()},
        "gates": {ref: gate._asdict() for ref, gate in total.gates.items()},
        "workload": [busy._asdict() for busy in total.busy],
        "phases": total.phases,
        "deviations": total.slips,
        "conditions": {
            "all": len(conditions),
            "seen_both_ways": total.both_seen,
            "never_true": [conditions[row].text for row in total.never_true],
            "never_false": [conditions[row].text for row in total.never_false],
        },
        "timing": timing,
    }
