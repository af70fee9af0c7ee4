"""sismic: one statechart, a region for each condition, guards as the text that they are.

An interpreter for each condition, and samples sent as events, were measured too; both take about twice as long.
"""

from collections.abc import Sequence

from sismic.interpreter import Interpreter
from sismic.model import BasicState, CompoundState, OrthogonalState, Statechart, Transition

from tests.bench.workload import TEXTS, Run, Sample, Trace


def statechart() -> Run:
    interpreter = Interpreter(_chart(), ignore_contract=True)
    interpreter.execute_once()  # enters the initial states; no guard is asked

    def run(flight: Sequence[Sample]) -> Trace:
        trace: Trace = []
        for at, sample in enumerate(flight):
            interpreter.context.update(sample)
            step = interpreter.execute_once()  # all regions in one step
            if step is not None:
                for name in step.entered_states:
                    number, state = name.split()
                    trace.append((at, int(number), state == "true"))
        return trace

    return run


def _chart() -> Statechart:
    chart = Statechart("conditions")
    chart.add_state(OrthogonalState("all"), None)
    for number, text in enumerate(TEXTS):
        false, true = f"{number} false", f"{number} true"
        chart.add_state(CompoundState(str(number), initial=false), "all")
        chart.add_state(BasicState(false), str(number))
        chart.add_state(BasicState(true), str(number))
        chart.add_transition(Transition(false, true, guard=text))
        chart.add_transition(Transition(true, false, guard=f"not ({text})"))
    return chart
