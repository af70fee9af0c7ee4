"""A line between guests and a host that breaks when it is told to: after so many bytes, in the middle of anything."""

import asyncio
import contextlib
from collections.abc import AsyncIterator


class Cutter:
    """Passes bytes on. *left*: bytes, both ways together, until all links break; None: they hold. *cuts*: so far."""

    def __init__(self, port: int) -> None:
        self.left: int | None = None
        self.cuts = 0
        self.cut = asyncio.Event()
        self._port = port
        self._writers: set[asyncio.StreamWriter] = set()
        self._tasks: set[asyncio.Task[None]] = set()

    async def meet(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        self._writers.add(writer)
        try:
            onward, back = await asyncio.open_connection("127.0.0.1", self._port)
        except OSError:
            writer.transport.abort()
            return
        self._writers.add(back)
        for source, sink in ((reader, back), (onward, writer)):
            task = asyncio.create_task(self._pass(source, sink, {writer, back}))
            self._tasks.add(task)
            task.add_done_callback(self._tasks.discard)

    async def _pass(
        self, source: asyncio.StreamReader, sink: asyncio.StreamWriter, both: set[asyncio.StreamWriter]
    ) -> None:
        with contextlib.suppress(OSError):
            while data := await source.read(4096):
                if self.left is not None:
                    data = data[: self.left]
                    self.left -= len(data)
                sink.write(data)
                await sink.drain()
                if self.left == 0:
                    self.left = None
                    self.break_off()
        for writer in both:
            self._writers.discard(writer)
            writer.close()

    def break_off(self) -> None:
        """Break every link now."""
        self.cuts += 1
        for writer in list(self._writers):
            writer.transport.abort()
        self._writers.clear()
        self.cut.set()
        self.cut = asyncio.Event()

    async def close(self) -> None:
        for writer in list(self._writers):
            writer.transport.abort()
        for task in list(self._tasks):
            task.cancel()
        await asyncio.gather(*self._tasks, return_exceptions=True)


@contextlib.asynccontextmanager
async def cutter(port: int) -> AsyncIterator[tuple[Cutter, int]]:
    """A cutter before the host at *port*, and its own port."""
    line = Cutter(port)
    server = await asyncio.start_server(line.meet, "127.0.0.1", 0)
    try:
        yield line, int(server.sockets[0].getsockname()[1])
    finally:
        server.close()
        await line.close()
