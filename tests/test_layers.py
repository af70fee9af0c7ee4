"""The house stands as it is drawn: what the core loads, and that the drawing is checked."""

import subprocess
import sys

import pytest


def _loaded_by(statement: str) -> set[str]:
    """Names of the modules that a fresh interpreter has loaded after *statement*."""
    code = f"import sys\n{statement}\nprint('\\n'.join(sys.modules))"
    result = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=60)
    return set(result.stdout.split())


@pytest.mark.parametrize(
    ("statement", "unwanted"),
    [
        ("import flowdeck.engine", {"textual", "asyncio", "yaml", "pydantic"}),
        ("import flowdeck.trial.rehearse", {"textual", "asyncio", "yaml", "pydantic"}),
        (
            "import flowdeck.cli.main",
            {"textual", "asyncio", "yaml", "pydantic", "msgspec", "transitions", "websockets"},
        ),
        ("import flowdeck.cli.rehearse", {"textual", "asyncio", "websockets"}),
        ("import flowdeck.cli.fly, flowdeck.tui.app", {"websockets"}),
        ("import flowdeck.cli.host, flowdeck.cli.join", {"textual"}),
        ("import flowdeck.wire.link.hosting, flowdeck.wire.link.following", {"asyncio", "websockets", "yaml"}),
        ("import flowdeck.cli.vet", {"textual", "asyncio", "transitions"}),
    ],
)
def test_what_is_not_loaded(statement: str, unwanted: set[str]) -> None:
    """The engine pulls in no screen, no loop and no YAML; the help pulls in next to nothing."""
    assert not unwanted & _loaded_by(statement)
