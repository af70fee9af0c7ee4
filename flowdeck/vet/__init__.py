"""The law of a sound deck: rules and proofs over a whole deck, beyond what its loader asks.

A rule is one small module of `flowdeck.vet.rules`; its docstring is its manual, `LEVEL` its weight, `SOURCE` where it
comes from. Rules see a deck that the loader has accepted; what the loader refuses ends the vetting before them.
"""

from collections.abc import Mapping

from msgspec import Struct
from msgspec.structs import replace

from flowdeck.model.diagnostic import Diagnostic
from flowdeck.phasefile.loaddeck import Loaded, load_with_places
from flowdeck.vet.accepted import Accepted, exceptions_in, sift
from flowdeck.vet.book import RULES
from flowdeck.vet.subject import Subject

__all__ = ["RULES", "Verdict", "vet"]


class Verdict(Struct, frozen=True, kw_only=True):
    """*findings* count, *accepted* do not; of *asked* questions to the prover *unsettled* stayed open."""

    loaded: Loaded
    findings: tuple[Diagnostic, ...]
    accepted: tuple[Accepted, ...]
    asked: int
    unsettled: int


def vet(folder: str, files: Mapping[str, bytes]) -> Verdict:
    """All that is wrong with a deck that can be loaded. Raises `Rejected` for one that cannot."""
    loaded = load_with_places(folder, files)
    subject = Subject(loaded.deck, loaded.places)
    found = [replace(note, level=RULES[note.kind].LEVEL) if note.kind in RULES else note for note in loaded.notes]
    said = {(note.kind, note.place.file, note.place.line) for note in found}
    for name, rule in RULES.items():
        for place, message in rule.find(subject):
            if (name, place.file, place.line) not in said:  # the loader has said it of a part
                found.append(Diagnostic(place=place, kind=name, message=message, level=rule.LEVEL))
    exceptions = [
        each
        for name, raw in files.items()
        for each in exceptions_in(f"{folder}/{name}", raw.decode("utf-8", errors="replace"))
    ]
    left, accepted = sift(sorted(set(found), key=_order), exceptions, RULES)
    return Verdict(
        loaded=loaded,
        findings=tuple(sorted(left, key=_order)),
        accepted=tuple(accepted),
        asked=subject.prover.asked,
        unsettled=subject.prover.unsettled,
    )


def _order(finding: Diagnostic) -> tuple[object, ...]:
    return finding.place, finding.kind, finding.message
