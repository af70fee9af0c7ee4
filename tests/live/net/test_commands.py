"""`host` and `join` as they are typed: what is refused; two terminals, and a host that is killed and comes back."""

import os
import re
import signal
from pathlib import Path

import pytest

from flowdeck.cli import join
from flowdeck.cli.main import main
from flowdeck.live.journal import Journal, read_file
from flowdeck.live.net.code import keep_code
from flowdeck.model import events as ev
from flowdeck.trial.flight import advance, take_off
from flowdeck.wire.link.stations import Station
from tests.support.small import small_deck, small_scenario
from tests.support.terminal import Terminal

Captured = pytest.CaptureFixture[str]


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["--bind", "0.0.0.0"], "others could hear what is sent; give --cert FILE and --key FILE, or bind 127.0.0.1"),
        (["--bind", "trainer.example"], "others could hear what is sent"),
        (["--bind", "::"], "others could hear what is sent"),
        (["--cert", "a.pem"], "--cert FILE and --key FILE go together"),
        (["--cert", "no.pem", "--key", "no.key"], "no.pem: error certificate: cannot be used with the key no.key"),
        (["--resume", "a.journal", "clean"], "--resume goes on with a flight as it was; leave out"),
        (["--resume", "no.journal"], "cannot be read"),
        (["--salvage"], "--salvage goes with --resume FILE"),
        (["no-such-scenario"], "no-such-scenario"),
    ],
)
def test_a_host_that_cannot_be_is_exit_2_and_leaves_nothing(
    arguments: list[str], words: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Captured
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["host", *arguments]) == 2
    assert words in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("port", ["65536", "-1", "x", "٣"])
def test_a_port_that_is_none(port: str, capsys: Captured) -> None:
    with pytest.raises(SystemExit) as exit_:
        main(["host", "--port", port])
    assert exit_.value.code == 2
    assert "is not a port from 0 to 65535" in capsys.readouterr().err


@pytest.mark.parametrize("place", ["", "host", "host:", "host:0", "host:65536", "::1:7", "a b:7", "[x]:7", "host:7/x"])
def test_a_place_that_is_none(place: str, capsys: Captured) -> None:
    with pytest.raises(SystemExit) as exit_:
        main(["join", place, "--as", "captain"])
    assert exit_.value.code == 2
    assert "is not ADDRESS:PORT" in capsys.readouterr().err


@pytest.mark.parametrize("place", ["127.0.0.1:7407", "[::1]:7407", "trainer.example:1", "localhost:65535"])
def test_without_a_terminal_nobody_joins(place: str, capsys: Captured, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(join, "has_terminal", lambda: False)
    assert main(["join", place, "--as", "observer"]) == 2
    assert capsys.readouterr().err == "join needs a terminal\n"


def test_what_is_no_code_is_said_before_anyone_is_asked(capsys: Captured, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(join, "has_terminal", lambda: True)
    assert main(["join", "127.0.0.1:7407", "--code", "12345", "--as", "captain"]) == 2
    assert "is no join code; one looks like ACDEF-GHJKM" in capsys.readouterr().err
    assert main(["join", "127.0.0.1:7407", "--as", "captain", "--ca", "a.pem"]) == 2
    assert capsys.readouterr().err == "--ca goes with --tls\n"


@pytest.mark.parametrize("place", ["a..b:7407", ".host:7407", f"{'a' * 64}.example:7407", "[::::]:7407"])
def test_an_address_that_can_be_none_is_said_at_once(
    place: str, capsys: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    """By the rules of names; to try again would change nothing."""
    monkeypatch.setattr(join, "has_terminal", lambda: True)
    assert main(["join", place, "--code", "ACDEF-GHJKM", "--as", "captain"]) == 2
    assert "not joined: no link to" in capsys.readouterr().err


def test_every_station_can_be_named(capsys: Captured) -> None:
    with pytest.raises(SystemExit):
        main(["join", "--help"])
    said = capsys.readouterr().out
    assert all(str(station) in said for station in Station)


def hosting(*arguments: str) -> Terminal:
    return Terminal("-m", "flowdeck", "host", *arguments, columns=160)


def joining(port: str, station: str, *arguments: str) -> Terminal:
    return Terminal("-m", "flowdeck", "join", f"127.0.0.1:{port}", "--as", station, *arguments)


def test_two_terminals_and_a_host_that_is_killed_and_comes_back(tmp_path: Path) -> None:
    """Both pilots sit down, one with a typed code; the captain goes on; the host is killed and started again, the
    first officer goes on; both are closed with the host's reason when it ends.
    """
    path = tmp_path / "a.journal"
    with hosting("--journal", str(path), "--port", "0") as host:
        host.until("ctrl-c ends")
        code, port = (tmp_path / "a.journal.code").read_text(encoding="ascii").split()
        with joining(port, "captain", "--code", code) as captain, joining(port, "first_officer") as first_officer:
            captain.until("The flight waits")
            first_officer.until("Join code: ")
            first_officer.press(code.lower().replace("-", "") + "\n")
            first_officer.until("The flight waits")
            host.until("First officer has come")
            captain.press(" ")
            first_officer.until("00:00:02")
            os.kill(host.process.pid, signal.SIGKILL)
            host.process.wait(timeout=30)
            captain.until("link lost for")
            with hosting("--resume", str(path)) as again:
                again.until(f"join 127.0.0.1:{port} --code {code} --as captain")
                captain.until("paused")
                first_officer.until("paused")
                first_officer.press(" ")
                captain.until("x1")
                again.process.send_signal(signal.SIGINT)
                again.until(f"journal: {path}")
                assert again.process.wait(timeout=30) == 0
                captain.until("the host was closed")
    events = read_file(str(path)).events
    counts = [(event.guest, event.count) for event in events if isinstance(event, ev.InputTaken)]
    assert len(counts) == len(set(counts)) == 2
    assert [type(e).__name__ for e in events if isinstance(e, (ev.Paused, ev.Unpaused))] == [
        "Paused",
        "Unpaused",
        "Paused",
        "Unpaused",
    ]


def test_of_a_damaged_journal_what_is_sound_is_gone_on_with(tmp_path: Path) -> None:
    """Asked for by name alone; in a new file, with the same join code."""
    path = tmp_path / "a.journal"
    deck = small_deck()
    scenario = small_scenario(deck)
    flight, begun = take_off(deck, scenario, solo=False)
    flight, flown = advance(flight, 30_000)
    with Journal.create(str(path), deck, scenario, solo=False) as journal:
        journal.append(begun, sure=True)
        journal.append(flown, sure=True)
    lines = path.read_bytes().splitlines(keepends=True)
    path.write_bytes(b"".join((*lines[:-2], lines[-2].replace(b'"at":', b'"AT":'), lines[-1])))
    keep_code(path, "ACDEF-GHJKM", 1)
    with hosting("--resume", str(path), "--port", "0") as refused:
        refused.until("--salvage")
        assert refused.process.wait(timeout=30) == 2
    with hosting("--resume", str(path), "--salvage", "--port", "0") as host:
        host.until("--code ACDEF-GHJKM --as captain")
        host.until("saved from here in a-salvaged.journal")
        host.process.send_signal(signal.SIGTERM)
        host.until("journal: ")
        host.process.wait(timeout=30)
    assert 0 < len(read_file(str(tmp_path / "a-salvaged.journal")).events) < len(begun) + len(flown)


def test_a_guest_that_is_turned_away_is_told_why(tmp_path: Path) -> None:
    with hosting("--journal", str(tmp_path / "a.journal"), "--port", "0") as host:
        host.until("ctrl-c ends")
        port = (tmp_path / "a.journal.code").read_text(encoding="ascii").split()[1]
        with joining(port, "captain", "--code", "AAAAA-AAAAA") as captain:
            captain.until("not joined: the join code is wrong")
            assert captain.process.wait(timeout=30) == 2


def test_the_default_journal_is_a_new_file_here(tmp_path: Path) -> None:
    """Named by date and time, with its code beside it."""
    command = (
        f"import os; os.chdir({str(tmp_path)!r}); from flowdeck.cli.main import main; main(['host', '--port', '0'])"
    )
    with Terminal("-c", command) as host:
        host.until("ctrl-c ends")
        names = sorted(path.name for path in tmp_path.iterdir())
        host.process.send_signal(signal.SIGTERM)
        host.until("journal: flight-")
        host.process.wait(timeout=30)
    assert re.fullmatch(r"flight-\d{4}-\d\d-\d\d-\d{6}\.journal", names[0])
    assert names[1:] == [f"{names[0]}.code"]
