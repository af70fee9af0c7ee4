"""The floors: Python's own comparisons, with nothing around them."""

from tests.bench.workload import BUILTINS, Run, as_list, bare, followed


def function() -> Run:
    """All comparisons in one function, as a hand would write them."""
    look = bare()
    return lambda flight: followed(look, flight)


def eval_code() -> Run:
    """`eval` of all conditions, compiled beforehand."""
    code, known = compile(as_list(), "<conditions>", "eval"), {"__builtins__": BUILTINS}
    return lambda flight: followed(lambda sample: eval(code, known, sample), flight)


def eval_text() -> Run:
    """`eval` of all conditions as text, read anew for each sample."""
    text, known = as_list(), {"__builtins__": BUILTINS}
    return lambda flight: followed(lambda sample: eval(text, known, sample), flight)
