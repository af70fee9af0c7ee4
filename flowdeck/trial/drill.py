"""A drill: a scenario in which something comes between just when the items that are missed most come due.

The law: the drill is the text of a sound scenario with happenings added; it says of each why it is there. What was
missed is not marked on the screen: it is to be found by the crew.
"""

import re
from collections.abc import Sequence
from itertools import cycle

from flowdeck.debrief.trends import ItemTrend
from flowdeck.model.deck import Deck
from flowdeck.model.deviation import severity
from flowdeck.model.diagnostic import visible

MOST = 5
"""Happenings that one flight can bear."""
_BETWEEN = (
    ("Cabin: one question, when you have a moment.", 12),
    ("Company on the radio: is it still the same stand?", 15),
    ("Cabin: a passenger would like to know the connection to the north.", 14),
)
"""What comes between, in the air and on the ground, and for how many seconds (our proposal)."""


class Undrillable(ValueError):
    """No drill can be made of this: says why."""


def drilled(deck: Deck, items: Sequence[ItemTrend]) -> tuple[ItemTrend, ...]:
    """The items that a drill opens: those the deck knows, what is more than advice first, then the most often missed.

    One for each moment: two things do not come between at once. Gates are flown in any flight.
    """
    found: dict[str, ItemTrend] = {}
    for each in sorted(items, key=lambda item: not severity(item.slip).is_weighty):
        if each.item in deck.items or each.item in deck.checklists:
            found.setdefault(_opening(deck, each.item), each)
    return tuple(found.values())[:MOST]


def drill(deck: Deck, base: str, items: Sequence[ItemTrend]) -> str:
    """The text of a scenario file. *base*: that of a scenario with happenings. Raises `Undrillable`."""
    chosen = drilled(deck, items)
    if not chosen:
        raise Undrillable("nothing has slipped that this deck knows")
    lines = base.splitlines()
    at = next((i for i, line in enumerate(lines) if line.rstrip() == "happenings:"), None)
    if at is None:
        raise Undrillable("the scenario to build on has no happenings")
    added: list[str] = []
    for number, (each, (words, seconds)) in enumerate(zip(chosen, cycle(_BETWEEN), strict=False), start=1):
        kind = each.slip.replace("_", " ")
        added += [
            f"  # {visible(each.title)}: {kind} {each.whole.n} of {each.whole.of}",
            f"  - happening: drill-{number}",
            f"    when: {_quoted(_opening(deck, each.item))}",
            "    after_s: 1",
            f"    words: {_quoted(words)}",
            f"    interrupts_s: {seconds}",
        ]
    text = "\n".join([*lines[: at + 1], *added, *lines[at + 1 :]]) + "\n"
    text = re.sub(r"(?m)^scenario: .*$", "scenario: drill", text, count=1)
    return re.sub(r"(?m)^title: (.*)$", lambda title: f"title: {_quoted(f'Drill. {_bare(title[1])}')}", text, count=1)


def _opening(deck: Deck, ref: str) -> str:
    """The condition that opens an item or list, as it is written; the phase where nothing else does."""
    owner = next((each for each in deck.checklists.values() if ref == each.id or ref in each.lines), None)
    opens = owner.opens if owner is not None else deck.items[ref].opens
    if opens is not None:
        return deck.conditions[opens].text
    return f"phase == '{deck.items[ref].phases[0]}'"


def _quoted(text: str) -> str:
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'


def _bare(text: str) -> str:
    return text.strip().strip("\"'")
