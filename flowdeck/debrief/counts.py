"""Counts of a flight, each beside how often it could have been: calls, replies, evidence, work by the minute.

The law: a count that has no meaning with one person in both seats is None, never zero.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from statistics import median
from typing import NamedTuple

from msgspec import Struct

from flowdeck.debrief.lists import Reading
from flowdeck.debrief.lives import Life
from flowdeck.model import events as ev
from flowdeck.model.deck import Deck, ItemKind
from flowdeck.model.seats import Seat
from flowdeck.model.session import Evidence

STANDING = (ItemKind.STANDING_ON, ItemKind.STANDING_OFF)
SPOKEN = (ItemKind.CALL, ItemKind.ANSWER)


class Calls(Struct, frozen=True, kw_only=True):
    """Of *owed* calls (or answers to them): each is one of the four. Late wins over prompted."""

    owed: int
    on_time: int
    prompted: int
    late: int
    missed: int


def calls_of(lives: Iterable[Life], kind: ItemKind) -> Calls:
    """*kind*: CALL or ANSWER. One that was still open when the journal ended is not counted."""
    counts: Counter[str] = Counter(call_kept(life) for life in lives if life.kind is kind and life.was_owed)
    found = {name: counts[name] for name in ("on_time", "prompted", "late", "missed")}
    return Calls(owed=sum(found.values()), **found)


def call_kept(life: Life) -> str:
    """`on_time`, `prompted`, `late`, `missed`, or `open`."""
    if life.done_at is None:
        return "missed" if life.missed_at is not None or life.lapsed_at is not None else "open"
    if life.missed_at is not None and life.missed_at < life.done_at:
        return "missed"
    if life.overdue_at is not None and life.overdue_at < life.done_at:
        return "late"
    return "prompted" if life.prompted else "on_time"


class Replies(Struct, frozen=True, kw_only=True):
    """Times from a line's challenge to its answer, s. *under_look*: faster than a look takes."""

    count: int
    median_s: float
    least_s: float
    most_s: float
    under_look: int


def replies_of(deck: Deck, readings: Iterable[Reading]) -> Replies | None:
    """None where no line was read and answered at the pace of time."""
    times = [
        (reply.at - reply.read_at) / 1000
        for reading in readings
        for reply in reading.replies
        if reply.read_at is not None and reply.pace <= 1
    ]
    if not times:
        return None
    under = sum(seconds < deck.policy.look_s for seconds in times)
    return Replies(count=len(times), median_s=median(times), least_s=min(times), most_s=max(times), under_look=under)


class Proof(Struct, frozen=True, kw_only=True):
    """Of actions done: shown by the aircraft, or only said; of those only said, *could_show* have a signal for it."""

    seen: int
    said: int
    could_show: int


def proof_of(deck: Deck, lives: Iterable[Life]) -> Proof:
    done = [life for life in lives if life.kind not in SPOKEN and life.evidence in (Evidence.SEEN, Evidence.SAID)]
    said = [life for life in done if life.evidence is Evidence.SAID]
    could = sum(deck.items[life.item].seen is not None for life in said)
    return Proof(seen=len(done) - len(said), said=len(said), could_show=could)


class Minute(NamedTuple):
    """How many acts each seat made in the minute that began at *minute* minutes of session time."""

    minute: int
    captain: int
    first_officer: int


_ACTS = (ev.ItemDone, ev.ItemPartly, ev.LineRead, ev.LineAnswered, ev.ListCalled, ev.ListCompleted, ev.Challenged)


def minutes_of(events: Sequence[ev.Event]) -> tuple[Minute, ...]:
    """From the first minute to the last, the empty ones too."""
    counts: Counter[tuple[int, Seat]] = Counter((e.at // 60_000, e.seat) for e in events if isinstance(e, _ACTS))
    if not events:
        return ()
    last = events[-1].at // 60_000
    return tuple(Minute(m, counts[m, Seat.CAPTAIN], counts[m, Seat.FIRST_OFFICER]) for m in range(last + 1))
