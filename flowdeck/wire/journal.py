"""The journal: JSON lines, the first a header, then one event a line with its number and checksum.

    {"n":12,"c":"7f3a09e1","e":{"type":"ItemDone","at":61500,"item":"flaps-up","seat":"first_officer"}}

The checksum (CRC-32 of number and event) covers the whole line's meaning, so a line that was cut or
changed shows. Only the last line may be torn (a process killed while writing): it is dropped and
said. A damaged line before it makes the journal unusable beyond that place.
"""

import re
import zlib

import msgspec
from msgspec import Struct

from flowdeck import DISCLAIMER, __version__
from flowdeck.model.deck import Deck
from flowdeck.model.diagnostic import Diagnostic, Level, Place, Rejected
from flowdeck.model.events import Event
from flowdeck.model.scenario import Scenario
from flowdeck.wire import codec

FORMAT = 1
_LINE = re.compile(rb'\{"n":(\d{1,12}),"c":"([0-9a-f]{8})","e":(.*)\}\Z', re.DOTALL)


class Header(Struct, frozen=True, kw_only=True, tag="FlowdeckJournal"):
    """First line. *begun*: local date and time, given by the caller. *deck*, *scenario*: packed."""

    format: int
    disclaimer: str
    version: str
    begun: str
    deck_id: str
    deck_title: str
    deck_hash: str
    deck_status: str
    scenario_id: str
    solo: bool
    deck: str
    scenario: str


class Opened(Struct, frozen=True, kw_only=True):
    """A journal that was read. *good_bytes*: up to where it is sound; *notes*: what was dropped."""

    header: Header
    deck: Deck
    scenario: Scenario
    events: tuple[Event, ...]
    good_bytes: int
    notes: tuple[Diagnostic, ...]


def header_line(deck: Deck, scenario: Scenario, *, solo: bool, begun: str) -> bytes:
    header = Header(
        format=FORMAT,
        disclaimer=DISCLAIMER,
        version=__version__,
        begun=begun,
        deck_id=deck.id,
        deck_title=deck.identity.title,
        deck_hash=deck.hash,
        deck_status=deck.identity.status,
        scenario_id=scenario.id,
        solo=solo,
        deck=codec.pack_deck(deck),
        scenario=codec.pack_scenario(scenario),
    )
    return codec.encode(header) + b"\n"


def event_line(number: int, event: Event) -> bytes:
    raw = codec.encode(event)
    return b'{"n":%d,"c":"%s","e":%s}\n' % (number, _checksum(number, raw), raw)


def _checksum(number: int, raw: bytes) -> bytes:
    return b"%08x" % zlib.crc32(raw, number & 0xFFFFFFFF)


def read_line(line: bytes, expected: int) -> Event:
    """One event line (no newline). Raises `codec.Unreadable` with what was found and expected."""
    match = _LINE.match(line)
    if match is None:
        raise codec.Unreadable("not a journal line (number, checksum, event)")
    number = int(match[1])
    if _checksum(number, match[3]) != match[2]:
        raise codec.Unreadable("its checksum does not fit; the line was changed or cut")
    if number != expected:
        raise codec.Unreadable(f"event number {expected} was expected, found {number}")
    return codec.decode_event(match[3])


def read_journal(file: str, raw: bytes) -> Opened:
    """Read a whole journal. Raises `Rejected` with every damaged line, unless only the last is torn."""
    lines = raw.split(b"\n")
    torn = lines.pop()  # what follows the last newline: nothing, or a torn line
    if not lines:
        raise Rejected((_finding(file, 1, "no-header", "the file holds no journal header"),))
    header, deck, scenario = _header(file, lines[0])
    events: list[Event] = []
    findings: list[Diagnostic] = []
    good = len(lines[0]) + 1
    for index, line in enumerate(lines[1:], start=2):
        try:
            events.append(read_line(line, len(events) + len(findings) + 1))
        except codec.Unreadable as error:
            findings.append(_finding(file, index, "damaged-line", str(error)))
        else:
            good += 0 if findings else len(line) + 1
    notes: tuple[Diagnostic, ...] = ()
    if len(findings) == 1 and findings[0].place.line == len(lines) and not torn:
        notes, findings = (_dropped(file, len(lines), len(lines[-1])),), []
    if findings:
        raise Rejected(tuple(findings))
    if torn:
        notes = (_dropped(file, len(lines) + 1, len(torn)),)
    return Opened(header=header, deck=deck, scenario=scenario, events=tuple(events), good_bytes=good, notes=notes)


def _dropped(file: str, line: int, size: int) -> Diagnostic:
    message = f"the last line was torn ({size} bytes) and is dropped; everything before it is whole"
    return Diagnostic(place=Place(file, line), kind="torn-line", message=message, level=Level.INFO)


def _header(file: str, line: bytes) -> tuple[Header, Deck, Scenario]:
    try:
        header = msgspec.json.decode(line, type=Header)
    except (msgspec.DecodeError, msgspec.ValidationError, UnicodeDecodeError) as error:
        message = f"the first line is no journal header ({error})"
        raise Rejected((_finding(file, 1, "no-header", message),)) from None
    if header.format != FORMAT:
        message = f"journal format {header.format}; this version reads format {FORMAT}"
        raise Rejected((_finding(file, 1, "format", message),))
    try:
        return header, codec.unpack_deck(header.deck), codec.unpack_scenario(header.scenario)
    except codec.Unreadable as error:
        raise Rejected((_finding(file, 1, "no-header", str(error)),)) from None


def _finding(file: str, line: int, kind: str, message: str) -> Diagnostic:
    return Diagnostic(place=Place(file, line), kind=kind, message=message)
