"""The host on the network: guests come and go, what they ask for is decided in one order, all of them see the same.

The law: the flight is moved by this one loop alone. What a guest asks for is decided at the moment it comes, is on disk
before anyone hears of it, and goes out to all at once. Nothing that a guest says, and nothing that it does not read,
ends or holds up the flight; a guest that does not keep to the messages is closed, with the reason.
"""

import asyncio
import contextlib
import logging
import socket
import ssl
from collections import deque
from collections.abc import Callable

from msgspec.structs import replace
from websockets.asyncio.server import Server as SocketServer
from websockets.asyncio.server import ServerConnection, serve
from websockets.exceptions import ConnectionClosed

from flowdeck import DISCLAIMER
from flowdeck.live.host import Host
from flowdeck.live.net.asking import Desk
from flowdeck.live.net.code import read_code
from flowdeck.live.net.door import Waiting, address_key
from flowdeck.model.seats import Seat
from flowdeck.wire import codec
from flowdeck.wire.codec import Unreadable
from flowdeck.wire.link import hosting as hosts
from flowdeck.wire.link import messages as m
from flowdeck.wire.link.hosting import Hosting
from flowdeck.wire.link.knock import Door, fits, right, wait_ms, wrong
from flowdeck.wire.link.marks import known_as
from flowdeck.wire.link.rate import TOO_MANY, Bucket, draw
from flowdeck.wire.link.stations import Station

BEAT_MS = 500
TURN_S = 0.05
JOIN_S = 5.0
CLOSE_S = 2.0
MOST_ANSWERS = 128
"""Answers that a guest has not read; one more, and it is closed."""
MOST_UNREAD = 4
"""Messages of a guest that wait to be looked at; the next one stays in the network."""
_log = logging.getLogger("flowdeck.net")
_log.addHandler(logging.NullHandler())
_log.propagate = False  # what a stranger sends is not worth a line, let alone a traceback


class TurnedAway(Exception):
    """A guest that gets no place. *final*: to come again would be of no use."""

    def __init__(self, because: str, *, final: bool = True) -> None:
        super().__init__(because)
        self.final = final


class Link:
    """One admitted guest's link. *answers*, *roster*, *beat*: what it is to be sent beside events."""

    def __init__(self, socket: ServerConnection, name: str, station: Station, welcome: m.Welcome) -> None:
        self.socket = socket
        self.name = name
        self.station = station
        self.welcome: m.Welcome | None = welcome
        self.bucket = Bucket()
        self.answers: deque[m.Taken] = deque()
        self.roster = True
        self.beat = True
        self.closing: m.Closed | None = None
        self.wake = asyncio.Event()


class Server:
    """Serves *host*. *code* lets guests in; *say* is told who comes and goes; *faults*: our own, each closed a link."""

    def __init__(
        self,
        host: Host,
        *,
        code: str,
        flight: str,
        played: tuple[Seat, ...] = (),
        say: Callable[[str], None] = lambda words: None,
    ) -> None:
        self.host = host
        self.hosting = hosts.learn(Hosting(deck=host.flight.deck, played=played), host.events)
        self.links: dict[str, Link] = {}
        self.door = Door()
        self.waiting = Waiting()
        self.faults: list[str] = []
        self._code, self._flight, self._say = code, flight, say
        self._desk = Desk(host)
        scenario = replace(host.flight.scenario, planted=())
        self._packed = codec.pack_deck(host.flight.deck), codec.pack_scenario(scenario)
        self._socket: SocketServer | None = None
        self._beaten = -BEAT_MS

    async def start(self, door: socket.socket, tls: ssl.SSLContext | None = None) -> None:
        """Let guests in by *door*, see `door.bind`."""
        self._socket = await serve(
            self._meet,
            sock=door,
            process_request=self.waiting.turn_away,
            create_connection=self.waiting.connection(),
            compression=None,
            max_size=m.LARGEST_FROM_GUEST,
            max_queue=MOST_UNREAD,
            open_timeout=JOIN_S,
            close_timeout=CLOSE_S,
            ping_interval=5,
            ping_timeout=10,
            server_header=None,
            logger=_log,
            ssl=tls,
            ssl_handshake_timeout=None if tls is None else JOIN_S,
        )

    async def run(self) -> None:
        """Let time pass, until cancelled."""
        while True:
            self.turn()
            await asyncio.sleep(TURN_S)

    async def close(self, because: str, *, final: bool) -> None:
        """Close all links with the reason, and the door."""
        self._say = lambda words: None  # all go now, and whoever closes says so
        for link in list(self.links.values()):
            self._close(link, because, final=final)
        with contextlib.suppress(TimeoutError):
            async with asyncio.timeout(CLOSE_S):
                for link in list(self.links.values()):
                    await link.socket.wait_closed()
        if self._socket is not None:
            self._socket.close()
            await self._socket.wait_closed()

    def turn(self) -> None:
        """One turn of the clock: fly on, hand out what happened, and a beat when one is due."""
        self.host.tick()
        self._hand_out()
        now = self._ms()
        if now - self._beaten >= BEAT_MS:
            self._beaten = now
            for link in self.links.values():
                link.beat = True
                link.wake.set()

    def _ms(self) -> int:
        return round(self.host.clock() * 1000)

    def _hand_out(self) -> None:
        """What has happened goes out; it is on disk first, so no guest knows more than a restart would."""
        new = self.host.events[self.hosting.number :]
        if not new:
            return
        if self.host.journal is not None:
            self.host.journal.commit()
        self.hosting = hosts.learn(self.hosting, new)
        for link in self.links.values():
            link.wake.set()

    async def _meet(self, guest: ServerConnection) -> None:
        """All of one link, from its first message to its end."""
        with contextlib.suppress(ConnectionClosed, TimeoutError):
            try:
                link = self._admit(await self._first(guest), address_key(str(guest.remote_address[0])), guest)
                await self._serve(link)
            except TurnedAway as away:
                async with asyncio.timeout(CLOSE_S):
                    await guest.send(m.encode(m.Closed(because=str(away), final=away.final)))
                    await guest.close()
            except (ConnectionClosed, TimeoutError):
                raise
            except Exception as error:  # a fault of ours ends this link, never the flight
                self._fault(error)

    def _fault(self, error: Exception) -> None:
        self.faults.append(repr(error))
        self._say(f"a link was closed by a fault of flowdeck: {error!r}")

    async def _first(self, guest: ServerConnection) -> m.Join:
        async with asyncio.timeout(JOIN_S):
            raw = await guest.recv(decode=False)
        try:
            join = m.from_guest(raw)
        except Unreadable as error:
            raise TurnedAway(str(error)) from None
        if not isinstance(join, m.Join):
            raise TurnedAway("expected to be joined first")
        if join.version != m.VERSION:
            raise TurnedAway(f"this host speaks version {m.VERSION}, the guest version {join.version}")
        return join

    def _admit(self, join: m.Join, address: str, guest: ServerConnection) -> Link:
        """The link of a guest whose code is right and for whom there is a place. Raises `TurnedAway`."""
        name, now = known_as(join.guest), self._ms()
        waits = wait_ms(self.door, address, now)
        if waits and name not in self.hosting.counts:
            words = f"too many wrong codes from this address: nothing is looked at for {-(-waits // 1000)} s"
            raise TurnedAway(words, final=False)
        if not fits(self._code, read_code(join.code)):
            self.door = wrong(self.door, address, now)
            raise TurnedAway("the join code is wrong")
        self.door = right(self.door, address)
        self.hosting, refused, after, later = hosts.admit(self.hosting, join, self.host.events, self._flight, now)
        if refused:
            raise TurnedAway(refused, final=not later)
        self.waiting.links.discard(guest)
        earlier = self.links.get(name)
        link = self.links[name] = Link(guest, name, join.station, self._welcome(join.station, after))
        if earlier is not None:
            self._close(earlier, "another link of this guest has taken its place", final=True)
        self._roster(f"{join.station.label} {'is back' if join.flight else 'has come'}")
        return link

    def _welcome(self, station: Station, after: int) -> m.Welcome:
        return m.Welcome(
            version=m.VERSION,
            disclaimer=DISCLAIMER,
            flight=self._flight,
            deck=self._packed[0],
            scenario=self._packed[1],
            station=station,
            beat_ms=BEAT_MS,
            played=self.hosting.played,
            after=after,
            number=self.hosting.number,
        )

    async def _serve(self, link: Link) -> None:
        writer = asyncio.create_task(self._write(link))
        try:
            await self._read(link)
        finally:
            writer.cancel()
            self._gone(link)

    def _gone(self, link: Link) -> None:
        if self.links.get(link.name) is not link:
            return  # another link has taken its place
        del self.links[link.name]
        left = link.closing.final if link.closing is not None else link.socket.close_code == 1000
        if left:
            self.hosting = hosts.leave(self.hosting, link.name)
        else:
            self.hosting = hosts.lose(self.hosting, link.name, self._ms())
        why = f": {link.closing.because}" if link.closing is not None else ""
        self._roster(f"{link.station.label} {'has left' if left else 'is lost'}{why}")

    def _roster(self, words: str) -> None:
        self._say(words)
        for link in self.links.values():
            link.roster = True
            link.wake.set()

    async def _write(self, link: Link) -> None:
        try:
            while link.socket.close_code is None:
                message = await self._due(link)
                await link.socket.send(m.encode(message))
                if isinstance(message, m.Closed):
                    await link.socket.close()
        except ConnectionClosed:
            pass
        except Exception as error:
            self._fault(error)
            link.socket.transport.abort()

    async def _due(self, link: Link) -> m.FromHost:
        """The next message, when there is one."""
        while (message := self._next(link)) is None:
            link.wake.clear()
            await link.wake.wait()
        return message

    def _next(self, link: Link) -> m.FromHost | None:
        """What the guest is to be sent next: events before the answers that speak of them, a beat after both."""
        if link.closing is not None:
            return link.closing
        if self.links.get(link.name) is not link:
            return None
        if link.welcome is not None:
            welcome, link.welcome = link.welcome, None
            return welcome
        self.hosting, message = hosts.batch(self.hosting, link.name, self.host.events)
        if message is not None:
            return message
        if link.answers:
            return link.answers.popleft()
        if link.roster:
            link.roster = False
            return hosts.roster(self.hosting)
        if link.beat:
            link.beat = False
            return hosts.beat(self.hosting, link.name, self.host.now, self.host.trouble)
        return None

    def _close(self, link: Link, because: str, *, final: bool) -> None:
        """Close a link with the reason; one that does not read even that is cut."""
        if link.closing is None:
            link.closing = m.Closed(because=because, final=final)
            link.wake.set()
            asyncio.get_running_loop().call_later(CLOSE_S, link.socket.transport.abort)

    async def _read(self, link: Link) -> None:
        with contextlib.suppress(ConnectionClosed):
            while True:
                raw = await link.socket.recv(decode=False)
                if link.closing is not None:
                    continue  # read on, so that the end is heard
                bucket = draw(link.bucket, self._ms())
                if bucket is None:
                    self._close(link, TOO_MANY, final=True)
                    continue
                link.bucket = bucket
                try:
                    self._take(link, m.from_guest(raw))
                except Unreadable as error:
                    self._close(link, str(error), final=True)

    def _take(self, link: Link, message: m.FromGuest) -> None:
        match message:
            case m.Join():
                self._close(link, "joined twice", final=True)
            case m.Again():
                self.hosting = hosts.again(self.hosting, link.name, message.after)
                link.wake.set()
            case _:
                self._ask(link, message)

    def _ask(self, link: Link, asked: m.Asked) -> None:
        match hosts.weigh(self.hosting, link.name, asked.count):
            case "gap":
                self._close(link, "something is missing before this; it is to be said again", final=False)
                return
            case "old":
                refused = self.hosting.guests[link.name].refusals.get(asked.count, "")
            case "new":
                self.host.tick()
                there = self.hosting.has_instructor
                refused = self._desk.decide(link.name, link.station, asked, has_instructor=there)
                self._hand_out()
                self.hosting = hosts.answered(self.hosting, link.name, asked.count, refused)
        if len(link.answers) >= MOST_ANSWERS:
            self._close(link, "answers are not read", final=False)
            return
        link.answers.append(m.Taken(count=asked.count, refused=refused))
        link.wake.set()
