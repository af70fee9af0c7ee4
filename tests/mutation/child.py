"""One run of pytest in a forked child: everything is imported anew there, so that nothing of an earlier run is left."""

import os
import resource
import signal
import sys
import traceback
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import pytest

_LOADED = "ignore:Module already imported:pytest.PytestAssertRewriteWarning"  # on purpose, before the fork
ARGUMENTS = [
    *("-x", "-q", "--no-header", "--tb=no", "-W", _LOADED),
    *("-p", "no:cacheprovider", "-p", "no:xdist", "--hypothesis-profile=ci"),
]
"""Stop at the first failure. The profile is hypothesis's own: the same examples each time."""
OUTPUT = "output"
"""The file of the copy that holds what the last child printed."""
_MOST_BYTES = 3 << 30
TIMED_OUT = -1


def in_child(root: Path, work: Callable[[], int], limit_s: float) -> int:
    """What *work* returns in a child whose modules are those under *root*; `TIMED_OUT` if it takes over *limit_s*."""
    pid = os.fork()
    if pid == 0:
        code = 3
        try:
            signal.signal(signal.SIGALRM, signal.SIG_DFL)
            signal.setitimer(signal.ITIMER_REAL, limit_s)
            resource.setrlimit(resource.RLIMIT_AS, (_MOST_BYTES, _MOST_BYTES))
            _move_to(root)
            code = work()
        except BaseException:
            traceback.print_exc()
        finally:
            os._exit(code)
    _, status = os.waitpid(pid, 0)
    if os.WIFSIGNALED(status):
        return TIMED_OUT if os.WTERMSIG(status) == signal.SIGALRM else 3
    return os.WEXITSTATUS(status)


def _move_to(root: Path) -> None:
    os.chdir(root)
    for name in [name for name in sys.modules if name.split(".")[0] in ("tests", "flowdeck")]:
        del sys.modules[name]
    sys.path[0] = str(root)
    said = os.open(root / OUTPUT, os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
    os.dup2(said, 1)
    os.dup2(said, 2)


class Chosen:
    """Runs only the tests in *chosen* (all if None), in the order of *rank*, and notes the first that fails."""

    def __init__(self, chosen: frozenset[str] | None, rank: dict[str, int], note: Path) -> None:
        self._chosen, self._rank, self._note = chosen, rank, note

    def pytest_collection_modifyitems(self, items: list[Any]) -> None:
        if self._chosen is not None:
            items[:] = [item for item in items if item.nodeid in self._chosen]
        items.sort(key=lambda item: self._rank.get(item.nodeid, 0))

    def pytest_runtest_logreport(self, report: Any) -> None:
        if report.failed and not self._note.exists():
            self._note.write_text(report.nodeid)

    def pytest_collectreport(self, report: Any) -> None:
        if report.failed and not self._note.exists():
            self._note.write_text(f"{report.nodeid or 'collection'} (cannot be collected)")


def run_tests(paths: Sequence[str], plugins: Sequence[object]) -> int:
    return int(pytest.main([*ARGUMENTS, *paths], plugins=list(plugins)))
