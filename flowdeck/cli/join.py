"""`flowdeck join ADDRESS:PORT`: a seat in a flight that another terminal hosts, or a place to look on or instruct."""

import argparse
import asyncio
import contextlib
import re
import sys
from ssl import SSLContext
from typing import TYPE_CHECKING

from flowdeck import DISCLAIMER
from flowdeck.cli.terminal import has_terminal
from flowdeck.live.net.code import is_code, read_code
from flowdeck.live.net.door import guest_tls
from flowdeck.live.net.link import GuestLink
from flowdeck.model.diagnostic import visible
from flowdeck.wire.link.stations import Station

if TYPE_CHECKING:
    from flowdeck.tui.app import FlowdeckApp

EXAMPLE = (
    "examples:\n  flowdeck join 127.0.0.1:7407 --as captain\n"
    "  flowdeck join trainer.example:7407 --as instructor --tls --ca host.pem"
)
_PLACE = re.compile(r"(?:\[([0-9A-Fa-f:.]{2,45}(?:%\w{1,20})?)\]|([A-Za-z0-9_.-]{1,253})):(\d{1,5})\Z")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.description = (parser.description or "") + "\n\n" + EXAMPLE
    parser.add_argument("place", metavar="ADDRESS:PORT", type=_place, help="as the host says it")
    parser.add_argument("--code", help="the host's join code; asked for when it is not given")
    parser.add_argument(
        "--as",
        dest="station",
        required=True,
        choices=[str(station) for station in Station],
        help="where you sit",
    )
    parser.add_argument("--tls", action="store_true", help="the link is encrypted, and the host's certificate checked")
    parser.add_argument("--ca", metavar="FILE", help="with --tls: the certificate to trust (default: the system's)")


def _place(text: str) -> tuple[str, int]:
    match = _PLACE.match(text)
    if match is None or not 0 < int(match[3]) <= 65_535:
        raise argparse.ArgumentTypeError(f"'{text}' is not ADDRESS:PORT, such as 127.0.0.1:7407 or [::1]:7407")
    return match[1] or match[2], int(match[3])


def run(options: argparse.Namespace) -> int:
    if options.ca and not options.tls:
        print("--ca goes with --tls", file=sys.stderr)
        return 2
    tls = guest_tls(options.ca or "") if options.tls else None
    if not has_terminal():
        print("join needs a terminal", file=sys.stderr)
        return 2
    code = read_code(options.code if options.code is not None else input("Join code: "))
    if not is_code(code):
        print(f"'{visible(code)}' is no join code; one looks like ACDEF-GHJKM", file=sys.stderr)
        return 2
    print(DISCLAIMER, file=sys.stderr)
    address, port = options.place
    return asyncio.run(_join(address, port, code, Station(options.station), tls))


async def _join(address: str, port: int, code: str, station: Station, tls: SSLContext | None) -> int:
    """Join, show the flight until the screen is left, leave."""
    link = GuestLink(address, port, code=code, station=station, tls=tls)
    running = asyncio.create_task(link.run())
    try:
        if not await _joined(link):
            print(f"not joined: {visible(link.following.closed)}", file=sys.stderr)
            return 2
        await _app(link).run_async()
    finally:
        await link.close()
        running.cancel()
        with contextlib.suppress(asyncio.CancelledError):
            await running
    if link.following.final:
        print(visible(link.following.closed), file=sys.stderr)
    return 0


async def _joined(link: GuestLink) -> bool:
    """Wait until the flight is there; say while there is no way to the host."""
    said = ""

    def tell() -> None:
        nonlocal said
        if link.unreached and link.unreached != said and not link.following.final:
            said = link.unreached
            print(f"{visible(said)}; trying again (ctrl-c ends)", file=sys.stderr)

    link.on_news = tell
    joined = await link.ready()
    link.on_news = None
    return joined


def _app(link: GuestLink) -> "FlowdeckApp":
    from flowdeck.tui.app import FlowdeckApp

    return FlowdeckApp(link)
