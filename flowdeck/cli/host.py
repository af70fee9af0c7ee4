"""`flowdeck host [SCENARIO]`: a flight for guests at other terminals."""

import argparse
import asyncio
import contextlib
import signal
import socket
import sys
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from ssl import SSLContext

from flowdeck import DISCLAIMER
from flowdeck.cli.beginning import beginning
from flowdeck.cli.ending import ending
from flowdeck.cli.playing import add_played, lapses_of_nobody, played
from flowdeck.cli.resuming import NEEDLESS, resuming
from flowdeck.live.bundled import read_deck, read_scenario
from flowdeck.live.collecting import no_collecting
from flowdeck.live.host import Host
from flowdeck.live.net.code import flight_id, keep_code, kept_code, make_code
from flowdeck.live.net.door import bind, host_tls, is_loopback
from flowdeck.live.net.server import Server
from flowdeck.model import inputs as inp
from flowdeck.model.diagnostic import visible
from flowdeck.model.seats import Seat
from flowdeck.trial.presets import with_presets
from flowdeck.wire.link.stations import Station

DEFAULT = "clean"
PORT = 7407
LOOPBACK = "127.0.0.1"
EXAMPLE = (
    "examples:\n  flowdeck host\n  flowdeck host icing --journal today.journal\n"
    "  flowdeck host --bind 0.0.0.0 --cert host.pem --key host.key\n  flowdeck host --resume today.journal"
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.description = (parser.description or "") + "\n\n" + EXAMPLE
    parser.add_argument("scenario", nargs="?", metavar="SCENARIO", help="default: clean")
    parser.add_argument("--deck", metavar="DIR", help="another deck than the scenario's own")
    parser.add_argument("--bind", default=LOOPBACK, metavar="ADDRESS", help=f"default: {LOOPBACK}, this machine alone")
    parser.add_argument("--port", type=_port, metavar="N", help=f"default: {PORT}; 0: any that is free")
    parser.add_argument("--journal", metavar="FILE", help="write the events to FILE (default: a new file here)")
    parser.add_argument("--resume", metavar="FILE", help="go on with the flight of a journal; guests come back to it")
    parser.add_argument("--salvage", action="store_true", help="with --resume: what is sound of a journal")
    add_played(parser, "--play", "a seat that the tool plays: captain or first_officer")
    parser.add_argument("--script", metavar="FILE", help="an instructor's script: what happens beside the scenario")
    parser.add_argument(
        "--cert", metavar="FILE", help="certificate: links are encrypted, as they must be over a network"
    )
    parser.add_argument("--key", metavar="FILE", help="its key")


def _port(text: str) -> int:
    if not text.isascii() or not text.isdigit() or int(text) > 65_535:
        raise argparse.ArgumentTypeError(f"'{text}' is not a port from 0 to 65535")
    return int(text)


def run(options: argparse.Namespace) -> int:
    given = (options.scenario, options.deck, options.journal, options.script, options.seat, options.lapses)
    if options.resume and (any(given) or options.seed != 1):
        only = "SCENARIO, --deck, --journal, --script, --play, --lapses and --seed"
        print(f"--resume goes on with a flight as it was; leave out {only}", file=sys.stderr)
        return 2
    if options.salvage and not options.resume:
        print(NEEDLESS, file=sys.stderr)
        return 2
    if needless := lapses_of_nobody(options, "--play first_officer"):
        print(needless, file=sys.stderr)
        return 2
    if bool(options.cert) != bool(options.key):
        print("--cert FILE and --key FILE go together", file=sys.stderr)
        return 2
    if not options.cert and not is_loopback(options.bind):
        mend = f"give --cert FILE and --key FILE, or bind {LOOPBACK}"
        print(f"--bind {visible(options.bind)}: others could hear what is sent; {mend}", file=sys.stderr)
        return 2
    tls = host_tls(options.cert, options.key) if options.cert else None
    with no_collecting():
        begin = resuming(options.resume, salvage=options.salvage) if options.resume else _to_begin(options)
    kept = kept_code(Path(options.resume)) if options.resume else None
    code, port = kept or (make_code(), PORT)
    door = bind(options.bind, port if options.port is None else options.port)
    with door:
        host = begin()
        assert host.journal is not None
        print(DISCLAIMER, file=sys.stderr)
        try:
            keep_code(host.journal.path, code, door.getsockname()[1])
            asyncio.run(_serve(host, door, code, tls))
        except KeyboardInterrupt:
            pass
        finally:
            host.close()
    return ending(host)


async def _serve(host: Host, door: socket.socket, code: str, tls: SSLContext | None) -> None:
    """Serve until ctrl-c, or until the process is told to end."""
    assert host.journal is not None
    seats = tuple(pilot.seat for pilot in host.pilots)
    server = Server(host, code=code, flight=flight_id(host.journal.path), played=seats, say=_say)
    await server.start(door, tls)
    task = asyncio.current_task()
    assert task is not None
    with contextlib.suppress(NotImplementedError):  # Windows
        asyncio.get_running_loop().add_signal_handler(signal.SIGTERM, task.cancel)
    for line in _invitation(door, code, seats, encrypted=tls is not None):
        _say(line)
    _say(f"journal: {host.journal.path}")
    if host.greeting:
        _say(host.greeting)
    _say("The flight waits until somebody goes on; ctrl-c ends.")
    try:
        await server.run()
    except asyncio.CancelledError:
        pass
    finally:
        over = bool(host.flight.session.ended)
        because = "the flight is over" if over else "the host was closed, and may be taken up again"
        await server.close(because, final=over)


def _say(words: str) -> None:
    print(words, flush=True)


def _invitation(door: socket.socket, code: str, played: tuple[Seat, ...], *, encrypted: bool) -> list[str]:
    """What to type in the other terminals, for each place that is not *played*."""
    address, port = door.getsockname()[:2]
    if address in ("0.0.0.0", "::"):
        address = socket.gethostname()
    where = f"[{address}]:{port}" if ":" in address else f"{address}:{port}"
    more = " --tls" if encrypted else ""
    stations = [station for station in Station if station.seat not in played or station.seat is None]
    lines = [f"  flowdeck join {where} --code {code} --as {station}{more}" for station in stations]
    own = ["Where the certificate is not trusted yet, with a copy of it there: --ca FILE"] if encrypted else []
    return [f"Join code {code}. In the other terminals:", *lines, *own]


def _to_begin(options: argparse.Namespace) -> Callable[[], Host]:
    """A new flight, read and checked. Raises `Rejected`; the journal is made only when it begins."""
    given = read_deck(options.deck)[0] if options.deck else None
    deck, scenario, notes = read_scenario(options.scenario or DEFAULT, given, options.script)
    scenario = with_presets(deck, scenario)
    pilots = played(options, options.seat)
    for note in notes:
        print(note, file=sys.stderr)
    path = options.journal or f"flight-{datetime.now().astimezone():%Y-%m-%d-%H%M%S}.journal"

    def begin() -> Host:
        host = beginning(deck, scenario, path, pilots, solo=False)
        host.send(inp.Pause(at=0))
        return host

    return begin
