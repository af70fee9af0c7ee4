"""The machine of phases: from this phase, on this trigger, with these truths, where to?

The only module that knows the `transitions` library, and it takes no more from it than `Machine`
(its extensions load asyncio and sockets). Guards are closures over condition numbers; no text of a
file ever reaches `conditions`, `before` or `after`, since the library imports such text as dotted
paths. Live only: the answer is recorded as `PhaseEntered`, and replay asks no guard.

    phase --advance--> the first of its exits whose condition is true
    airborne phase (not the go-around itself) --go_around--> the go-around, until committed
"""

from collections.abc import Callable, Sequence
from typing import Any

from transitions import EventData, Machine

from flowdeck.model.condition import Truth
from flowdeck.model.deck import Deck


class _Asker:
    """The model that the library moves; one per question, so that nothing lingers."""

    state: str


class PhaseMachine:
    """Compiled once from a deck."""

    def __init__(self, deck: Deck) -> None:
        rows = _transitions(deck)
        self._known = {(row["source"], row["trigger"]) for row in rows}
        self._machine = Machine(
            model=None,
            states=[*deck.phases, *deck.ends],
            transitions=rows,
            initial=deck.start,
            auto_transitions=False,
            send_event=True,
            ignore_invalid_triggers=True,
        )

    def where_to(self, phase: str, trigger: str, truths: Sequence[Truth]) -> str | None:
        """The phase (or end) that *trigger* (`advance`, `go_around`) leads to, or None for nowhere."""
        if (phase, trigger) not in self._known:
            return None  # the library would log it, and a log has no place on a screen
        asker = _Asker()
        self._machine.add_model(asker, initial=phase)
        try:
            moved = self._machine.events[trigger].trigger(asker, truths=truths)
            return asker.state if moved else None
        finally:
            self._machine.remove_model(asker)


def _transitions(deck: Deck) -> list[dict[str, Any]]:
    rows: list[dict[str, Any]] = []
    for phase in deck.phases.values():
        for exit_ in phase.exits:
            rows.append(
                {"trigger": "advance", "source": phase.id, "dest": exit_.to, "conditions": [_is_true(exit_.when)]}
            )
        if phase.airborne and phase.id != deck.go_around:
            rows.append(
                {
                    "trigger": "go_around",
                    "source": phase.id,
                    "dest": deck.go_around,
                    "unless": [_is_true(deck.committed)],
                }
            )
    if not any(row["trigger"] == "go_around" for row in rows):
        rows.append(
            {"trigger": "go_around", "source": deck.start, "dest": deck.go_around, "conditions": [lambda _: False]}
        )
    return rows


def _is_true(number: int) -> Callable[[EventData], bool]:
    def guard(event: EventData) -> bool:
        return event.kwargs["truths"][number] is True

    return guard
