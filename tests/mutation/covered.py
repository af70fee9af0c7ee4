"""Which tests execute which lines, and how long each takes: one run of all tests, unchanged."""

import json
import sys
from collections.abc import Iterator
from pathlib import Path
from time import perf_counter
from typing import Any

import coverage
import pytest

from tests.mutation.child import in_child, run_tests

IMPORTED = ""
"""In place of a test: the line is executed while modules are imported, so any test may rest on it."""


class Watch:
    """Names the test to coverage, forgets what earlier tests left in caches, and takes the time."""

    def __init__(self, cov: coverage.Coverage) -> None:
        self._cov = cov
        self.seconds: dict[str, float] = {}
        self.generated: list[str] = []

    @pytest.hookimpl(hookwrapper=True)
    def pytest_collection(self) -> Iterator[None]:
        self._cov.switch_context(IMPORTED)
        yield

    @pytest.hookimpl(hookwrapper=True)
    def pytest_runtest_protocol(self, item: Any) -> Iterator[None]:
        for name, module in list(sys.modules.items()):
            if name.startswith("flowdeck."):
                for value in list(vars(module).values()):
                    if hasattr(value, "cache_clear"):
                        value.cache_clear()
        self._cov.switch_context(item.nodeid)
        began = perf_counter()
        yield
        self.seconds[item.nodeid] = perf_counter() - began
        if getattr(getattr(item, "obj", None), "is_hypothesis_test", False):
            self.generated.append(item.nodeid)


class Covered:
    """*lines*: by file, the tests of each line. *seconds*: by test. *generated*: tests of many generated examples."""

    def __init__(self, found: dict[str, Any]) -> None:
        self.lines: dict[str, dict[int, list[str]]] = {
            file: {int(line): tests for line, tests in lines.items()} for file, lines in found["lines"].items()
        }
        self.seconds: dict[str, float] = found["seconds"]
        self.generated: list[str] = found["generated"]

    def tests_of(self, file: str, first: int, last: int) -> set[str] | None:
        """The tests that execute one of these lines; None for all of them."""
        lines = self.lines.get(file, {})
        found = {test for line in range(first, last + 1) for test in lines.get(line, ())}
        return None if IMPORTED in found else found

    def in_order(self, tests: set[str] | None, own: str) -> tuple[list[str], list[str]]:
        """*tests* under *own*, quick ones first and generated ones last; and of other files that hold one, all tests.

        A test elsewhere often looks at a flight that another test of its file has flown, and executes no line itself.
        Generated tests elsewhere are left out.
        """
        known = set(self.seconds) if tests is None else tests
        files = {test.split("::")[0] for test in known if not test.startswith(own)}
        mine = [test for test in known if test.startswith(own)]
        others = [test for test in self.seconds if test.split("::")[0] in files and test not in self.generated]

        def rank(test: str) -> tuple[bool, float, str]:
            return test in self.generated, self.seconds[test], test

        return sorted(mine, key=rank), sorted(others, key=rank)


def watched(root: Path, packages: list[str], paths: list[str]) -> Covered | None:
    """The run over *paths*, None when a test fails there."""
    kept = root / "covered.json"

    def work() -> int:
        cov = coverage.Coverage(data_file=None, include=[f"{root}/{package}/*" for package in packages])
        watch = Watch(cov)
        cov.start()
        try:
            code = run_tests(paths, [watch])
        finally:
            cov.stop()
        data = cov.get_data()
        lines = {str(Path(file).relative_to(root)): data.contexts_by_lineno(file) for file in data.measured_files()}
        import flowdeck

        assert str(root) in str(flowdeck.__file__), "the tests run against another tree than the one that is changed"
        kept.write_text(json.dumps({"lines": lines, "seconds": watch.seconds, "generated": watch.generated}))
        return code

    code = in_child(root, work, 3600)
    return Covered(json.loads(kept.read_text())) if code == 0 else None
