"""Messages there and back; whatever else comes is unreadable, and never anything worse."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.seats import Seat
from flowdeck.wire.codec import Unreadable
from flowdeck.wire.link import messages as m
from flowdeck.wire.link.marks import known_as, mark_of
from flowdeck.wire.link.stations import Station

FROM_GUEST: list[m.FromGuest] = [
    m.Join(version=1, guest="0123456789abcdef", code="ABCDE-FGHJK", station=Station.CAPTAIN),
    m.Send(count=1, input=inp.Act(at=0, seat=Seat.CAPTAIN, item="brief", value=150.0)),
    m.Note(count=2, about=1500, words="late with the gear"),
    m.Weather(count=3, report="XXXX 121150Z 24015KT 9999 OVC020 12/08 Q1013"),
    m.Play(count=4, happening="cloud"),
    m.HoldBack(count=5, happening="cloud", s=30.0),
    m.Again(after=17),
]
FROM_HOST: list[m.FromHost] = [
    m.Welcome(version=1, disclaimer="d", flight="f", deck="x", scenario="y", station=Station.OBSERVER, beat_ms=500),
    m.Happened(first=3, events=(ev.Paused(at=5), None)),
    m.Revealed(events=((4, ev.ItemOverdue(at=5, item="brief")),)),
    m.Taken(count=4, refused="no"),
    m.Roster(guests=(m.Present(Station.CAPTAIN, True), m.Present(Station.INSTRUCTOR, False))),
    m.Beat(at=1500, number=17, gaps=2, trouble="disk full"),
    m.Closed(because="over", final=False),
]


@pytest.mark.parametrize("message", FROM_GUEST, ids=lambda message: type(message).__name__)
def test_a_guest_is_read_as_it_wrote(message: m.FromGuest) -> None:
    assert m.from_guest(m.encode(message)) == message


@pytest.mark.parametrize("message", FROM_HOST, ids=lambda message: type(message).__name__)
def test_a_host_is_read_as_it_wrote(message: m.FromHost) -> None:
    assert m.from_host(m.encode(message)) == message


@pytest.mark.parametrize(
    "raw",
    [
        b'{"type":"Join","version":1,"guest":"0123456789ABCDEF","code":"x","station":"captain"}',
        b'{"type":"Join","version":1,"guest":"0123456789abcdef\\n","code":"x","station":"captain"}',
        b'{"type":"Join","version":1,"guest":"0123456789abcdef","code":"x","station":"engineer"}',
        b'{"type":"Join","version":1,"guest":"0123456789abcdef","code":"x","station":"captain","after":-1}',
        b'{"type":"Send","count":0,"input":{"type":"Tick","at":0}}',
        b'{"type":"Send","count":1,"input":{"type":"Boot","at":0}}',
        b'{"type":"Send","count":1,"input":{"type":"SetPace","at":0,"pace":NaN}}',
        b'{"type":"Send","count":1,"input":{"type":"SetPace","at":0,"pace":1e999}}',
        b'{"type":"Note","count":1,"about":0,"words":"%s"}' % (b"x" * 401),
        b'{"type":"HoldBack","count":1,"happening":"x","s":-1}',
        b'{"type":"Happened","first":1,"events":[]}',
        b"[" * 16_000,
        b"x" * 20_000,
        b"",
    ],
)
def test_refused_by_a_host(raw: bytes) -> None:
    with pytest.raises(Unreadable):
        m.from_guest(raw)


@given(st.binary(max_size=200))
def test_random_bytes_are_unreadable(raw: bytes) -> None:
    with pytest.raises(Unreadable):
        m.from_guest(raw)
    with pytest.raises(Unreadable):
        m.from_host(raw)


@settings(max_examples=300)
@given(st.sampled_from([m.encode(message) for message in FROM_GUEST]), st.data())
def test_a_changed_message_is_read_or_unreadable(raw: bytes, data: st.DataObject) -> None:
    at = data.draw(st.integers(0, len(raw) - 1))
    changed = raw[:at] + data.draw(st.binary(max_size=3)) + raw[at + data.draw(st.integers(0, 3)) :]
    try:
        read = m.from_guest(changed)
    except Unreadable:
        return
    assert m.from_guest(m.encode(read)) == read


def test_names_and_marks() -> None:
    """A guest's name gives no secret away; an event has the same mark at both ends, whole number or not."""
    assert known_as("0123456789abcdef") != known_as("0123456789abcdee")
    assert "0123" not in known_as("0123456789abcdef")
    assert len(known_as("0123456789abcdef")) == 32
    whole, same = ev.PaceSet(at=1, pace=2), ev.PaceSet(at=1, pace=2.0)
    assert mark_of(whole) == mark_of(same) != mark_of(ev.PaceSet(at=2, pace=2.0))
