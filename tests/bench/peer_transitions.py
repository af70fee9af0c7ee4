"""transitions: one light `Machine` with a model for each condition, its guard on the transitions.

`Machine.dispatch` to all models, and a machine for each condition, were measured too and are no faster.
"""

from collections.abc import Sequence

from transitions import Machine

from tests.bench.workload import Guard, Run, Sample, Trace, guards

_TRANSITIONS = [
    {"trigger": "look", "source": "false", "dest": "true", "conditions": "holds", "after": "rose"},
    {"trigger": "look", "source": "true", "dest": "false", "unless": "holds", "after": "fell"},
]


class _Model:
    def __init__(self, number: int, holds: Guard, trace: Trace) -> None:
        self._number, self.holds, self._trace = number, holds, trace
        self.at = 0

    def rose(self, _sample: Sample) -> None:
        self._trace.append((self.at, self._number, True))

    def fell(self, _sample: Sample) -> None:
        self._trace.append((self.at, self._number, False))


def machine() -> Run:
    trace: Trace = []
    models = [_Model(number, guard, trace) for number, guard in enumerate(guards())]
    Machine(models, states=["false", "true"], initial="false", transitions=_TRANSITIONS, auto_transitions=False)

    def run(flight: Sequence[Sample]) -> Trace:
        for at, sample in enumerate(flight):
            for model in models:
                model.at = at
                model.look(sample)
        return trace

    return run
