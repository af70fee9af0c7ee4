"""Journals broken and forged: what a line's checksum does not show, since whoever forges can reckon it too."""

import json
import zlib
from base64 import b85decode, b85encode
from collections.abc import Iterable
from functools import cache
from random import Random
from typing import Any

from tests.hostile.sources import journal_lines
from tests.hostile.words import ACTING, SUBTLE

_ODD: tuple[Any, ...] = (
    *(None, True, False, 0, -1, 1, 2**31, 2**63, 2**64, -(2**63), 10**30, 0.5, -0.0, 1e300, 1e-300),
    *("", "x", "captain", "nothing", "x" * 3000, [], {}, [[]], [None], {"": ""}, {"type": "Paused"}, [0, 1, 2]),
)


def line(number: int, body: bytes) -> bytes:
    """An event line with the right checksum, whatever its body is."""
    return b'{"n":%d,"c":"%08x","e":%s}\n' % (number, zlib.crc32(body, number & 0xFFFFFFFF), body)


def forged(*bodies: Any, head: bytes | None = None) -> bytes:
    """A journal of a header and these events (JSON values), numbers and checksums right."""
    lines = [line(number, json.dumps(body).encode()) for number, body in enumerate(bodies, start=1)]
    return (journal_lines()[0] if head is None else head) + b"".join(lines)


def bodies(lines: Iterable[bytes]) -> list[dict[str, Any]]:
    return [json.loads(one)["e"] for one in lines]


@cache
def good_bodies() -> list[dict[str, Any]]:
    """The events of the rehearsal as JSON values."""
    return bodies(journal_lines()[1:])


def changed(random: Random, value: Any) -> Any:
    """A JSON value with one thing in it made odd: a value, a name, a piece more or less."""
    if isinstance(value, dict) and value and random.random() < 0.9:
        key = random.choice(list(value))
        chance = random.random()
        if chance < 0.08:
            return {k: v for k, v in value.items() if k != key}
        if chance < 0.16:
            odd = random.choice((key + "x", "", "type", random.choice(ACTING), "__class__"))
            return {**{k: v for k, v in value.items() if k != key}, odd: value[key]}
        return {**value, key: changed(random, value[key])}
    if isinstance(value, list) and value and random.random() < 0.8:
        at = random.randrange(len(value))
        chance = random.random()
        if chance < 0.1:
            return value[:at] + value[at + 1 :]
        if chance < 0.2:
            return value[:at] + value[at : at + 1] * random.choice((2, 2, 50)) + value[at + 1 :]
        return [*value[:at], changed(random, value[at]), *value[at + 1 :]]
    if isinstance(value, str) and random.random() < 0.5:
        return value + random.choice((*ACTING, *SUBTLE, "\ud800", "x"))
    if isinstance(value, (int, float)) and not isinstance(value, bool) and random.random() < 0.5:
        return random.choice((value + 1, value - 1, -value, value * 1000, 10**17))
    return random.choice(_ODD)


def unpacked(text: str) -> Any:
    return json.loads(zlib.decompress(b85decode(text)))


def packed(value: Any) -> str:
    return b85encode(zlib.compress(json.dumps(value).encode(), 1)).decode()


def changed_header(random: Random, head: bytes) -> bytes:
    """The first line with a field of it odd, or something within the packed deck or scenario."""
    fields = json.loads(head)
    if random.random() < 0.5:
        return json.dumps(changed(random, fields)).encode() + b"\n"
    part = random.choice(("deck", "scenario"))
    inner = unpacked(fields[part])
    for _ in range(random.choice((1, 1, 3))):
        inner = changed(random, inner)
    return json.dumps({**fields, part: packed(inner)}).encode() + b"\n"


def broken_journal(random: Random) -> bytes:
    """The rehearsal's journal, damaged or forged."""
    lines = list(journal_lines())
    for _ in range(random.choice((1, 1, 2))):
        chance = random.random()
        at = random.randrange(1, min(len(lines), len(journal_lines())))
        if chance < 0.1:
            lines[0] = changed_header(random, journal_lines()[0])
        elif chance < 0.55:
            body = changed(random, random.choice(good_bodies()) if random.random() < 0.2 else good_bodies()[at - 1])
            lines[at] = line(random.choice((at, at, at, at, at + 1)), json.dumps(body).encode())
        elif chance < 0.65:
            lines = lines[:at] + lines[at + random.choice((1, 3)) :]
        elif chance < 0.75:
            other = random.randrange(len(lines))
            lines.insert(other, lines[at])
        else:
            raw = bytearray(b"".join(lines))
            start = random.choice((random.randrange(len(raw)), len(lines[0]) + random.randrange(100), len(raw) - 1))
            put = random.choice((b"", random.randbytes(3), b"\n", b"\r\n", b"\x1b[2J", b"[" * 3000, b"\x00", b"\xff"))
            raw[start : start + random.choice((0, 1, 1, 300))] = put
            lines = bytes(raw).splitlines(keepends=True) or [b""]
        if len(lines) < 2:
            break
    return b"".join(lines)
