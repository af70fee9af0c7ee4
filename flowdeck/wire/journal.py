"""The journal: JSON lines, the first a header, then one event a line with its number and checksum.

    {"n":12,"to":13,"c":"7f3a09e1","e":{"type":"ItemDone","at":61500,"item":"flaps-up","seat":"first_officer"}}
    {"n":13,"c":"51b0c2aa","e":{"type":"DeviationRaised", ...}}

The checksum (CRC-32 of numbers and event) covers the whole line's meaning, so a line that was cut or
changed shows. What was written together, an act and all that followed from it, is kept together: all
its lines but the last say `to` which number it goes. Only the end may be torn (a process killed while
writing): the torn line is dropped with what belongs to it, and said. A damaged line before it makes
the journal unusable beyond that place.

The header says its format before anything else of it is read, so that a newer journal is named as such.
"""

import re
import zlib
from typing import NamedTuple

from msgspec import Struct

from flowdeck import DISCLAIMER, __version__
from flowdeck.model.deck import Deck
from flowdeck.model.diagnostic import Diagnostic, Level, Place, Rejected, visible
from flowdeck.model.events import Event
from flowdeck.model.scenario import Scenario
from flowdeck.wire import codec
from flowdeck.wire.fits_deck import unfit_deck, unfit_scenario
from flowdeck.wire.fits_events import Fits

FORMAT = 2
_READABLE = (1, 2)
"""Format 1 had no `to`: each of its lines stands for itself."""
MOST_FINDINGS = 20
"""A file that is no journal at all would otherwise be complained of line by line."""
_MOST_READ = 100_000
"""Damaged lines after which no more is read."""
_LINE = re.compile(rb'\{"n":(\d{1,12}),(?:"to":(\d{1,12}),)?"c":"([0-9a-f]{8})","e":(.*)\}\Z', re.DOTALL)

_TORN = re.compile(rb'\{"n":(\d{1,12}),(?:(?:"to":\d{1,12},)?"c":"[0-9a-f]{8}","e":\{"type":"(\w{1,40})")?')


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


def event_line(number: int, event: Event, to: int = 0) -> bytes:
    """The line of an event; *to*: the number of the last event that is written together with it, if it is another."""
    raw = codec.encode(event)
    if to <= number:
        return b'{"n":%d,"c":"%s","e":%s}\n' % (number, _checksum(number, number, raw), raw)
    return b'{"n":%d,"to":%d,"c":"%s","e":%s}\n' % (number, to, _checksum(number, to, raw), raw)


def _checksum(number: int, to: int, raw: bytes) -> bytes:
    return b"%08x" % zlib.crc32(raw, (number if to == number else zlib.crc32(b"%d-%d" % (number, to))) & 0xFFFFFFFF)


class Line(NamedTuple):
    """One event with its number and that of the last event written together with it."""

    number: int
    to: int
    event: Event


def read_line(line: bytes) -> Line:
    """One line (no newline). Raises `codec.Unreadable` with what was found and expected."""
    match = _LINE.match(line)
    if match is None:
        found = (
            "an empty line" if not line else "a line that ends in CR LF" if line.endswith(b"}\r") else "something else"
        )
        raise codec.Unreadable(f'expected {{"n":number,"c":"checksum","e":event}}, found {found}')
    number = int(match[1])
    to = int(match[2] or number)
    if _checksum(number, to, match[4]) != match[3]:
        raise codec.Unreadable("the checksum does not fit; the line was changed or cut")
    return Line(number, to, codec.decode_event(match[4]))


def read_journal(file: str, raw: bytes, *, salvage: bool = False) -> Opened:
    """Read a whole journal. Raises `Rejected` with every damaged line, unless only the last is torn.

    *salvage*: a journal damaged in its middle is read up to there, and its findings become its notes.
    """
    lines = raw.split(b"\n")
    torn = lines.pop()  # what follows the last newline: nothing, or a torn line
    if not lines:
        message = "the header is torn, so nothing of this journal can be read" if torn else "the file is empty"
        raise Rejected((_finding(file, 1, "no-header", message),))
    header, deck, scenario = _header(file, lines[0])
    read, findings = _read_lines(file, lines, Fits(deck, scenario))
    if not torn and [(f.kind, f.place.line) for f in findings] == [("damaged-line", len(lines))]:
        torn = lines[-1]  # written whole, damaged since: no other than one that was torn
        findings = []
    kept = list(read)
    while kept and kept[-1].to > len(read):
        kept.pop()  # the rest of what it was written with is lost
    notes: tuple[Diagnostic, ...] = ()
    if findings:
        notes = _damaged(file, findings, len(kept))
        if not salvage:
            raise Rejected(notes)
    elif torn or len(kept) < len(read):
        notes = (_dropped(file, len(kept) + 2, torn, len(read) - len(kept)),)
    return Opened(
        header=header,
        deck=deck,
        scenario=scenario,
        events=tuple(line.event for line in kept),
        good_bytes=sum(len(line) + 1 for line in lines[: len(kept) + 1]),
        notes=notes,
    )


def _read_lines(file: str, lines: list[bytes], fits: Fits) -> tuple[list[Line], list[Diagnostic]]:
    """The sound lines before the first finding, and what is wrong with the rest; the header is not looked at."""
    read: list[Line] = []
    findings: list[Diagnostic] = []
    expected = 1
    for index, line in enumerate(lines[1:], start=2):
        if len(findings) > _MOST_READ:
            break
        try:
            found = read_line(line)
        except codec.Unreadable as error:
            findings.append(_finding(file, index, "damaged-line", str(error)))
            expected += 1
            continue
        if found.number != expected:
            findings.append(_finding(file, index, "wrong-number", _gap(expected, found.number)))
        elif unfit := fits.unfit(found.event, first=index == 2):
            findings.append(_finding(file, index, "unfit-event", f"this cannot have happened: {visible(unfit)}"))
        expected = found.number + 1
        if not findings:
            read.append(found)
    return read, findings


def _damaged(file: str, findings: list[Diagnostic], sound: int) -> tuple[Diagnostic, ...]:
    """The findings of a journal damaged in its middle, the first of them, and what can still be had of it."""
    shown = findings[:MOST_FINDINGS]
    more = len(findings) - MOST_FINDINGS
    if more > 0:
        line = findings[MOST_FINDINGS].place.line
        shown.append(_finding(file, line, "damaged-line", f"and {more:,} more lines like these"))
    if sound:
        events = f"{sound:,} event{'' if sound == 1 else 's'}"
        message = f"what stands before this line is whole ({events}); to go on from there: --resume FILE --salvage"
        place = Place(file, sound + 2)
        shown.append(Diagnostic(place=place, kind="salvage", message=message, level=Level.INFO))
    return tuple(shown)


def _gap(expected: int, found: int) -> str:
    if found > expected:
        missing = found - expected
        return f"expected event {expected}, found {found}; {missing} line{'s are' if missing > 1 else ' is'} missing"
    return f"expected event {expected}, found {found}; lines stand twice or in the wrong place"


def _dropped(file: str, line: int, torn: bytes, more: int) -> Diagnostic:
    """What was not wholly written: a *torn* line, and *more* lines before it that belong to it."""
    found = _TORN.match(torn)
    what = "" if found is None else f" of event {int(found[1])}" + (f", {found[2].decode()}" if found[2] else "")
    whole = f"{more} lines" if more > 1 else "line"
    if not torn:
        message = f"the last {whole} (of an act that was not wholly written) {'are' if more > 1 else 'is'} dropped"
    else:
        message = f"the last line was torn ({len(torn)} bytes{what}) and is dropped"
        message += f", with the {whole} before it of the same act" if more else ""
    message += "; everything before it is whole"
    return Diagnostic(place=Place(file, line), kind="torn-line", message=message, level=Level.INFO)


def _header(file: str, line: bytes) -> tuple[Header, Deck, Scenario]:
    try:
        found = codec.decode(line, _Format, "the header of a journal")
        if found.format not in _READABLE:
            hint = "; read it with the newer version that wrote it" if found.format > FORMAT else ""
            message = f"journal format {found.format}; this version reads format {FORMAT}{hint}"
            raise Rejected((_finding(file, 1, "format", message),))
        header = codec.decode(line, Header, "the header of a journal")
    except codec.Unreadable as error:
        raise Rejected((_finding(file, 1, "no-header", str(error)),)) from None
    try:
        deck, scenario = codec.unpack_deck(header.deck), codec.unpack_scenario(header.scenario)
    except codec.Unreadable as error:
        raise Rejected((_finding(file, 1, "damaged-header", str(error)),)) from None
    if unfit := unfit_deck(deck) or unfit_scenario(scenario, deck):
        message = f"the deck or scenario in it is none that can be flown: {visible(unfit)}"
        raise Rejected((_finding(file, 1, "damaged-header", message),))
    return header, deck, scenario


def _finding(file: str, line: int, kind: str, message: str) -> Diagnostic:
    return Diagnostic(place=Place(file, line), kind=kind, message=message)
