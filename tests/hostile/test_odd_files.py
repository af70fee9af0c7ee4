"""Files that are no files, or far too large: refused at once, without a wait and without reading them into memory.

They are read in another process, so that its memory can be limited and an endless wait be ended.
"""

import json
import os
import select
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import pytest

from tests.hostile import sources

HUGE = 100_000_000
SECONDS = 1.0
"""Time by the clock that refusing may take."""
MEGABYTES = 25
"""Memory that refusing may take beyond that of the loaded program."""
PATIENCE_S = 6.0
"""A process that is not done by then is ended."""

CHILD = """
import json, resource, sys, time, tracemalloc
resource.setrlimit(resource.RLIMIT_AS, (1_500_000_000, resource.getrlimit(resource.RLIMIT_AS)[1]))
from flowdeck.live.bundled import read_deck, read_scenario
from flowdeck.live.journal import Journal, read_file
from flowdeck.live.keymap import read_keymap
from flowdeck.model.diagnostic import Rejected
from flowdeck.tui.keys import KEYS

LOADERS = {
    "deck": lambda path: read_deck(path),
    "scenario": lambda path: read_scenario(path),
    "keys": lambda path: read_keymap(path, {action.name: action.key for action in KEYS}),
    "journal": lambda path: read_file(path),
    "journal to go on with": lambda path: Journal.resume(path)[0].close(),
}
for line in sys.stdin:
    kind, path, exactly = json.loads(line)
    if exactly:
        tracemalloc.start()
    before, begun = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss, time.monotonic()
    fault, findings = "", []
    try:
        LOADERS[kind](path)
    except Rejected as rejected:
        findings = [str(finding) for finding in rejected.findings]
    except BaseException as error:
        fault = f"{type(error).__name__}: {error}"
    spent = time.monotonic() - begun
    peak = (resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before) / 1000
    if exactly:
        peak = max(peak, tracemalloc.get_traced_memory()[1] / 1e6)
        tracemalloc.stop()
    print(json.dumps({"fault": fault, "findings": findings, "seconds": spent, "megabytes": peak}), flush=True)
"""


class Read(NamedTuple):
    """What became of a file. *fault*: an exception that is none of findings, or an endless wait."""

    fault: str
    findings: list[str]
    seconds: float
    megabytes: float


class Reader:
    """A process that reads what it is told to, and is ended when it is not done in time."""

    def __init__(self) -> None:
        self._child: subprocess.Popen[bytes] | None = None

    def read(self, kind: str, path: Path | str, *, exactly: bool = True) -> Read:
        """*exactly*: memory is counted to the byte, which takes time; otherwise as the system sees it."""
        if self._child is None:
            pipe = subprocess.PIPE
            self._child = subprocess.Popen([sys.executable, "-c", CHILD], stdin=pipe, stdout=pipe, cwd=sources.ROOT)
        child = self._child
        assert child.stdin is not None and child.stdout is not None
        child.stdin.write(json.dumps([kind, str(path), exactly]).encode() + b"\n")
        child.stdin.flush()
        ready, _, _ = select.select([child.stdout], [], [], PATIENCE_S)
        line = child.stdout.readline() if ready else b""
        if not line:
            self.close()
            return Read(f"not done after {PATIENCE_S:.0f} s" if not ready else "the process died", [], PATIENCE_S, 0.0)
        found = Read(**json.loads(line))
        print(f"{kind}: {found.seconds:.2f} s, {found.megabytes:.0f} MB, {found.fault or found.findings[:1]}")
        return found

    def refused(self, kind: str, path: Path | str, words: str = "") -> None:
        found = self.read(kind, path)
        assert found.fault == ""
        assert len(found.findings) == 1 and words in found.findings[0], found.findings
        assert found.seconds < SECONDS and found.megabytes < MEGABYTES

    def close(self) -> None:
        if self._child is not None:
            self._child.kill()
            self._child.communicate()
            self._child = None


@pytest.fixture(scope="module")
def reader() -> Iterator[Reader]:
    found = Reader()
    yield found
    found.close()


@pytest.fixture
def fresh() -> Iterator[Reader]:
    """A process that has read nothing yet."""
    found = Reader()
    yield found
    found.close()


KINDS = ("deck", "scenario", "keys", "journal", "journal to go on with")


@pytest.fixture(scope="module")
def huge(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """A folder with a file of 100 MB of good lines, one of a hole, and one of a journal's lines."""
    folder = tmp_path_factory.mktemp("huge")
    line = b"abcdefgh: 'a text that is good'\n"
    (folder / "lines").write_bytes(line * (HUGE // len(line) + 1))
    with (folder / "hole").open("wb") as file:
        file.truncate(HUGE)
    with (folder / "larger hole").open("wb") as file:
        file.truncate(3 * HUGE)
    lines = sources.journal_lines()
    (folder / "journal").write_bytes(b"".join(lines) + lines[-1] * (HUGE // len(lines[-1])))
    yield folder
    for path in folder.iterdir():
        path.unlink()


def deck_folder(folder: Path) -> Path:
    for name, raw in sources.full_files().items():
        (folder / name).write_bytes(raw)
    return folder


@pytest.mark.parametrize("content", ["lines", "hole"])
@pytest.mark.parametrize("kind", ["scenario", "keys"])
def test_a_hundred_megabytes_are_refused_unread(kind: str, content: str, huge: Path, reader: Reader) -> None:
    reader.refused(kind, huge / content, "at most")


@pytest.mark.parametrize("content", ["lines", "hole"])
@pytest.mark.parametrize("name", ["deck.yaml", "landing.yaml", "more.yml"])
def test_a_deck_with_a_file_of_a_hundred_megabytes_is_refused(
    name: str, content: str, huge: Path, tmp_path: Path, reader: Reader
) -> None:
    (deck_folder(tmp_path) / name).unlink(missing_ok=True)
    (tmp_path / name).symlink_to(huge / content)
    reader.refused("deck", tmp_path, name)


@pytest.mark.parametrize("kind", ["journal", "journal to go on with"])
def test_three_hundred_megabytes_are_no_journal(kind: str, huge: Path, reader: Reader) -> None:
    reader.refused(kind, huge / "larger hole", "at most")


@pytest.mark.parametrize("content", ["lines", "hole", "journal"])
def test_a_journal_of_a_hundred_megabytes(content: str, huge: Path, fresh: Reader) -> None:
    """Below the limit (it would be a flight of days): read, in time and memory in proportion to it."""
    found = fresh.read("journal", huge / content, exactly=False)
    assert found.fault == "" and 0 < len(found.findings) < 50
    assert found.seconds < 5 and found.megabytes < 5 * HUGE / 1e6


def test_a_journal_of_empty_lines(tmp_path: Path, fresh: Reader) -> None:
    """Four million of them after the header: a few findings, in time and memory that fit the file of 4 MB."""
    path = tmp_path / "empty.journal"
    path.write_bytes(sources.header() + b"\n" * 4_000_000)
    found = fresh.read("journal", path, exactly=False)
    assert found.fault == "" and 0 < len(found.findings) < 50
    assert found.seconds < 5 and found.megabytes < 200


@pytest.mark.parametrize("size", [1_999_000, 7_999_000])
def test_a_deck_of_many_large_files_is_refused(size: int, tmp_path: Path, reader: Reader) -> None:
    """Each below the limit of a file, together far above what a deck may need."""
    with (deck_folder(tmp_path) / "hole.yaml").open("wb") as file:
        file.truncate(size)
    for number in range(190):
        os.link(tmp_path / "hole.yaml", tmp_path / f"hole{number}.yaml")
    found = reader.read("deck", tmp_path)
    assert found.fault == "" and found.findings
    assert found.megabytes < 100


def test_more_files_than_a_deck_has(tmp_path: Path, reader: Reader) -> None:
    for number in range(5000):
        (tmp_path / f"{number}.yaml").touch()
    reader.refused("deck", tmp_path, "at most")


@pytest.mark.parametrize("device", ["/dev/zero", "/dev/full", "/dev/null", "/dev/urandom"])
@pytest.mark.parametrize("kind", KINDS)
def test_a_device_is_no_file(kind: str, device: str, reader: Reader) -> None:
    if not Path(device).exists():
        pytest.skip("not on this system")
    reader.refused(kind, device)


@pytest.mark.parametrize("kind", KINDS)
def test_a_pipe_is_not_waited_for(kind: str, tmp_path: Path, reader: Reader) -> None:
    os.mkfifo(tmp_path / "pipe")
    reader.refused(kind, tmp_path / "pipe")


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("target", ["nowhere", "link", "/dev/zero", "link/under"])
def test_a_link_that_leads_nowhere(kind: str, target: str, tmp_path: Path, reader: Reader) -> None:
    """To nothing, to itself, to a device, to below itself."""
    (tmp_path / "link").symlink_to(target)
    reader.refused(kind, tmp_path / "link")


@pytest.mark.parametrize("kind", KINDS)
def test_a_folder_is_no_file_and_an_empty_one_no_deck(kind: str, tmp_path: Path, reader: Reader) -> None:
    reader.refused(kind, tmp_path)


@pytest.mark.parametrize("name", ["deck.yaml", "approach.yaml"])
@pytest.mark.parametrize("what", ["folder", "pipe", "dangling", "device", "itself"])
def test_what_is_no_file_within_a_deck(name: str, what: str, tmp_path: Path, reader: Reader) -> None:
    """In the place of a file of the deck: a finding that names it, no wait."""
    path = deck_folder(tmp_path) / name
    path.unlink()
    if what == "folder":
        path.mkdir()
    elif what == "pipe":
        os.mkfifo(path)
    else:
        path.symlink_to({"dangling": "nowhere", "device": "/dev/zero", "itself": name}[what])
    found = reader.read("deck", tmp_path)
    assert found.fault == "" and found.findings
    assert any(name in finding for finding in found.findings), found.findings
    assert found.seconds < SECONDS and found.megabytes < MEGABYTES


@pytest.mark.skipif(os.geteuid() == 0, reason="root may read every file")
@pytest.mark.parametrize("kind", KINDS)
def test_a_file_that_may_not_be_read(kind: str, tmp_path: Path, reader: Reader) -> None:
    path = tmp_path / "closed"
    path.write_bytes(b"x")
    path.chmod(0)
    reader.refused(kind, path, "ermission denied")


@pytest.mark.skipif(os.geteuid() == 0, reason="root may read every file")
def test_a_deck_file_that_may_not_be_read(tmp_path: Path, reader: Reader) -> None:
    (deck_folder(tmp_path) / "landing.yaml").chmod(0)
    reader.refused("deck", tmp_path, "landing.yaml")
