"""`make bench`: prints what was measured, on what machine, beside its floors and peers; nothing is asserted on time."""

import gc

from tests.bench import arrival, core, debrief, drafting, files, peers, screen
from tests.bench.measure import machine, table

PARTS = (
    core.quiet_sample,
    core.evaluated_text,
    core.end_to_end,
    files.loading,
    files.acknowledged,
    arrival.briefing,
    debrief.debriefing,
    debrief.trends,
    drafting.vetting,
    drafting.trying,
    screen.starting,
    screen.painting,
    screen.keys,
    screen.crew,
)


def main() -> None:
    print(f"{machine()}\n")
    figures = []
    for part in PARTS:
        gc.collect()
        gc.freeze()  # what the parts before have left is nobody's to search
        figures += part()
    print(table(figures))
    print("\nThe same 40 conditions over a flight, on general libraries:\n")
    print(peers.table(peers.measure()))


if __name__ == "__main__":
    main()
