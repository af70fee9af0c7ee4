"""What strangers and bad guests do: nobody gets in without the code, the flight goes on, memory does not grow."""

import asyncio
import json
import socket
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from random import Random
from typing import TypeVar

import pytest
from websockets.asyncio.client import ClientConnection, connect
from websockets.exceptions import ConnectionClosed, InvalidStatus

from flowdeck.live.journal import read_file
from flowdeck.live.net import server as served
from flowdeck.live.net.door import MOST_WAITING, address_key
from flowdeck.live.net.server import MOST_ANSWERS, Link
from flowdeck.model import inputs as inp
from flowdeck.model.seats import Seat
from flowdeck.wire.link import messages as m
from flowdeck.wire.link.knock import MOST_ADDRESSES
from flowdeck.wire.link.rate import TOO_MANY
from flowdeck.wire.link.stations import Station
from tests.conftest import Measured
from tests.support.crewed import CODE, LIMIT_S, Hosted, hosted

T = TypeVar("T")
MISSING = "something is missing before this; it is to be said again"


def join(station: Station = Station.OBSERVER, *, code: str = CODE, guest: int = 1) -> bytes:
    return m.encode(m.Join(version=m.VERSION, guest=f"{guest:016x}", code=code, station=station))


async def line(h: Hosted, source: str = "127.0.0.1", **options: object) -> ClientConnection:
    """A link of our own making, before it has joined."""
    made = await connect(
        f"ws://127.0.0.1:{h.port}/flight",
        compression=None,
        max_size=m.LARGEST_FROM_HOST,
        local_addr=(source, 0),
        **options,  # type: ignore[arg-type]
    )
    h.strangers.append(made.transport)
    return made


async def closed(link: ClientConnection) -> m.Closed | None:
    """The reason why the host closes a link; None when it is cut without one."""
    async with asyncio.timeout(LIMIT_S):
        with suppress(ConnectionClosed):
            while True:
                message = m.from_host(await link.recv(decode=False))
                if isinstance(message, m.Closed):
                    return message
    return None


async def knock(h: Hosted, code: str, source: str = "127.0.0.1") -> m.Closed:
    link = await line(h, source)
    await link.send(join(code=code))
    told = await closed(link)
    await link.close()
    assert told is not None
    return told


async def goes_on(h: Hosted) -> None:
    """The flight and its guests are as well as before."""
    captain = h.guests[0]
    await h.fly(2)
    assert captain.trouble == "" and h.all_same()
    assert await h.ask(captain, inp.Point(at=0, seat=Seat.CAPTAIN, item="aids")) in ("", captain.refusal())


async def eventually(found: Callable[[], T]) -> T:
    """What is there when the loop has come to it."""
    async with asyncio.timeout(LIMIT_S):
        while not (value := found()):
            await asyncio.sleep(0)
    return value


def wrong_code(chance: Random) -> str:
    return "".join(chance.choice("ACDEFGHJKM") for _ in range(10))


async def test_a_thousand_wrong_codes_let_nobody_in() -> None:
    """Half of them at once, half as fast as the waits allow; who knows the code gets in after the wait."""
    async with hosted() as h:
        captain = await h.guest(Station.CAPTAIN)
        chance = Random(7)
        told = [await knock(h, wrong_code(chance)) for _ in range(500)]
        assert [each.final for each in told] == [True] * 3 + [False] * 497
        during = await knock(h, CODE)
        assert not during.final and during.because.startswith("too many wrong codes from this address")
        for _ in range(500):
            h.clock.now += 31
            assert (await knock(h, wrong_code(chance))).because == "the join code is wrong"
        assert len(h.server.door.failed) == 1 and list(h.server.hosting.guests) == list(h.server.links)
        assert len(h.server.links) == 1
        again = h.link(Station.CAPTAIN)  # from the same address, without a wait that is over
        h.clock.now += 31
        assert not await again.ready() and again.following.closed == "the captain's seat is taken"
        h.guests.remove(again)
        await h.guest(Station.OBSERVER)
        assert captain.links == 1
        await goes_on(h)


async def test_the_table_of_those_who_guess_is_bounded() -> None:
    """Eleven hundred addresses guess; the table keeps a thousand."""
    async with hosted() as h:
        for number in range(1100):
            source = f"127.0.{1 + number // 200}.{1 + number % 200}"
            assert (await knock(h, "AAAAAAAAAA", source)).because == "the join code is wrong"
        assert len(h.server.door.failed) == MOST_ADDRESSES
        await h.guest(Station.CAPTAIN)


async def test_a_guest_that_was_there_before_is_not_held_up_by_its_neighbours() -> None:
    async with hosted() as h:
        captain = await h.guest(Station.CAPTAIN)
        for _ in range(6):
            await knock(h, "AAAAAAAAAA")
        next(iter(h.server.links.values())).socket.transport.abort()
        await h.until(captain, lambda: captain.links == 2)
        await goes_on(h)


def test_addresses_of_one_net_wait_together() -> None:
    assert address_key("2001:db8::1") == address_key("2001:db8::ffff") != address_key("2001:db8:0:1::1")
    assert address_key("::ffff:192.0.2.7") == address_key("192.0.2.7") == "192.0.2.7"
    assert address_key("fe80::1%eth0") == "fe80::/64"
    assert address_key("nothing") == "nothing"


async def test_a_flood_is_closed_with_its_reason() -> None:
    async with hosted() as h:
        await h.guest(Station.CAPTAIN)
        link = await line(h)
        await link.send(join())
        with suppress(ConnectionClosed):
            for _ in range(500):
                await link.send(m.encode(m.Again(after=0)))
        assert await closed(link) == m.Closed(because=TOO_MANY, final=True)
        await goes_on(h)


async def test_a_giant_message_ends_its_link_alone() -> None:
    async with hosted() as h:
        await h.guest(Station.CAPTAIN)
        for joined in (False, True):
            link = await line(h)
            if joined:
                await link.send(join())
            with suppress(ConnectionClosed):
                await link.send(b"x" * 1_000_000)
            assert await closed(link) is None
            assert link.close_code == 1009
        await goes_on(h)


@pytest.mark.parametrize("joined", [False, True])
async def test_random_messages_are_unreadable_and_end_their_link(joined: bool) -> None:
    async with hosted() as h:
        await h.guest(Station.CAPTAIN)
        chance = Random(11)
        for number in range(100):
            link = await line(h)
            if joined:
                await link.send(join(guest=number + 2))
            await link.send(chance.randbytes(chance.randrange(2000)))
            told = await closed(link)
            assert told is not None and told.final and told.because.startswith("this is no message of a guest")
            await link.close()
        await goes_on(h)


async def test_random_bytes_on_the_line_are_dropped() -> None:
    async with hosted() as h:
        await h.guest(Station.CAPTAIN)
        chance = Random(13)
        for _ in range(100):
            reader, writer = await asyncio.open_connection("127.0.0.1", h.port)
            with suppress(OSError):
                writer.write(chance.randbytes(chance.randrange(1, 9000)) + b"\r\n\r\n")
                writer.write_eof()
                await reader.read()
            writer.transport.abort()
        await goes_on(h)


async def test_messages_out_of_turn_are_told_so() -> None:
    async with hosted() as h:
        await h.guest(Station.CAPTAIN)
        for first, words in (
            (m.encode(m.Again(after=0)), "expected to be joined first"),
            (join().replace(b'"version":1', b'"version":2'), "this host speaks version 1, the guest version 2"),
        ):
            link = await line(h)
            await link.send(first)
            told = await closed(link)
            assert told == m.Closed(because=words, final=True)
        for then, words, final in (
            (join(), "joined twice", True),
            (
                m.encode(m.Note(count=5, about=0, words="")),
                "something is missing before this; it is to be said again",
                False,
            ),
        ):
            link = await line(h)
            await link.send(join(guest=3))
            await link.send(then)
            assert await closed(link) == m.Closed(because=words, final=final)
        await goes_on(h)


async def test_a_page_in_a_browser_and_other_paths_are_turned_away() -> None:
    async with hosted() as h:
        await h.guest(Station.CAPTAIN)
        with pytest.raises(InvalidStatus) as refused:
            await connect(f"ws://127.0.0.1:{h.port}/flight", origin="http://127.0.0.1")  # type: ignore[arg-type]
        assert refused.value.response.status_code == 403
        with pytest.raises(InvalidStatus) as refused:
            await connect(f"ws://127.0.0.1:{h.port}/")
        assert refused.value.response.status_code == 404
        assert refused.value.response.body == b"there is nothing here\n"
        await goes_on(h)


async def test_links_that_say_nothing_are_counted_and_do_not_keep_guests_out() -> None:
    """No more than 32 wait; when they are gone, who was cut off comes in by itself."""
    async with hosted() as h:
        await h.guest(Station.CAPTAIN)
        idle = [await asyncio.open_connection("127.0.0.1", h.port) for _ in range(MOST_WAITING + 8)]
        cut = [await reader.read() for reader, _ in idle[MOST_WAITING:]]
        assert cut == [b""] * 8
        assert len(h.server.waiting.links) == MOST_WAITING
        late = h.link(Station.FIRST_OFFICER)
        await h.until(late, lambda: late.unreached != "")
        for _, writer in idle:
            writer.transport.abort()
        async with asyncio.timeout(LIMIT_S):
            assert await late.ready()
        await goes_on(h)


async def test_a_link_that_does_not_join_is_cut(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(served, "JOIN_S", 0.05)
    async with hosted() as h:
        link = await line(h)
        assert await closed(link) is None
        assert await eventually(lambda: not h.server.waiting.links)
        assert h.server.links == {}


async def stuck(h: Hosted, most: int = 1000) -> tuple[ClientConnection, Link, int]:
    """A guest that never reads and asks for all events again and again, until its line is full; and how often."""
    narrow = socket.socket()
    narrow.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 4096)
    narrow.connect(("127.0.0.1", h.port))
    slow = await connect(
        f"ws://127.0.0.1:{h.port}/flight", sock=narrow, compression=None, max_size=m.LARGEST_FROM_HOST, max_queue=1
    )
    h.strangers.append(slow.transport)
    await slow.send(join())
    link = (await eventually(lambda: list(h.server.links.values())[1:]))[0]
    waits = still = 0
    for asked in range(most):
        before, waits = waits, link.socket.transport.get_write_buffer_size()
        still = still + 1 if waits == before > 0 else 0
        if still == 20:
            return slow, link, asked
        await ask_for_all(h, slow)
    raise AssertionError("the line is never full")


async def ask_for_all(h: Hosted, slow: ClientConnection) -> None:
    h.clock.now += 0.5
    await slow.send(m.encode(m.Again(after=0)))
    h.server.turn()
    await h.followed()


async def test_a_guest_that_never_reads_costs_no_memory(measured: Measured) -> None:
    """What is kept for it is one message, and what the line holds; others see no difference."""
    async with hosted() as h:
        await h.guest(Station.CAPTAIN)
        h.host.fly_on(600_000)
        await h.fly(1)
        before = resident_mb()
        slow, link, asked = await stuck(h)
        largest = 0
        for _ in range(400):
            await ask_for_all(h, slow)
            largest = max(largest, link.socket.transport.get_write_buffer_size())
        whole = len(m.encode(m.Happened(first=1, events=tuple(h.host.events[: m.MOST_EVENTS]))))
        assert 0 < largest < 2**15 + 2 * whole  # the limit of the socket, and the message that went beyond it
        assert link.closing is None and len(link.answers) == 0
        growth = resident_mb() - before
        measured(
            f"{asked + 400} requests for all by a guest that never reads: {largest:,} bytes wait, {growth:.1f} MB more"
        )
        assert growth < 30
        slow.transport.abort()
        await goes_on(h)


async def test_answers_that_are_not_read_end_their_link() -> None:
    async with hosted() as h:
        await h.guest(Station.CAPTAIN)
        h.host.fly_on(600_000)
        await h.fly(1)
        slow, link, _ = await stuck(h)
        for count in range(1, MOST_ANSWERS + 2):
            h.clock.now += 0.1
            await slow.send(m.encode(m.Send(count=count, input=inp.Tick(at=0))))
            await eventually(lambda count=count: h.server.hosting.counts[link.name] == count)
        assert len(link.answers) == MOST_ANSWERS
        slow.transport.abort()
        assert await eventually(lambda: h.said[2:]) == ["Observer is lost: answers are not read"]
        await goes_on(h)


def resident_mb() -> float:
    status = Path("/proc/self/status").read_text(encoding="ascii")
    return int(next(line for line in status.splitlines() if line.startswith("VmRSS")).split()[1]) / 1024


async def test_a_forged_input_is_never_journalled_unread(tmp_path: Path) -> None:
    """Names that are none, odd letters, huge numbers: refused or taken, and the journal can always be read again."""
    path = tmp_path / "a.journal"
    async with hosted(path) as h:
        link = await line(h)
        await link.send(join(Station.CAPTAIN))
        chance = Random(17)
        names = ("brief", "speed", "", "\x00", "\x1b[31m", "\u202e", "no such", "x" * 80, "landing-list", "minimum")
        kinds = ("Act", "Point", "CallList", "ReadLine", "Answer", "Defer", "Challenge", "GoAround", "Undo", "Tell")
        for count in range(1, 120):
            h.clock.now += 0.1
            name = chance.choice(names)
            values = {"item": name, "checklist": name, "line": name, "about": name, "fact": name, "cue": name}
            number = chance.choice((0, -1, 1e9, -1e9, 150, 86_400))
            body = {**values, "value": number, "in_s": number, "seat": "captain", "at": chance.choice((0, -1, 10**30))}
            if (kind := chance.choice(kinds)) == "Tell":
                body["value"] = True
            message = {"type": "Send", "count": count, "input": {"type": kind, **body}}
            await link.send(json.dumps(message).encode())
            while not isinstance(answer := m.from_host(await link.recv(decode=False)), m.Taken):
                assert not isinstance(answer, m.Closed), answer
        await link.close()
        last = h.host.events[-1]
    assert read_file(str(path)).events[-1] == last
