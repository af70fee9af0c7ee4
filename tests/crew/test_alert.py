"""When a played pilot speaks up: moments of flights, and what it says to the other one."""

import pytest

from flowdeck.crew.alert import OFFER_MS, Spoken, speak_up
from flowdeck.crew.manner import BLANK, Memory
from flowdeck.model import inputs as inp
from flowdeck.model.seats import Seat
from flowdeck.model.session import ListStatus
from flowdeck.trial.flight import Flight, advance, send, take_off
from tests.support.cockpit import bundled
from tests.support.moments import done, flown_until

CPT, FO = Seat.CAPTAIN, Seat.FIRST_OFFICER


def left_alone(scenario: str = "clean") -> Flight:
    """Nobody does anything from the start."""
    return take_off(*bundled(scenario), solo=False)[0]


def watched(
    flight: Flight, seconds: int, memory: Memory = BLANK, seat: Seat = FO
) -> tuple[Flight, Memory, list[inp.Input]]:
    """*seat* only looks and speaks for so long, twice a second."""
    said: list[inp.Input] = []
    for _ in range(seconds * 2):
        flight, _ = advance(flight, flight.now + 500)
        spoken = speak_up(flight.deck, flight.session, memory, seat, 1, flight.now)
        memory = spoken.memory
        if spoken.input is not None:
            said.append(spoken.input)
            flight, _ = send(flight, spoken.input)
    return flight, memory, said


def test_at_the_start_there_is_nothing_to_say() -> None:
    flight = left_alone()
    assert speak_up(flight.deck, flight.session, BLANK, FO, 1, flight.now) == Spoken(None, BLANK)


def test_what_the_other_pilot_is_late_with_is_challenged_twice_and_no_more() -> None:
    """With nobody answering: each thing at most twice, always by the own seat, always about the other's."""
    flight, _, said = watched(left_alone(), 600)
    taken = next((i.at for i in said if isinstance(i, inp.TakeOver)), flight.now)  # a silent captain is relieved
    said = [challenge for challenge in said if challenge.at < taken]
    about = [challenge.about for challenge in said if isinstance(challenge, inp.Challenge)]
    assert len(about) >= 2 and max(about.count(ref) for ref in about) == 2
    assert all(challenge.seat is FO for challenge in said if isinstance(challenge, inp.Challenge))
    owners = {flight.deck.items[ref].by.seats(CPT)[0] for ref in about if ref in flight.deck.items}
    assert owners == {CPT}


def test_a_list_that_was_not_called_is_suggested() -> None:
    open_ = flown_until("clean", lambda f: f.session.list("landing-list").status is ListStatus.OPEN, solo=False)
    flight, _, said = watched(open_, 60)
    lists = [c.about for c in said if isinstance(c, inp.Challenge) and c.about in flight.deck.checklists]
    assert lists and flight.deck.checklists[lists[0]].called_by.seats(CPT)[0] is CPT


def test_after_two_unanswered_challenges_of_something_grave_it_takes_over() -> None:
    """A captain who is silent from the gear on: two challenges about the spoilers, an offer, control."""
    flight, _, said = watched(flown_until("clean", done("gear-down"), solo=False), 66)
    taken = [i for i in said if isinstance(i, inp.TakeOver)]
    assert taken and taken[0].seat is FO
    before = [i for i in said if isinstance(i, inp.Challenge) and i.about == "spoilers-armed"]
    assert len(before) == 2 and flight.deck.items["spoilers-armed"].critical
    missed = before[1].at + flight.deck.policy.challenge_s * 1000
    assert taken[0].at >= missed + OFFER_MS and flight.session.flying is FO


def test_an_answer_keeps_control() -> None:
    """The same with a captain who answers every challenge: nobody takes over."""
    flight, memory, taken = flown_until("clean", done("gear-down"), solo=False), BLANK, []
    for _ in range(66):
        flight, memory, said = watched(flight, 1, memory)
        taken += [i for i in said if isinstance(i, inp.TakeOver)]
        if flight.session.challenge is not None:
            flight, _ = send(flight, inp.Reply(at=flight.now, seat=CPT))
    assert taken == [] and flight.session.flying is CPT


@pytest.mark.parametrize(("seat", "answered", "goes"), [(FO, False, True), (FO, True, False), (CPT, False, True)])
def test_a_failed_gate(seat: Seat, answered: bool, goes: bool) -> None:
    """The pilot flying goes around; the other one challenges, and goes around only where the pilot flying is silent."""
    flight = flown_until("slips", lambda f: "stable-1000" in f.session.gates, solo=False)
    assert flight.session.gates["stable-1000"].status == "failed" and flight.session.flying is CPT
    memory, said = BLANK, []
    for _ in range(8):
        flight, memory, now = watched(flight, 1, memory, seat)
        said += now
        if answered and flight.session.challenge is not None:
            flight, _ = send(flight, inp.Reply(at=flight.now, seat=CPT))
    assert any(isinstance(i, inp.GoAround) and i.seat is seat for i in said) is goes
    if seat is FO:
        assert isinstance(said[0], inp.Challenge) and said[0].about == "stable-1000"


def test_what_was_put_right_and_is_wrong_anew_is_spoken_about_anew() -> None:
    """A thing that is not wrong any more is forgotten; when it is wrong again it counts from one."""
    late, memory = left_alone(), BLANK
    while all(count < 2 for count, _ in memory.spoken.values()):
        late, memory, _ = watched(late, 1, memory)
    late, _ = send(late, inp.Reply(at=late.now, seat=CPT))
    assert late.session.flying is CPT
    ref = next(ref for ref, (count, _) in memory.spoken.items() if count == 2 and ref in late.deck.items)
    healthy = flown_until("clean", lambda f: f.now > late.now, solo=False).session
    healed = speak_up(late.deck, healthy, memory, FO, 1, late.now).memory
    assert ref in memory.noticed and ref not in healed.noticed
    said, again = [], healed
    for now in range(late.now + 60_000, late.now + 400_000, 500):
        spoken = speak_up(late.deck, late.session, again, FO, 1, now)
        again = spoken.memory
        said += [spoken.input.about] if isinstance(spoken.input, inp.Challenge) else []
    assert said.count(ref) == 2
    never_healed = [
        spoken.input
        for now in range(late.now + 60_000, late.now + 400_000, 500)
        if (spoken := speak_up(late.deck, late.session, memory, FO, 1, now)).input is not None
    ]
    assert ref not in {i.about for i in never_healed if isinstance(i, inp.Challenge)}


def test_it_never_speaks_about_its_own() -> None:
    """Two played pilots idle: each speaks of the other's things alone."""
    flight, _, said = watched(left_alone(), 400, seat=CPT)
    about = [c.about for c in said if isinstance(c, inp.Challenge) and c.about in flight.deck.items]
    assert about and {flight.deck.items[ref].by.seats(CPT)[0] for ref in about} == {FO}
