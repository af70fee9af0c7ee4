"""A verdict in the format for results of static analysis (SARIF 2.1.0, OASIS), which editors and code hosts show."""

from collections.abc import Iterable
from typing import Any

from flowdeck import __version__
from flowdeck.model.diagnostic import Diagnostic, Level
from flowdeck.vet.accepted import Accepted
from flowdeck.vet.book import RULES

SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
_LEVELS = {Level.ERROR: "error", Level.WARNING: "warning", Level.INFO: "note"}


def sarif(findings: Iterable[Diagnostic], accepted: Iterable[Accepted]) -> dict[str, Any]:
    """One run with its rules; accepted findings are results that are suppressed in the source, with their reason."""
    results = [_result(finding) for finding in findings]
    for each in accepted:
        suppressed = {"kind": "inSource", "justification": each.reason}
        results.append({**_result(each.finding), "suppressions": [suppressed]})
    driver = {"name": "flowdeck", "version": __version__, "rules": _rules({str(r["ruleId"]) for r in results})}
    return {"$schema": SCHEMA, "version": "2.1.0", "runs": [{"tool": {"driver": driver}, "results": results}]}


def _rules(used: set[str]) -> list[dict[str, Any]]:
    found = []
    for name in sorted(used | set(RULES)):
        rule: dict[str, Any] = {"id": name}
        if name in RULES:
            short, _, rest = (RULES[name].__doc__ or "").strip().partition("\n\n")
            rule["shortDescription"] = {"text": " ".join(short.split())}
            rule["fullDescription"] = {"text": " ".join((rest or short).split())}
            rule["help"] = {"text": f"Source: {RULES[name].SOURCE}"}
            rule["defaultConfiguration"] = {"level": _LEVELS[RULES[name].LEVEL]}
        found.append(rule)
    return found


def _result(finding: Diagnostic) -> dict[str, Any]:
    where: dict[str, Any] = {"artifactLocation": {"uri": finding.place.file.replace("\\", "/")}}
    if finding.place.line:
        where["region"] = {"startLine": finding.place.line, "startColumn": finding.place.column}
    return {
        "ruleId": finding.kind,
        "level": _LEVELS[finding.level],
        "message": {"text": finding.message},
        "locations": [{"physicalLocation": where}],
    }
