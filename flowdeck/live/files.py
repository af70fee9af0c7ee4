"""Reading files that somebody else may have written: regular ones only, and never more than a limit."""

import os
import stat

from flowdeck.model.diagnostic import refused


def read_bounded(path: str | os.PathLike[str], most: int, shown: str = "") -> bytes:
    """The bytes of a file of at most *most* bytes, called *shown* in messages. Raises `Rejected`.

    A device or a pipe is refused without waiting for it, a file that is too large without reading it.
    """
    name = shown or str(path)
    try:
        descriptor = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    except (OSError, ValueError) as error:
        raise refused(name, "unreadable", f"cannot be read: {_why(error)}") from None
    try:
        found = os.fstat(descriptor)
        if not stat.S_ISREG(found.st_mode):
            raise refused(name, "unreadable", f"is {_kind(found.st_mode)}; expected a file")
        if found.st_size > most:
            raise refused(name, "too-large", f"{found.st_size:,} bytes; at most {most:,} are read")
        with open(descriptor, "rb", closefd=False) as file:
            raw = file.read(most + 1)
    except OSError as error:
        raise refused(name, "unreadable", f"cannot be read: {_why(error)}") from None
    finally:
        os.close(descriptor)
    if len(raw) > most:
        raise refused(name, "too-large", f"it grows while it is read; at most {most:,} bytes are read")
    return raw


def _kind(mode: int) -> str:
    return "a folder" if stat.S_ISDIR(mode) else "a pipe" if stat.S_ISFIFO(mode) else "a device"


def _why(error: OSError | ValueError) -> str:
    return (error.strerror if isinstance(error, OSError) else None) or str(error)
