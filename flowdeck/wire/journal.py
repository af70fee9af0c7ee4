"""The journal: JSON lines, the first a header, then one event a line with its number and checksum.

    {"n":12,"c":"7f3a09e1","e":{"type":"ItemDone","at":61500,"item":"flaps-up","seat":"first_officer"}}

The checksum (CRC-32 of number and event) covers the whole line's meaning, so a line that was cut or
changed shows. Only the last line may be torn (a process killed while writing): it is dropped and
said. A damaged line before it makes the journal unusable beyond that place.

The header says its format before anything else of it is read, so that a newer journal is named as such.
"""

import re
import zlib

from msgspec import Struct

from flowdeck import DISCLAIMER, __version__
from flowdeck.model.deck import Deck
from flowdeck.model.diagnostic import Diagnostic, Level, Place, Rejected
from flowdeck.model.events import Event
from flowdeck.model.scenario import Scenario
from flowdeck.wire import codec

FORMAT = 1
MOST_FINDINGS = 20
"""A file that is no journal at all would otherwise be complained of line by line."""
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


class _Format(Struct, frozen=True, kw_only=True, tag="FlowdeckJournal"):
    """As much of a header as every format has."""

    format: int


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


def read_line(line: bytes) -> tuple[int, Event]:
    """Number and event of one line (no newline). Raises `codec.Unreadable` with what was found and expected."""
    match = _LINE.match(line)
    if match is None:
        found = (
            "an empty line" if not line else "a line that ends in CR LF" if line.endswith(b"}\r") else "something else"
        )
        raise codec.Unreadable(f'expected {{"n":number,"c":"checksum","e":event}}, found {found}')
    number = int(match[1])
    if _checksum(number, match[3]) != match[2]:
        raise codec.Unreadable("the checksum does not fit; the line was changed or cut")
    return number, codec.decode_event(match[3])


def read_journal(file: str, raw: bytes) -> Opened:
    """Read a whole journal. Raises `Rejected` with every damaged line, unless only the last is torn."""
    lines = raw.split(b"\n")
    torn = lines.pop()  # what follows the last newline: nothing, or a torn line
    if not lines:
        message = "the header is torn, so nothing of this journal can be read" if torn else "the file is empty"
        raise Rejected((_finding(file, 1, "no-header", message),))
    header, deck, scenario = _header(file, lines[0])
    events: list[Event] = []
    findings: list[Diagnostic] = []
    good = len(lines[0]) + 1
    expected = 1
    for index, line in enumerate(lines[1:], start=2):
        try:
            number, event = read_line(line)
        except codec.Unreadable as error:
            findings.append(_finding(file, index, "damaged-line", str(error)))
            expected += 1
        else:
            if number != expected:
                findings.append(_finding(file, index, "wrong-number", _gap(expected, number)))
            events.append(event)
            expected = number + 1
            good += 0 if findings else len(line) + 1
    notes: tuple[Diagnostic, ...] = ()
    last = [f for f in findings if f.kind == "damaged-line" and f.place.line == len(lines)]
    if findings == last and last and not torn:
        notes, findings = (_dropped(file, len(lines), len(lines[-1])),), []
    if findings:
        more = len(findings) - MOST_FINDINGS
        if more > 0:
            place = findings[MOST_FINDINGS].place.line
            findings[MOST_FINDINGS:] = [_finding(file, place, "damaged-line", f"and {more:,} more lines like these")]
        raise Rejected(tuple(findings))
    if torn:
        notes = (_dropped(file, len(lines) + 1, len(torn)),)
    return Opened(header=header, deck=deck, scenario=scenario, events=tuple(events), good_bytes=good, notes=notes)


def _gap(expected: int, found: int) -> str:
    if found > expected:
        missing = found - expected
        return f"expected event {expected}, found {found}; {missing} line{'s are' if missing > 1 else ' is'} missing"
    return f"expected event {expected}, found {found}; lines stand twice or in the wrong place"


def _dropped(file: str, line: int, size: int) -> Diagnostic:
    message = f"the last line was torn ({size} bytes) and is dropped; everything before it is whole"
    return Diagnostic(place=Place(file, line), kind="torn-line", message=message, level=Level.INFO)


def _header(file: str, line: bytes) -> tuple[Header, Deck, Scenario]:
    try:
        found = codec.decode(line, _Format, "the header of a journal")
        if found.format != FORMAT:
            hint = "; read it with the newer version that wrote it" if found.format > FORMAT else ""
            message = f"journal format {found.format}; this version reads format {FORMAT}{hint}"
            raise Rejected((_finding(file, 1, "format", message),))
        header = codec.decode(line, Header, "the header of a journal")
    except codec.Unreadable as error:
        raise Rejected((_finding(file, 1, "no-header", str(error)),)) from None
    try:
        return header, codec.unpack_deck(header.deck), codec.unpack_scenario(header.scenario)
    except codec.Unreadable as error:
        raise Rejected((_finding(file, 1, "damaged-header", str(error)),)) from None


def _finding(file: str, line: int, kind: str, message: str) -> Diagnostic:
    return Diagnostic(place=Place(file, line), kind=kind, message=message)
