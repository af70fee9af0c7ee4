"""python-statemachine: one statechart, a parallel region for each condition, guards by `cond` and `unless`.

Guards are callables: its own text guards know no arithmetic, no sign, no call and no `in`, which a third of the
conditions need. A machine for each condition was measured too and takes twice as long.
"""

from collections.abc import Sequence
from typing import Any

from statemachine.io import create_machine_class_from_definition

from tests.bench.workload import Guard, Run, Sample, Trace, guards


class _Model:
    """What the guards ask: the library passes no argument that a guard does not name, and naming one costs more."""

    state: Any = None
    sample: Sample
    at = 0


def statechart() -> Run:
    trace: Trace = []
    model = _Model()
    regions = {f"c{n}": _region(n, guard, model, trace) for n, guard in enumerate(guards())}
    states: Any = {"all": {"initial": True, "parallel": True, "states": regions}}
    # An error in a guard is raised, not made an event of the chart.
    machine = create_machine_class_from_definition("Conditions", states, catch_errors_as_events=False)(model)

    def run(flight: Sequence[Sample]) -> Trace:
        for model.at, model.sample in enumerate(flight):
            machine.look()
        return trace

    return run


def _region(number: int, guard: Guard, model: _Model, trace: Trace) -> dict[str, Any]:
    def holds() -> bool:
        return guard(model.sample)

    def rose() -> None:
        trace.append((model.at, number, True))

    def fell() -> None:
        trace.append((model.at, number, False))

    rising = {"target": f"true{number}", "cond": holds, "on": rose}
    falling = {"target": f"false{number}", "unless": holds, "on": fell}
    return {
        "states": {
            f"false{number}": {"initial": True, "on": {"look": [rising]}},
            f"true{number}": {"on": {"look": [falling]}},
        }
    }
