"""A guest's link: joins a host, follows its flight, and comes back by itself when it is lost.

The law: what was asked for is said again after a lost link until it is answered, and counts once. A link is made again,
after longer and longer waits, until the guest leaves or the host closes it for good.
"""

import asyncio
import contextlib
import logging
import secrets
import ssl
import time
from collections import deque
from collections.abc import Callable

from msgspec.structs import replace
from websockets.asyncio.client import ClientConnection, connect
from websockets.exceptions import ConnectionClosed, InvalidHandshake, WebSocketException

from flowdeck.live.net.door import PATH
from flowdeck.live.net.elsewhere import Elsewhere
from flowdeck.model.diagnostic import visible
from flowdeck.wire.codec import Unreadable
from flowdeck.wire.link import messages as m
from flowdeck.wire.link.following import Following, joining
from flowdeck.wire.link.stations import Station

GIVEN_UP_S = 4.0
"""Seconds after which a silent link is broken off and made anew."""
FIRST_WAIT_S, LONGEST_WAIT_S = 0.2, 2.0
OPEN_S = 5.0
_log = logging.getLogger("flowdeck.net")


class _Straight(connect):
    """Never led on to another address."""

    def process_redirect(self, exc: Exception) -> Exception | str:
        return exc


class GuestLink(Elsewhere):
    """*address*, *port* of the host; *guest*: the secret by which it is known, made anew by default.

    *on_news* is called after each message, so that a screen is drawn at once. *links*: how often a link was made;
    *unreached*: why there is none, empty while there is one.
    """

    def __init__(
        self,
        address: str,
        port: int,
        *,
        code: str,
        station: Station,
        tls: ssl.SSLContext | None = None,
        clock: Callable[[], float] = time.monotonic,
        guest: str = "",
        given_up_s: float = GIVEN_UP_S,
    ) -> None:
        super().__init__(Following(guest=guest or secrets.token_hex(8), code=code, station=station), clock)
        self.on_news: Callable[[], None] | None = None
        self.links = 0
        self.unreached = ""
        self._address, self._port, self._tls, self._given_up_s = address, port, tls, given_up_s
        self._socket: ClientConnection | None = None
        self._linked = False
        self._leaving = False
        self._out: deque[m.FromGuest] = deque()
        self._wake = asyncio.Event()
        self._news = asyncio.Event()

    @property
    def over(self) -> bool:
        """Whether the link has ended for good."""
        return self._leaving or self.following.final

    async def run(self) -> None:
        """Link, follow, and link again; until `close`, or until the host closes for good."""
        wait = FIRST_WAIT_S
        while not self.over:
            links = self.links
            try:
                await self._once()
            except (OSError, InvalidHandshake, ConnectionClosed, Unreadable) as error:
                self._failed(error)
            except (ValueError, WebSocketException) as error:  # to try again would change nothing
                because = f"no link to {self._address} can be: {error}"
                self.following = replace(self.following, closed=because, final=True)
            self._tell()
            if not self.over:
                wait = FIRST_WAIT_S if self.links > links else min(LONGEST_WAIT_S, wait * 2)
                await asyncio.sleep(wait)

    async def _once(self) -> None:
        """One link, to its end."""
        address = f"[{self._address}]" if ":" in self._address else self._address
        socket = await _Straight(
            f"{'ws' if self._tls is None else 'wss'}://{address}:{self._port}{PATH}",
            ssl=self._tls,
            proxy=None,
            compression=None,
            max_size=m.LARGEST_FROM_HOST,
            open_timeout=OPEN_S,
            close_timeout=1,
            ping_interval=None,  # its beat tells that the host is there
            user_agent_header=None,
            logger=_log,
        )
        self._socket = socket
        self._out.clear()
        writer = asyncio.create_task(self._write(socket))
        try:
            await socket.send(m.encode(joining(self.following)))
            await self._read(socket)
        finally:
            writer.cancel()
            self._socket, self._linked = None, False
            socket.transport.abort()  # only who leaves for good closes a link in the usual way

    async def _read(self, socket: ClientConnection) -> None:
        while not self.over:
            try:
                async with asyncio.timeout(self._given_up_s):
                    raw = await socket.recv(decode=False)
            except TimeoutError:
                self.unreached = "the host is silent"
                return
            message = m.from_host(raw)
            replies = self.hear(message)
            if isinstance(message, m.Welcome):
                self._linked, self.links, self.unreached = True, self.links + 1, ""
                self._out.clear()  # what was asked for since is among the replies
            self._out += replies
            self._wake.set()
            if self.following.closed:
                self.unreached = self.following.closed
                return
            self._tell()

    async def _write(self, socket: ClientConnection) -> None:
        with contextlib.suppress(ConnectionClosed):
            while True:
                while self._out:
                    await socket.send(m.encode(self._out.popleft()))
                self._wake.clear()
                await self._wake.wait()

    def put(self, message: m.Asked) -> None:
        if self._linked:  # what is asked for before a welcome goes out after it
            self._out.append(message)
            self._wake.set()

    def _failed(self, error: Exception) -> None:
        if isinstance(error, ssl.SSLCertVerificationError):
            words = f"the host's certificate is not trusted: {error.verify_message}; if it is the host's own: --ca FILE"
            self.following = replace(self.following, closed=words, final=True)
        elif isinstance(error, Unreadable):
            self.following = replace(self.following, closed=f"from the host: {error}", final=True)
        elif isinstance(error, ConnectionClosed):
            self.unreached = self.following.closed or "the link broke"
        else:
            why = getattr(error, "strerror", None) or str(error) or "no answer"
            self.unreached = f"{self._address}:{self._port} cannot be reached: {visible(why)}"

    def _tell(self) -> None:
        """Tell who waits for news, and the screen."""
        self._news.set()
        self._news = asyncio.Event()
        if self.on_news is not None:
            self.on_news()

    async def until(self, reached: Callable[[], bool]) -> None:
        """Wait for the news that makes *reached* true."""
        while not reached():
            await self._news.wait()

    async def ready(self) -> bool:
        """Wait until the flight can be shown; False when the link is over before."""
        await self.until(lambda: self.over or self.is_whole)
        return self.is_whole and not self.over

    async def close(self) -> None:
        """Leave: the host gives the place away at once."""
        self._leaving = True
        if self._socket is not None:
            with contextlib.suppress(TimeoutError):
                async with asyncio.timeout(1):
                    await self._socket.close()
        self._tell()
