"""An answer that says nothing: "set", "checked", "as required", "normal", "on or off".

The pilot must say what stands there, so that the other one hears a wrong value. Name the state (`DOWN`, `ON`), or let
it be read: `respond: "{pressure_left_hpa}"`.
"""

import re
from collections.abc import Iterator

from flowdeck.model.deck import ItemKind
from flowdeck.model.diagnostic import Level
from flowdeck.vet.subject import Finding, Subject

LEVEL = Level.ERROR
SOURCE = "CR-177549 App. A(4), AC 120-71B s5.4 (second-hand)"
_VAGUE = frozenset(
    (
        "set",
        "checked",
        "confirmed",
        "verified",
        "check",
        "as required",
        "as needed",
        "as necessary",
        "if required",
        "normal",
        "ok",
        "okay",
        "good",
    )
)
_EITHER = re.compile(r"\b(on|off|up|down|open|closed)\s*(?:/|or)\s*(on|off|up|down|open|closed)\b", re.I)


def find(s: Subject) -> Iterator[Finding]:
    for item in s.deck.items.values():
        if item.kind in (ItemKind.CALL, ItemKind.ANSWER):
            continue
        parts = [part.strip(" .") for part in re.split(r"\band\b|[,;/&]", item.to.lower()) if part.strip(" .")]
        if parts and all(part in _VAGUE and not _is_state(s, item.seen, part) for part in parts):
            yield s.answered(item), f"'{item.to}' does not say what stands there; name the state or the value"
        elif _EITHER.search(item.to):
            yield s.answered(item), f"'{item.to}' allows either; name the one that is right, or read it: {{signal}}"


def _is_state(s: Subject, row: int | None, word: str) -> bool:
    """Whether the word is the very state that the aeroplane shows, as a brake's `set` is."""
    return row is not None and f"'{word}'" in s.text(row)
