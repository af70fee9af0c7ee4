"""A guest's end: the flight as far as it was heard of, and what was asked for and is not answered.

The law: the session is the fold of the events that are shown, from the first one on without a gap but those that are
sealed; when one of these is revealed it is folded anew. What comes twice changes nothing; where something is missing
it is asked for. What was asked for is said again, with the same count, until it is answered.
"""

from collections.abc import Callable, Sequence
from typing import NamedTuple, assert_never

from msgspec import Struct
from msgspec.structs import replace

from flowdeck.engine.stand import NOTHING_YET, Stand, stand_after
from flowdeck.model import events as ev
from flowdeck.model.deck import Deck
from flowdeck.model.diagnostic import visible
from flowdeck.model.scenario import Scenario
from flowdeck.model.seats import Seat
from flowdeck.wire import codec
from flowdeck.wire.fits_deck import unfit_deck, unfit_scenario
from flowdeck.wire.fits_events import Fits
from flowdeck.wire.link import messages as m
from flowdeck.wire.link.bounds import LONGEST_WORDS
from flowdeck.wire.link.marks import mark_of
from flowdeck.wire.link.stations import Station

MOST_PENDING = 60
"""Things asked for that are not answered; less than a link may send at once."""


class Following(Struct, frozen=True, kw_only=True, eq=False):
    """See the module. *deck*, *scenario*: None until the first welcome. *events*: None is a sealed one.

    *at*, *number*, *trouble*: of the last beat. *asked*: events were asked for again after this one, -1: none were.
    *closed*: why the host has closed the link, *final*: for good.
    """

    guest: str
    code: str
    station: Station
    flight: str = ""
    deck: Deck | None = None
    scenario: Scenario | None = None
    events: tuple[ev.Event | None, ...] = ()
    stand: Stand = NOTHING_YET
    count: int = 0
    pending: tuple[m.Asked, ...] = ()
    refused: tuple[str, ...] = ()
    played: tuple[Seat, ...] = ()
    roster: tuple[m.Present, ...] = ()
    at: int = 0
    number: int = 0
    trouble: str = ""
    asked: int = -1
    closed: str = ""
    final: bool = False

    @property
    def shown(self) -> tuple[ev.Event, ...]:
        return tuple(event for event in self.events if event is not None)


def joining(f: Following) -> m.Join:
    """The first message of a link, the first time or again."""
    seen = next((n for n in range(len(f.events), 0, -1) if f.events[n - 1] is not None), 0)
    last = f.events[seen - 1] if seen else None
    return m.Join(
        version=m.VERSION,
        guest=f.guest,
        code=f.code,
        station=f.station,
        after=len(f.events),
        flight=f.flight,
        seen=seen,
        mark=mark_of(last) if last is not None else "",
        answered=f.pending[0].count - 1 if f.pending else f.count,
    )


class Asking(NamedTuple):
    """*message*: to be sent now; None where too much waits for an answer already."""

    following: Following
    message: m.Asked | None


def ask(f: Following, made: Callable[[int], m.Asked]) -> Asking:
    """Ask for something: *made* with the next count."""
    if len(f.pending) >= MOST_PENDING:
        return Asking(f, None)
    asked = made(f.count + 1)
    return Asking(replace(f, count=f.count + 1, pending=(*f.pending, asked)), asked)


class Heard(NamedTuple):
    """*replies*: to be sent now; *arrived*: events that were not known before, in order."""

    following: Following
    replies: tuple[m.FromGuest, ...] = ()
    arrived: tuple[ev.Event, ...] = ()


def hear(f: Following, message: m.FromHost) -> Heard:
    """The guest after a message of the host."""
    match message:
        case m.Welcome():
            return _welcome(f, message)
        case m.Happened():
            return _happened(f, message)
        case m.Revealed():
            return _revealed(f, message)
        case m.Taken():
            waited = any(each.count == message.count for each in f.pending)
            # counts are decided in order: what is answered tells that all before it was decided too
            left = tuple(each for each in f.pending if each.count > message.count)
            words = (_shown(message.refused),) if message.refused and waited else ()
            return Heard(replace(f, pending=left, refused=(*f.refused, *words)))
        case m.Roster():
            return Heard(replace(f, roster=message.guests))
        case m.Beat():
            f = replace(f, at=message.at, number=message.number, trouble=_shown(message.trouble))
            return _beat(f, message.gaps)
        case m.Closed():
            return Heard(replace(f, closed=_shown(message.because) or "closed", final=message.final))
        case _:
            assert_never(message)


def _beat(f: Following, gaps: int) -> Heard:
    """All that had happened by a beat was sent before it; what was lost since is asked for, once a beat."""
    if len(f.events) < f.number:
        return _ask_again(replace(f, asked=-1))
    if len(f.events) == f.number and f.events.count(None) > gaps:
        return Heard(f, (m.Again(after=f.events.index(None)),))
    return Heard(f)


def _shown(words: str) -> str:
    """Words of the host, as they can be shown."""
    return visible(words)[:LONGEST_WORDS]


def _ask_again(f: Following) -> Heard:
    """Ask for what follows on the events known; once until more of them come, or another beat."""
    known = len(f.events)
    if f.asked == known:
        return Heard(f)
    return Heard(replace(f, asked=known), (m.Again(after=known),))


def _close(f: Following, because: str) -> Heard:
    return Heard(replace(f, closed=because, final=True))


def _welcome(f: Following, welcome: m.Welcome) -> Heard:
    if welcome.version != m.VERSION:
        return _close(f, f"the host speaks version {welcome.version}, this is version {m.VERSION}")
    if f.flight and welcome.flight != f.flight:
        return _close(f, "another flight is flown there now")
    if f.deck is None:
        try:
            deck, scenario = codec.unpack_deck(welcome.deck), codec.unpack_scenario(welcome.scenario)
        except codec.Unreadable as error:
            return _close(f, str(error))
        if unfit := unfit_deck(deck) or unfit_scenario(scenario, deck):
            return _close(f, f"the host's deck or scenario is none that can be flown: {visible(unfit)}")
        f = replace(f, flight=welcome.flight, deck=deck, scenario=scenario, events=(), stand=NOTHING_YET)
    if welcome.after < len(f.events):
        kept = f.events[: max(0, welcome.after)]
        f = replace(f, events=kept, stand=stand_after(NOTHING_YET, kept))
    f = replace(f, played=welcome.played, number=welcome.number, asked=-1, closed="", final=False)
    return Heard(replace(f, station=welcome.station), f.pending)


def _happened(f: Following, happened: m.Happened) -> Heard:
    known = len(f.events)
    if happened.first > known + 1:
        return _ask_again(f)
    old, new = happened.events[: known + 1 - happened.first], happened.events[known + 1 - happened.first :]
    gaps = [(n, event) for n, event in enumerate(old, happened.first) if event is not None and f.events[n - 1] is None]
    f, _, arrived = _revealed(f, m.Revealed(events=tuple(gaps)))
    if f.final or not new:
        return Heard(f, (), arrived)
    if unfit := _unfit(f, new, known + 1):
        return _close(f, f"the host sent what cannot have happened: {visible(unfit)}")
    f = replace(f, events=(*f.events, *new), stand=stand_after(f.stand, new), number=max(f.number, known + len(new)))
    return Heard(f, (), (*arrived, *(event for event in new if event is not None)))


def _revealed(f: Following, revealed: m.Revealed) -> Heard:
    events = list(f.events)
    arrived: list[ev.Event] = []
    for number, event in sorted(revealed.events, key=lambda pair: pair[0]):
        if 0 < number <= len(events) and events[number - 1] is None:
            events[number - 1] = event
            arrived.append(event)
    if not arrived:
        return Heard(f)
    if unfit := _unfit(f, events, 1):
        return _close(f, f"the host revealed what cannot have happened: {visible(unfit)}")
    return Heard(replace(f, events=tuple(events), stand=stand_after(NOTHING_YET, events)), (), tuple(arrived))


def _unfit(f: Following, events: Sequence[ev.Event | None], first: int) -> str:
    """What of *events* does not fit to the deck or in time; empty when all do."""
    if f.deck is None or f.scenario is None:
        return "events before a welcome"
    fits = _GapsAllowed(f.deck, f.scenario)
    last = f.stand.session.at if first > 1 else 0
    for number, event in enumerate(events, start=first):
        if event is None:
            continue
        if event.at < last:
            return f"the time {event.at} ms does not follow {last} ms"
        last = event.at
        if unfit := fits.unfit(event, first=number == 1):
            return unfit
    return ""


class _GapsAllowed(Fits):
    """Some deviations are sealed, so their numbers have gaps."""

    def _held(self, event: ev.Event) -> str:
        return "" if isinstance(event, (ev.DeviationRaised, ev.DeviationTrapped)) else super()._held(event)
