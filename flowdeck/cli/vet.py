"""`flowdeck vet DECK...`: all that the loader finds, with places."""

import argparse
import json
import sys
from collections import Counter

from flowdeck.live.bundled import read_deck
from flowdeck.model.deck import Deck, ItemKind
from flowdeck.model.diagnostic import Diagnostic, Rejected

EXAMPLE = "example:\n  flowdeck vet twinjet\n  flowdeck vet --json phases/twinjet"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.description = (parser.description or "") + "\n\n" + EXAMPLE
    parser.add_argument("decks", nargs="+", metavar="DECK", help="a deck's folder, or the name of a bundled deck")
    parser.add_argument("--json", action="store_true", help="print findings and counts as JSON")


def run(options: argparse.Namespace) -> int:
    findings: list[Diagnostic] = []
    counts: Counter[str] = Counter()
    unusable = False
    for name in options.decks:
        try:
            deck, notes = read_deck(name)
        except Rejected as rejected:
            findings += rejected.findings
            unusable = True
        else:
            findings += notes
            counts.update(count(deck))
    if options.json:
        print(json.dumps({"findings": [as_dict(f) for f in findings], "counts": dict(counts)}, indent=2))
    else:
        for finding in findings:
            print(finding, file=sys.stderr if unusable else sys.stdout)
        if counts:
            print(", ".join(f"{number} {kind.replace('_', ' ')}" for kind, number in counts.items()))
    return 2 if unusable else 1 if findings else 0


def count(deck: Deck) -> dict[str, int]:
    """How many things of each kind a deck holds."""
    kinds = Counter(item.kind for item in deck.items.values())
    return {
        "phases": len(deck.phases),
        "items": kinds[ItemKind.ACTION],
        "lines": kinds[ItemKind.LINE],
        "calls": kinds[ItemKind.CALL],
        "answers": kinds[ItemKind.ANSWER],
        "standing_items": kinds[ItemKind.STANDING_ON],
        "checklists": len(deck.checklists),
        "holds": sum(len(c.holds) for c in deck.checklists.values()),
        "gates": len(deck.gates),
        "conditions": len(deck.conditions),
    }


def as_dict(finding: Diagnostic) -> dict[str, object]:
    return {
        "file": finding.place.file,
        "line": finding.place.line,
        "column": finding.place.column,
        "level": str(finding.level),
        "kind": finding.kind,
        "message": finding.message,
    }
