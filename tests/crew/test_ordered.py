"""What was asked of a played pilot, tried from outside: sealed slips, equal flights, any human at all, good sense."""

from collections.abc import Callable, Iterator
from functools import cache
from random import Random

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from flowdeck.crew.manner import BLANK, Memory
from flowdeck.crew.pilot import Pilot
from flowdeck.live.bundled import read_lapses
from flowdeck.live.host import Host
from flowdeck.live.seated import Seated
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.deck import Deck
from flowdeck.model.deviation import Slip
from flowdeck.model.seats import Seat
from flowdeck.model.session import Session
from flowdeck.trial.company import accompany, join
from flowdeck.trial.flight import Flight, advance, send, take_off
from flowdeck.wire.journal import event_line
from tests.scenarios.flown import Flown
from tests.support.cockpit import TestClock, bundled
from tests.support.daily import some
from tests.support.played import flown_with

CAPTAIN, FIRST_OFFICER = Seat.CAPTAIN, Seat.FIRST_OFFICER
SCENARIOS = [
    *("clean", "cold", "go-around", "icing", "interrupted", "last-flight", "new-runway", "slips", "turnaround"),
    *("wrong-pressure", "turboprop-clean", "turboprop-slips"),
]
QUIET = ("clean", "interrupted", "last-flight", "turboprop-clean")
"""Scenarios in which a crew that lets nothing slip has nothing to be told of."""
MOST_EVENTS_A_SECOND = 400

Human = Callable[[Flight], list[inp.Input]]


def nothing(flight: Flight) -> list[inp.Input]:
    """A pilot who does nothing at all."""
    return []


def any_input(deck: Deck, seat: Seat, at: int, dice: Random) -> inp.Input:
    """Anything that a pilot's keys can send, of the deck's own names, sensible or not."""
    item, checklist = dice.choice(sorted(deck.items)), dice.choice(sorted(deck.checklists))
    value = dice.choice([None, 0.0, 1.0, 136.0, -5.0, "set", "off", "on", True, False])
    fact = dice.choice(sorted(deck.facts))
    about = dice.choice([item, checklist, "speed", "path"])
    made: list[inp.Input] = [
        inp.Act(at=at, seat=seat, item=item, value=value),
        inp.Point(at=at, seat=seat, item=item),
        inp.CallList(at=at, seat=seat, checklist=checklist),
        inp.ReadLine(at=at, seat=seat, checklist=checklist),
        inp.Answer(at=at, seat=seat, line=dice.choice(deck.checklists[checklist].lines), value=value),
        inp.SkipLine(at=at, seat=seat, checklist=checklist),
        inp.HoldList(at=at, seat=seat, checklist=checklist),
        inp.ResumeList(at=at, seat=seat, checklist=checklist, restart=dice.random() < 0.3),
        inp.CompleteList(at=at, seat=seat, checklist=checklist),
        inp.Defer(at=at, seat=seat, item=item, in_s=30.0),
        inp.Tell(at=at, seat=seat, fact=fact, value=dice.random() < 0.5),
        inp.Transfer(at=at, seat=seat, part=dice.choice(["offer", "take", "confirm"])),
        inp.Challenge(at=at, seat=seat, about=about),
        inp.Reply(at=at, seat=seat),
        inp.Undo(at=at, seat=seat),
        inp.TakeOver(at=at, seat=seat),
        inp.GoAround(at=at, seat=seat, how=dice.choice(["go_around", "discontinued"])),
    ]
    weights = [30, 3, 8, 8, 12, 3, 3, 3, 5, 3, 4, 6, 8, 6, 2, 1, 1]
    return dice.choices(made, weights)[0]


def at_random(seat: Seat, seed: int, each_s: float = 3.0) -> Human:
    """A pilot who presses anything, every few seconds."""
    dice = Random(seed)

    def press(flight: Flight) -> list[inp.Input]:
        if dice.random() > 1.0 / each_s:
            return []
        return [any_input(flight.deck, seat, flight.now, dice)]

    return press


def all_wrong(seat: Seat, seed: int) -> Human:
    """A pilot who does what is owed with wrong values, by either seat's items, and calls each list at once."""
    dice = Random(seed)

    def press(flight: Flight) -> list[inp.Input]:
        deck, session, now = flight.deck, flight.session, flight.now
        made: list[inp.Input] = []
        for ref, standing in session.items.items():
            if standing.is_owed and dice.random() < 0.2:
                made.append(inp.Act(at=now, seat=seat, item=ref, value=dice.choice([None, -1.0, "wrong"])))
        for ref, checklist in deck.checklists.items():
            if checklist.phase == session.phase and dice.random() < 0.1:
                made.append(inp.CallList(at=now, seat=seat, checklist=ref))
                made.append(inp.ReadLine(at=now, seat=seat, checklist=ref))
                made.append(inp.Answer(at=now, seat=seat, line=dice.choice(checklist.lines), value="wrong"))
                made.append(inp.CompleteList(at=now, seat=seat, checklist=ref))
        return made[:6]

    return press


def fly_beside(name: str, pilot: Pilot, human: Human, limit_s: int) -> Iterator[tuple[Flight, tuple[ev.Event, ...]]]:
    """Fly second by second; each second's events. A second that has no end fails."""
    deck, scenario = bundled(name)
    flight, begun = take_off(deck, scenario, solo=False, sealed=(pilot.seat,))
    flight, joined = join(flight, (pilot,))
    yield flight, (*begun, *joined)
    memory: Memory = BLANK
    for now in range(1000, limit_s * 1000 + 1, 1000):
        if flight.session.ended:
            return
        flight, flown = advance(flight, now)
        heard: list[ev.Event] = [*flown]
        for input_ in human(flight):
            flight, more = send(flight, input_)
            heard += more
        flight, more, memory = accompany(flight, pilot, memory)
        heard += more
        assert len(heard) < MOST_EVENTS_A_SECOND
        yield flight, tuple(heard)


def all_of(name: str, pilot: Pilot, human: Human, limit_s: int) -> Flown:
    steps = list(fly_beside(name, pilot, human, limit_s))
    return Flown(*bundled(name), steps[-1][0], tuple(event for _, events in steps for event in events))


def heavy(seat: Seat, seed: int) -> Pilot:
    return Pilot(seat=seat, seed=seed, lapses=read_lapses("heavy"))


# What is sealed stays sealed.


@cache
def under_way(seat: Seat, seed: int, at_s: int) -> tuple[Flight, tuple[ev.Event, ...]]:
    """A flight with a lapsing pilot beside an attentive one, at a moment."""
    done = flown_with("clean", heavy(seat, seed), Pilot(seat=seat.other, seed=seed + 9), limit_s=at_s)
    return done.flight, done.events


def spoken_of(deck: Deck, events: tuple[ev.Event, ...], human: Seat) -> set[str]:
    """What the human spoke up about: items, and the lines of lists."""
    abouts = {e.about for e in events if isinstance(e, ev.Challenged) and e.seat is human}
    return abouts | {line for ref in abouts if ref in deck.checklists for line in deck.checklists[ref].lines}


def check_sealed(host: Host, seen: Seated, heard: list[ev.Event], played: Seat) -> None:
    """Of the played seat nothing is known that was neither caught nor spoken of."""
    if host.flight.session.ended:
        return
    known = seen.flight.session
    told = spoken_of(host.flight.deck, tuple(host.events), played.other)
    caught = {d.item for d in host.flight.session.deviations if d.trapped_by is not None}
    for deviation in known.deviations:
        assert deviation.seat is not played or deviation.trapped_by is not None or deviation.item in told
    for event in heard:
        assert not isinstance(event, ev.PilotPlayed)
        if isinstance(event, ev.LapseMade):
            assert event.ref in told | caught
        if isinstance(event, ev.DeviationRaised) and event.seat is played:
            assert event.item in told | caught
        if isinstance(event, ev.Prompted) and event.seat is played and event.ref not in told | caught:
            item = host.flight.deck.items.get(
                event.ref
            )  # None: a list of the human's, whose call the other is to suggest
            assert item is None or (item.by == "both" and played.other not in known.item(event.ref).partly)
    shown = {d.number for d in known.deviations}
    for deviation in host.flight.session.deviations:
        late = deviation.slip in (Slip.LATE, Slip.STANDING_MISSED, Slip.CALL_MISSED)
        hidden = deviation.seat is played and deviation.number not in shown
        if late and hidden and deviation.item in host.flight.deck.items:
            standing = known.item(deviation.item)
            assert not (standing.missed or standing.overdue), deviation.item


@pytest.mark.parametrize("played", [FIRST_OFFICER, CAPTAIN])
@settings(max_examples=3, deadline=None, suppress_health_check=list(HealthCheck))
@given(seed=st.integers(1, 3), at_s=st.sampled_from([0, 240, 640, 930, 1150]), dice=st.integers(0, 10_000))
def test_no_slip_of_the_sealed_seat_is_known_before_it_is_caught(played: Seat, seed: int, at_s: int, dice: int) -> None:
    flight, events = under_way(played, seed, at_s)
    host = Host(flight, None, TestClock(), past=events, pilots=(heavy(played, seed),))
    seen = Seated(host)
    press = at_random(played.other, dice)
    for _ in range(45):
        host.fly_on(1000)
        heard = [*seen.tick()]
        for input_ in press(seen.flight):
            heard += seen.send(input_)
        check_sealed(host, seen, heard, played)


# The same seed, the same flight.


def lines(done: Flown) -> list[bytes]:
    """The flight as its journal keeps it."""
    return [event_line(number, event) for number, event in enumerate(done.events, start=1)]


@pytest.mark.parametrize("seat", [FIRST_OFFICER, CAPTAIN])
@settings(max_examples=2, deadline=None, suppress_health_check=list(HealthCheck))
@given(name=st.sampled_from(["clean", "icing", "turboprop-clean"]), seed=st.integers(0, 99), dice=st.integers(0, 99))
def test_the_same_seed_and_keys_give_the_same_events(seat: Seat, name: str, seed: int, dice: int) -> None:
    first, again = (lines(all_of(name, heavy(seat, seed), at_random(seat.other, dice), 250)) for _ in range(2))
    differing = [number for number, (one, two) in enumerate(zip(first, again, strict=False)) if one != two]
    assert differing == [] and len(first) == len(again)


def test_another_seed_gives_another_flight() -> None:
    """Otherwise the test above says nothing."""
    one, two = (all_of("clean", heavy(FIRST_OFFICER, seed), nothing, 250) for seed in (1, 2))
    assert [(e.at, e.item) for e in one.of(ev.ItemDone)] != [(e.at, e.item) for e in two.of(ev.ItemDone)]


# Whatever the human does.


@pytest.mark.parametrize("seat", [FIRST_OFFICER, CAPTAIN])
@pytest.mark.parametrize("name", some(SCENARIOS, ["icing", "new-runway", "turboprop-slips", "turnaround"]))
def test_no_human_stops_the_program(name: str, seat: Seat) -> None:
    for human in (nothing, at_random(seat.other, 1), all_wrong(seat.other, 2)):
        flight = all_of(name, heavy(seat, 4), human, 100).flight
        assert flight.session.ended or flight.now == 100_000


@cache
def attended(name: str, seat: Seat, seed: int) -> Flown:
    """With a partner who lets nothing slip, and a human who does not either."""
    return flown_with(name, Pilot(seat=seat, seed=seed), Pilot(seat=seat.other, seed=seed + 50), limit_s=3600)


@pytest.mark.parametrize("seat", [FIRST_OFFICER, CAPTAIN])
@pytest.mark.parametrize("name", ["clean", "turboprop-clean"])
def test_an_attentive_human_ends_a_quiet_arrival(name: str, seat: Seat) -> None:
    assert attended(name, seat, 1).flight.session.ended


@pytest.mark.soak
@pytest.mark.parametrize("seed", [1, 5, 12])
@pytest.mark.parametrize("seat", [FIRST_OFFICER, CAPTAIN])
@pytest.mark.parametrize("name", SCENARIOS)
def test_an_attentive_human_ends_every_bundled_scenario(name: str, seat: Seat, seed: int) -> None:
    assert attended(name, seat, seed).flight.session.ended


def test_a_level_final_does_not_go_on_for_ever() -> None:
    """With this seed the missed-approach altitude is set a little soon, and the aeroplane levels off on final: one of
    the two must see that and mend it, or go around; the flight ends."""
    assert attended("last-flight", CAPTAIN, 5).flight.session.ended


# Good sense.


@pytest.mark.parametrize("seat", [FIRST_OFFICER, CAPTAIN])
@pytest.mark.parametrize("name", some(QUIET, ["clean", "turboprop-clean"]))
def test_who_lets_nothing_slip_makes_no_slip(name: str, seat: Seat) -> None:
    slips = [(d.item, str(d.slip)) for d in attended(name, seat, 1).of(ev.DeviationRaised) if d.seat is seat]
    assert slips == []


@pytest.mark.parametrize("seat", some([FIRST_OFFICER, CAPTAIN], [CAPTAIN]))
def test_control_that_was_handed_to_the_captain_for_the_taxi_stays_there(seat: Seat) -> None:
    """The first officer flies `last-flight`, and the tiller is on the left."""
    handed = [e.flying for e in attended("last-flight", seat, 1).of(ev.ControlConfirmed)]
    assert handed == [CAPTAIN]


@pytest.mark.parametrize("seat", [FIRST_OFFICER, CAPTAIN])
@pytest.mark.parametrize("name", ["clean", "turboprop-clean"])
def test_only_what_is_late_or_wrong_is_challenged(name: str, seat: Seat) -> None:
    """Deviations are challenged: what is still in its time is nobody's slip."""
    done = all_of(name, Pilot(seat=seat, seed=7), nothing, 420)
    slipped: set[str] = set()
    early = []
    for event in done.events:
        if isinstance(event, ev.DeviationRaised):
            slipped.add(event.item)
        elif isinstance(event, ev.Challenged) and event.seat is seat and event.about not in slipped:
            early.append((event.at // 1000, event.about))
    assert early == []


@pytest.mark.parametrize("seat", [FIRST_OFFICER, CAPTAIN])
def test_a_thing_is_challenged_twice_at_the_most(seat: Seat) -> None:
    done = all_of("clean", Pilot(seat=seat, seed=7), nothing, 1000)
    abouts = [e.about for e in done.of(ev.Challenged)]
    assert abouts and max(abouts.count(each) for each in abouts) == 2


@pytest.mark.parametrize("seat", [FIRST_OFFICER, CAPTAIN])
def test_who_flies_does_not_offer_to_take_over(seat: Seat) -> None:
    """`clean` is flown by the captain, `last-flight` by the first officer."""
    name = "clean" if seat is CAPTAIN else "last-flight"
    for flight, _ in fly_beside(name, Pilot(seat=seat, seed=7), nothing, 420):
        session: Session = flight.session
        assert session.takeover is not seat or session.flying is not seat, session.at


def test_two_unanswered_challenges_offer_to_take_over() -> None:
    """The captain, who flies, does not set the cleared altitude, and does not answer."""
    offered = {f.session.takeover for f, _ in fly_beside("clean", Pilot(seat=FIRST_OFFICER, seed=7), nothing, 420)}
    assert FIRST_OFFICER in offered


def test_a_captain_who_never_answers_is_relieved() -> None:
    """Twenty challenges and no word: the aeroplane does not pass over the aerodrome at cruise with nobody flying it."""
    done = all_of("clean", Pilot(seat=FIRST_OFFICER, seed=7), nothing, 1500)
    assert done.flight.session.flying is FIRST_OFFICER


def test_a_list_that_was_not_called_is_suggested() -> None:
    """The captain does all but call the approach checklist."""
    captain, memory = Pilot(seat=CAPTAIN, seed=3), BLANK

    def press(flight: Flight) -> list[inp.Input]:
        nonlocal memory
        turn = accompany(flight, captain, memory)
        memory = turn.memory
        return [i for e in turn.events if (i := as_input(e)) and not isinstance(i, inp.CallList)]

    done = all_of("clean", Pilot(seat=FIRST_OFFICER, seed=7), press, 1000)
    assert "approach-list" in {e.about for e in done.of(ev.Challenged) if e.seat is FIRST_OFFICER}


def as_input(event: ev.Event) -> inp.Input | None:
    """What the captain of the test above did, as a key press; None for what only follows."""
    if isinstance(event, ev.ItemDone | ev.ItemPartly) and event.seat is CAPTAIN:
        value = event.value if isinstance(event, ev.ItemDone) else None
        return inp.Act(at=event.at, seat=CAPTAIN, item=event.item, value=value)
    if isinstance(event, ev.ListCalled) and event.seat is CAPTAIN:
        return inp.CallList(at=event.at, seat=CAPTAIN, checklist=event.checklist)
    if isinstance(event, ev.Replied) and event.seat is CAPTAIN:
        return inp.Reply(at=event.at, seat=CAPTAIN)
    return None


def test_silence_at_the_minimum_is_a_go_around() -> None:
    """The captain answers nothing from a thousand feet on. No answer at the minimum: no look, no landing."""
    captain, partner = Pilot(seat=CAPTAIN, seed=3), Pilot(seat=FIRST_OFFICER, seed=4)
    deck, scenario = bundled("clean")
    flight, _ = take_off(deck, scenario, solo=False, sealed=(FIRST_OFFICER,))
    mine = theirs = BLANK
    marks: set[str] = set()
    for now in range(500, 1_150_001, 500):
        flight, flown = advance(flight, now)
        marks |= {e.mark for e in flown if isinstance(e, ev.MarkPassed)}
        flight, _, mine = accompany(flight, partner, mine)
        if now < 1_040_000:
            flight, _, theirs = accompany(flight, captain, theirs)
    assert flight.session.phase == "go_around" or flight.session.flying is FIRST_OFFICER
    assert "touchdown" not in marks
