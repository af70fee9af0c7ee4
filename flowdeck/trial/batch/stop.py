"""When a trial has seen enough. The law: it looks at runs in their order alone, so it stops at the same one always."""

from typing import Literal, TypeAlias

from flowdeck.trial.batch.outcome import Outcome

Until: TypeAlias = Literal["end", "dead-end", "nothing-new"]
QUIET_RUNS = 50
"""So many flights in a row that show no condition in a new light are enough."""


class Stop:
    """Told of each run in order; says after each whether it was the last that was needed."""

    def __init__(self, until: Until) -> None:
        self._until = until
        self._true = self._false = 0
        self._quiet = 0

    def after(self, outcome: Outcome) -> bool:
        """Whether no more runs are needed after this one."""
        match self._until:
            case "end":
                return False
            case "dead-end":
                return not outcome.end
            case "nothing-new":
                seen = self._true | outcome.seen_true, self._false | outcome.seen_false
                self._quiet = self._quiet + 1 if seen == (self._true, self._false) else 0
                self._true, self._false = seen
                return self._quiet >= QUIET_RUNS
