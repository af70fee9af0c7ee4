"""simpleeval: all conditions as one list, parsed once. The compound evaluator, since lists and `in` need it."""

from simpleeval import EvalWithCompoundTypes

from tests.bench.workload import BUILTINS, Run, Sample, as_list, followed


def parsed() -> Run:
    text = as_list()
    evaluator = EvalWithCompoundTypes(functions=dict(BUILTINS))
    tree = evaluator.parse(text)

    def look(sample: Sample) -> list[bool]:
        evaluator.names = sample
        return evaluator.eval(text, tree)

    return lambda flight: followed(look, flight)
