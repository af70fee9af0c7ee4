"""py-trees: a parallel of 40 behaviours, each waiting (running) until its condition holds (success).

Success and running, not success and failure: a parallel that has come to an end resets its children at the next
tick, and what they were would be lost. The parallel is ticked without a tree around it, which is faster.
"""

from collections.abc import Sequence

from py_trees.behaviour import Behaviour
from py_trees.blackboard import Client
from py_trees.common import Access, ParallelPolicy, Status
from py_trees.composites import Parallel
from py_trees.trees import BehaviourTree

from tests.bench.workload import Guard, Run, Sample, Trace, guards


class _Now:
    """What all behaviours of one tree share."""

    sample: Sample
    at = 0

    def __init__(self) -> None:
        self.trace: Trace = []


class _Holds(Behaviour):
    """Succeeds while its condition holds; reads the sample where the constructor said."""

    def __init__(self, number: int, guard: Guard, now: _Now) -> None:
        super().__init__(f"c{number}")
        self._number, self._guard, self._now = number, guard, now

    def update(self) -> Status:
        return self.judged(self._now.sample)

    def judged(self, sample: Sample) -> Status:
        holds = self._guard(sample)
        if holds is not (self.status is Status.SUCCESS):
            self._now.trace.append((self._now.at, self._number, holds))
        return Status.SUCCESS if holds else Status.RUNNING


class _BoardHolds(_Holds):
    """The same, but the sample stands on the blackboard."""

    def __init__(self, number: int, guard: Guard, now: _Now) -> None:
        super().__init__(number, guard, now)
        self._board = self.attach_blackboard_client()
        self._board.register_key("sample", Access.READ)

    def update(self) -> Status:
        return self.judged(self._board.sample)


def _parallel(kind: type[_Holds], now: _Now) -> Parallel:
    children = [kind(number, guard, now) for number, guard in enumerate(guards())]
    return Parallel("all", ParallelPolicy.SuccessOnAll(synchronise=False), children)


def shared_object() -> Run:
    now = _Now()
    root = _parallel(_Holds, now)

    def run(flight: Sequence[Sample]) -> Trace:
        for now.at, now.sample in enumerate(flight):
            root.tick_once()
        return now.trace

    return run


def blackboard() -> Run:
    now = _Now()
    tree = BehaviourTree(_parallel(_BoardHolds, now))
    board = Client(name="readings")
    board.register_key("sample", Access.WRITE)

    def run(flight: Sequence[Sample]) -> Trace:
        for now.at, board.sample in enumerate(flight):
            tree.tick()
        return now.trace

    return run
