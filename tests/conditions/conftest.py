"""A small deck's worth of names, and helpers to read texts against it."""

from collections.abc import Callable

import pytest

from flowdeck.conditions import Names, Table
from flowdeck.model.catalogue import by_name
from flowdeck.model.diagnostic import Diagnostic, Place

Find = Callable[[str], list[Diagnostic]]


@pytest.fixture
def names() -> Names:
    return Names(
        signals=by_name(),
        facts=frozenset({"visual", "near_runway"}),
        phases=frozenset({"approach", "landing"}),
        refs=frozenset({"gear-down", "landing-list"}),
        marks=frozenset({"touchdown"}),
    )


@pytest.fixture
def find(names: Names) -> Find:
    """Findings of one text that begins at a.yaml:14:9."""

    def findings(text: str) -> list[Diagnostic]:
        table = Table(names)
        table.add(text, Place("a.yaml", 14, 9))
        return table.findings

    return findings
