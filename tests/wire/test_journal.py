"""A journal is read whole, or up to a torn last line, or refused with each place that is damaged."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import astuple

from flowdeck.engine import fold
from flowdeck.model.deck import Deck
from flowdeck.model.diagnostic import Level, Rejected
from flowdeck.model.events import Event
from flowdeck.model.session import Session
from flowdeck.model.session import same as same_session
from flowdeck.wire.journal import MOST_FINDINGS, Opened, event_line, read_journal
from tests.wire.conftest import DECK, SCENARIO

Lines = tuple[bytes, ...]


def refused(raw: bytes) -> list[str]:
    """What is found wrong, without the offer to salvage what stands before it."""
    with pytest.raises(Rejected) as caught:
        read_journal("x.journal", raw)
    return [str(finding) for finding in caught.value.findings if finding.kind != "salvage"]


def same(first: Deck, second: Deck) -> bool:
    return astuple(first) == astuple(second)


def test_a_whole_journal(lines: Lines, events: tuple[Event, ...]) -> None:
    raw = b"".join(lines)
    opened = read_journal("x.journal", raw)
    assert opened.events == events
    assert opened.good_bytes == len(raw)
    assert opened.notes == ()
    assert same(opened.deck, DECK) and opened.scenario.id == SCENARIO.id
    header = opened.header
    assert (header.deck_id, header.deck_hash, header.begun) == ("small", DECK.hash, "2026-01-05 12:30")
    assert header.solo and "raining and simulation only" in header.disclaimer
    assert same_session(fold(Session(), opened.events), fold(Session(), events))


def test_a_journal_of_nothing_but_its_header(header: bytes) -> None:
    opened = read_journal("x.journal", header)
    assert (opened.events, opened.notes, opened.good_bytes) == ((), (), len(header))


def torn(opened: Opened, lines: Lines, events: tuple[Event, ...], size: int) -> None:
    """The last line is dropped and said, everything before it is kept."""
    assert opened.events == events[:-1]
    assert opened.good_bytes == len(b"".join(lines[:-1]))
    [note] = opened.notes
    assert note.level is Level.INFO
    begun = f"x.journal:{len(lines)}:1 info torn-line: the last line was torn ({size} bytes"
    assert str(note).startswith(begun)
    what = str(note).removeprefix(begun).removesuffix(") and is dropped; everything before it is whole")
    kind = type(events[-1]).__name__
    assert what in ("", f" of event {len(events)}", f" of event {len(events)}, {kind}") or size == len(lines[-1]) - 1


def test_the_last_line_torn_at_every_byte(lines: Lines, events: tuple[Event, ...]) -> None:
    whole, last = b"".join(lines[:-1]), lines[-1]
    for size in range(1, len(last)):
        torn(read_journal("x.journal", whole + last[:size]), lines, events, size)


def test_the_last_line_damaged_at_every_byte(lines: Lines, events: tuple[Event, ...]) -> None:
    """The line is there with its end, but not all of it reached the disk as written."""
    whole, last = b"".join(lines[:-1]), lines[-1]
    for place in range(len(last) - 1):
        damaged = last[:place] + bytes([last[place] ^ 0x80]) + last[place + 1 :]
        torn(read_journal("x.journal", whole + damaged), lines, events, len(last) - 1)


def test_what_is_kept_of_a_torn_journal_can_be_read_and_gone_on_with(lines: Lines, events: tuple[Event, ...]) -> None:
    raw = b"".join(lines)[:-3]
    kept = raw[: read_journal("x.journal", raw).good_bytes]
    again = kept + event_line(len(events), events[-1])
    assert again == b"".join(lines)
    assert read_journal("x.journal", again).notes == ()


def test_every_byte_of_a_middle_line_is_watched(lines: Lines) -> None:
    """Whatever byte of it is changed, the line is refused, with its place."""
    middle = 3
    line = lines[middle]
    for place in range(len(line) - 1):
        damaged = line[:place] + bytes([line[place] ^ 0x80]) + line[place + 1 :]
        said = refused(b"".join((*lines[:middle], damaged, *lines[middle + 1 :])))
        assert len(said) == 1
        assert said[0].startswith(f"x.journal:{middle + 1}:1 error damaged-line: ")


def test_what_stands_before_the_damage_is_offered_and_salvaged(lines: Lines, events: tuple[Event, ...]) -> None:
    """Nothing behind the damaged line is kept, however sound: it may follow from what was lost."""
    middle = 3
    raw = b"".join((*lines[:middle], b"x\n", *lines[middle + 1 :]))
    with pytest.raises(Rejected) as caught:
        read_journal("x.journal", raw)
    assert str(caught.value.findings[-1]) == (
        "x.journal:4:1 info salvage: what stands before this line is whole (2 events); "
        "to go on from there: --resume FILE --salvage"
    )
    opened = read_journal("x.journal", raw, salvage=True)
    assert opened.events == events[: middle - 1]
    assert raw[: opened.good_bytes] == b"".join(lines[:middle])
    assert opened.notes == caught.value.findings


def test_where_nothing_is_sound_nothing_is_offered(lines: Lines) -> None:
    with pytest.raises(Rejected) as caught:
        read_journal("x.journal", lines[0] + b"x\n" + b"".join(lines[2:]))
    assert [finding.kind for finding in caught.value.findings] == ["damaged-line"]


def test_two_damaged_lines_at_the_end_are_no_torn_line(lines: Lines) -> None:
    said = refused(b"".join(lines[:-2]) + b"x\ny\n")
    assert [line.split()[0] for line in said] == [f"x.journal:{len(lines) - 1}:1", f"x.journal:{len(lines)}:1"]
    said = refused(b"".join(lines[:-2]) + b"x\n" + lines[-1][:20])
    assert [line.split()[0] for line in said] == [f"x.journal:{len(lines) - 1}:1"]


def test_a_missing_last_line_of_another_number_is_not_taken_for_torn(lines: Lines, events: tuple[Event, ...]) -> None:
    """A whole line with the wrong number was not torn: something is missing before it."""
    said = refused(b"".join(lines) + event_line(len(events) + 3, events[-1]))
    assert said == [
        f"x.journal:{len(lines) + 1}:1 error wrong-number: expected event {len(events) + 1}, "
        f"found {len(events) + 3}; 2 lines are missing"
    ]


def test_a_gap_is_said_once(lines: Lines) -> None:
    said = refused(b"".join((*lines[:2], *lines[3:])))
    assert said == ["x.journal:3:1 error wrong-number: expected event 2, found 3; 1 line is missing"]


def test_many_damaged_lines_are_not_all_said(header: bytes) -> None:
    said = refused(header + b"x\n" * 5000 + b"y\n")
    assert len(said) == MOST_FINDINGS + 1
    assert said[-1] == f"x.journal:{MOST_FINDINGS + 2}:1 error damaged-line: and 4,981 more lines like these"


@given(st.binary(max_size=200))
def test_no_bytes_break_the_reader(raw: bytes) -> None:
    assert refused(raw)


@given(st.data())
def test_no_change_of_a_good_journal_breaks_the_reader(
    lines: Lines, events: tuple[Event, ...], data: st.DataObject
) -> None:
    """Bytes cut out, overwritten or put in: what is given back is what was written, or a refusal."""
    raw = b"".join(lines)
    first = data.draw(st.sampled_from([0, len(lines[0]) - 200, len(lines[0])]))
    start = data.draw(st.integers(first, len(raw)))
    end = data.draw(st.integers(start, min(len(raw), start + 150)))
    put = data.draw(st.one_of(st.binary(max_size=60), st.sampled_from(lines[1:])))
    try:
        opened = read_journal("x.journal", raw[:start] + put + raw[end:])
    except Rejected as rejected:
        assert rejected.findings
        assert all(str(finding).isprintable() for finding in rejected.findings)
        return
    assert opened.events == events[: len(opened.events)] or opened.events[: len(events)] == events


@given(st.text(alphabet='{}[]":,\\u0019typeformaFlwdckJn', max_size=80))
def test_no_json_like_first_line_breaks_the_reader(text: str) -> None:
    assert refused(text.encode() + b"\n")


def test_a_deep_first_line_is_no_header() -> None:
    head = b'{"type":"FlowdeckJournal","format":1,"new":'
    assert refused(head + b"[" * 100_000 + b"\n") == [
        "x.journal:1:1 error no-header: this is not the header of a journal: nested too deeply"
    ]
