"""Figures that tests have measured are printed after the results, from every worker."""

from collections.abc import Callable

import pytest
from hypothesis import settings

settings.register_profile("project", deadline=None)  # a busy machine is no defect
settings.load_profile("project")

Measured = Callable[[str], None]


@pytest.fixture
def measured(record_property: Callable[[str, object], None]) -> Measured:
    """Call it with a line to print at the end of the run, whether the test passes or not."""
    return lambda line: record_property("measured", line)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """What takes longest begins first, so that nothing waits for it alone at the end: `soak(first=True)`."""

    def is_first(item: pytest.Item) -> bool:
        marker = item.get_closest_marker("soak")
        return marker is not None and bool(marker.kwargs.get("first"))

    items.sort(key=lambda item: not is_first(item))


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    reports = [r for kind in ("passed", "failed") for r in terminalreporter.getreports(kind)]
    lines = [(r.nodeid, value) for r in reports for name, value in r.user_properties if name == "measured"]
    if lines:
        terminalreporter.section("measured")
    for node, line in lines:
        terminalreporter.write_line(f"{node.partition('::')[2]}: {line}")
