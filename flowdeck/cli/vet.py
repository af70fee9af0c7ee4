"""`flowdeck vet DECK...`: all that is wrong with a deck, by its loader first and then by every rule and proof."""

import argparse
import json
import sys
from collections import Counter
from typing import Any

from flowdeck.live.bundled import deck_files
from flowdeck.live.collecting import no_collecting
from flowdeck.model.deck import Deck, ItemKind
from flowdeck.model.diagnostic import Diagnostic, Level, Rejected
from flowdeck.vet import RULES, Verdict, vet
from flowdeck.vet.book import manual

EXAMPLE = """example:
  flowdeck vet twinjet
  flowdeck vet --strict --sarif phases/twinjet > findings.sarif
  flowdeck vet --explain critical-late

A finding that is meant is accepted by a comment above its line, with the reason:
  # accepted list-too-long: the ten lines are one row of switches and take twelve seconds"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.description = (parser.description or "") + "\n\n" + EXAMPLE
    parser.add_argument(
        "decks", nargs="*", metavar="DECK", help="a deck's folder, a file in it, or the name of a bundled deck"
    )
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="print findings and counts as JSON")
    form.add_argument("--sarif", action="store_true", help="print them as SARIF 2.1.0")
    parser.add_argument("--strict", action="store_true", help="let notes count as findings too")
    parser.add_argument(
        "--explain", metavar="RULE", nargs="?", const="", help="print the manual of a rule; without a name, all rules"
    )


def run(options: argparse.Namespace) -> int:
    if options.explain is not None:
        return _explain(options.explain)
    if not options.decks:
        print("name a deck: flowdeck vet twinjet", file=sys.stderr)
        return 2
    verdicts: list[Verdict] = []
    rejected: list[Diagnostic] = []
    seen: set[str] = set()
    for name in options.decks:
        try:
            folder, files = deck_files(name)
            if folder in seen:
                continue  # several files of one deck
            seen.add(folder)
            with no_collecting():
                verdicts.append(vet(folder, files))
        except Rejected as refused:
            rejected += refused.findings
    findings = [*rejected, *(finding for verdict in verdicts for finding in verdict.findings)]
    if options.json:
        print(json.dumps(_as_dict(findings, verdicts), indent=2))
    elif options.sarif:
        from flowdeck.vet.sarif import sarif

        accepted = [each for verdict in verdicts for each in verdict.accepted]
        print(json.dumps(sarif(findings, accepted), indent=2))
    else:
        _print(findings, verdicts, bool(rejected))
    counted = [f for f in findings if options.strict or f.level is not Level.INFO]
    return 2 if rejected else 1 if counted else 0


def _print(findings: list[Diagnostic], verdicts: list[Verdict], refused: bool) -> None:
    for finding in findings:
        print(finding, file=sys.stderr if refused else sys.stdout)
    for verdict in verdicts:
        identity = verdict.loaded.deck.identity
        print(f"{identity.title} {identity.version}: {_counts(count(verdict.loaded.deck))}")
        if verdict.accepted:
            print(f"{len(verdict.accepted)} findings accepted with a reason")
        if verdict.unsettled:
            open_ = f"{verdict.unsettled} of {verdict.asked} questions could not be settled"
            print(f"{open_}; pip install 'flowdeck[proof]' settles products of readings", file=sys.stderr)


def _counts(counts: dict[str, int]) -> str:
    return ", ".join(f"{number} {kind.replace('_', ' ')}" for kind, number in counts.items())


def _explain(name: str) -> int:
    if not name:
        for rule, module in RULES.items():
            first = " ".join((module.__doc__ or "").strip().partition("\n\n")[0].split())
            print(f"{rule:24} {module.LEVEL:8} {first}")
        return 0
    if name not in RULES:
        from flowdeck.model.likeness import near

        close = near(name, RULES)
        hint = f"did you mean '{close}'?" if close else "flowdeck vet --explain lists them"
        print(f"there is no rule '{name}'; {hint}", file=sys.stderr)
        return 2
    print(manual(name))
    return 0


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


def _as_dict(findings: list[Diagnostic], verdicts: list[Verdict]) -> dict[str, Any]:
    counts: Counter[str] = Counter()
    for verdict in verdicts:
        counts.update(count(verdict.loaded.deck))
    return {
        "findings": [as_dict(finding) for finding in findings],
        "accepted": [
            {**as_dict(each.finding), "reason": each.reason} for verdict in verdicts for each in verdict.accepted
        ],
        "counts": dict(counts),
        "proof": {"asked": sum(v.asked for v in verdicts), "unsettled": sum(v.unsettled for v in verdicts)},
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
