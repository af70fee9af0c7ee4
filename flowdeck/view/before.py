"""The page before a flight of several people: who sits where, who flies, which aids, and what is kept from whom."""

from collections.abc import Sequence

from msgspec import Struct

from flowdeck.model.deck import Deck
from flowdeck.model.scenario import Scenario
from flowdeck.model.seats import Seat
from flowdeck.model.session import Session
from flowdeck.view.vantage import ABSENT, CUT_OFF, JOINED, PLAYED, Vantage
from flowdeck.view.words import safe

NOBODY = "nobody yet"


class Place(Struct, frozen=True):
    """A line of the page: *name*, who is there, and what that one does."""

    name: str
    who: str
    does: str = ""


class Before(Struct, frozen=True, kw_only=True):
    """*waits_for*: who is still missing, in words; empty when the crew is whole."""

    title: str
    deck: str
    places: tuple[Place, ...]
    aids: tuple[Place, ...]
    waits_for: str


def before(
    deck: Deck,
    scenario: Scenario,
    session: Session,
    vantage: Vantage,
    *,
    station: str = "",
    instructors: int = 0,
    observers: int = 0,
    lapses: Sequence[Seat] = (),
) -> Before:
    """*station*: where the onlooker sits, as `captain`; *lapses*: seats whose played pilot lets things slip."""
    seats = tuple(_seat(session, vantage, seat) for seat in vantage.order)
    empty = [seat.label.lower() for seat in Seat if vantage.hands.get(seat, "") in (ABSENT, CUT_OFF)]
    return Before(
        title=safe(scenario.title),
        deck=safe(f"{deck.identity.title}, version {deck.identity.version}, {deck.identity.status}"),
        places=(*seats, *_others(station, instructors, observers)),
        aids=(*_aids(session), Place("Kept from the crew", _kept(session, lapses))),
        waits_for=" and ".join(empty),
    )


def _seat(session: Session, vantage: Vantage, seat: Seat) -> Place:
    role = "flies" if session.flying is seat else "monitors"
    words = {ABSENT: NOBODY, PLAYED: "played by the tool", JOINED: "at another terminal", CUT_OFF: "cut off just now"}
    hands = vantage.hands.get(seat, "")
    who = "you" if seat in vantage.own else words.get(hands, hands or NOBODY)
    return Place(seat.label, who, role)


def _others(station: str, instructors: int, observers: int) -> tuple[Place, ...]:
    """The instructor, and those who look on."""
    who = "you" if station == "instructor" else "there" if instructors else "none: the crew itself begins and pauses"
    found = [Place("Instructor", who, "leads the flight" if instructors or station == "instructor" else "")]
    if observers:
        found.append(Place("Looking on", f"{observers}{', you among them' if station == 'observer' else ''}"))
    return tuple(found)


def _aids(session: Session) -> tuple[Place, ...]:
    guided = session.aid == "guided"
    aid = "guided: each pilot's line shows what is next" if guided else "drill: nothing shows what is next"
    prompts = "withheld until the debrief" if session.withhold else "shown to the pilot whom they are for"
    return (Place("Aid", aid), Place("Prompts", prompts))


def _kept(session: Session, lapses: Sequence[Seat]) -> str:
    """What somebody at a seat is not shown."""
    parts = []
    if session.withhold:
        parts.append("what slips, until the debrief")
    for seat in session.sealed:
        what = "lets slip on purpose" if seat in lapses else "lets slip"
        parts.append(f"what the {seat.label.lower()} {what}, until it is caught")
    return "; ".join(parts) or "nothing"
