"""The built wheel, installed on its own, carries decks and scenarios and flies."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent


@pytest.mark.wheel
def test_the_wheel_flies_on_its_own(tmp_path: Path) -> None:
    """Built without isolation (hatchling is installed), unpacked beside nothing of the source tree, and rehearsed."""
    build = [sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", str(tmp_path), str(ROOT)]
    subprocess.run(build, check=True, capture_output=True, timeout=300)
    [wheel] = tmp_path.glob("*.whl")
    site = tmp_path / "site"
    install = [sys.executable, "-m", "pip", "install", "--quiet", "--no-deps", "--no-index", "--target", str(site)]
    subprocess.run([*install, str(wheel)], check=True, capture_output=True, timeout=300)
    code = (
        "import sys; sys.path.insert(0, sys.argv[1])\n"
        "import flowdeck; assert flowdeck.__file__.startswith(sys.argv[1]), flowdeck.__file__\n"
        "from flowdeck.cli.main import main\n"
        "sys.exit(main(['rehearse', 'clean', '--json']))"
    )
    run = [sys.executable, "-I", "-c", code, str(site)]
    result = subprocess.run(run, capture_output=True, text=True, cwd=tmp_path, timeout=300)
    assert result.returncode == 0, result.stderr
    report = json.loads(result.stdout)
    assert report["end"] == "secured" and report["deviations"] == []
    assert (site / "flowdeck" / "bundled" / "phases" / "twinjet" / "deck.yaml").is_file()
    assert len(list((site / "flowdeck" / "bundled" / "scenarios").glob("*.yaml"))) >= 6
    assert (site / "flowdeck" / "tui" / "flowdeck.tcss").is_file()
