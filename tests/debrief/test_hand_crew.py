"""Transfers, challenges, interruptions and gates, from bare events and from the bench."""

from flowdeck.debrief.crew import Break, ChallengeMade, GateMet, Transfer, crew_of
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from tests.debrief.by_hand import started, whole
from tests.engine.test_slips import configured, flight
from tests.support.bench import CPT, FO
from tests.support.slipped import begun, without_power


def challenged(at: int, seat: object = FO, about: str = "speed") -> ev.Challenged:
    return ev.Challenged(at=at, seat=seat, about=about, reply_by=at + 5000)  # type: ignore[arg-type]  # a seat


def test_a_whole_flight_has_two_gates_and_nothing_else() -> None:
    """Stable at 18.0 s, power at 24.0 s as the brake is set; nobody transfers, challenges or interrupts."""
    crew = whole().crew
    assert crew.transfers == () and crew.challenges == () and crew.breaks == ()
    assert crew.gates == (
        GateMet(gate="stable", phase="approach", at=18_000, answer="passed"),
        GateMet(gate="power", phase="ground", at=24_000, answer="passed"),
    )


def test_control_offered_taken_and_confirmed() -> None:
    """At 1, 2 and 3 seconds; then back, offered and never taken."""
    f = begun()
    f.send(inp.Transfer(at=f.now, seat=CPT, part="offer"))
    f.wait(1).send(inp.Transfer(at=f.now, seat=FO, part="take"))
    f.wait(1).send(inp.Transfer(at=f.now, seat=CPT, part="confirm"))
    f.wait(1).send(inp.Transfer(at=f.now, seat=FO, part="offer"))
    assert crew_of(f.events).transfers == (
        Transfer(at=1000, by=CPT, taken_at=2000, confirmed_at=3000, flying=FO),
        Transfer(at=4000, by=FO),
    )


def test_control_seized_after_two_missed_replies() -> None:
    """Challenged at 1 and 7 s, missed at 6 and 12 s, seized at 13 s without an offer."""
    f = begun()
    for _ in range(2):
        f.send(inp.Challenge(at=f.now, seat=FO, about="brief"))
        f.wait(6)
    f.send(inp.TakeOver(at=f.now, seat=FO))
    crew = crew_of(f.events)
    [transfer] = crew.transfers
    assert (transfer.at, transfer.by, transfer.confirmed_at, transfer.flying) == (13_000, FO, 13_000, FO)
    assert transfer.seized and transfer.taken_at in (None, 13_000)
    assert crew.challenges == (
        ChallengeMade(at=1000, seat=FO, about="brief", missed=1),
        ChallengeMade(at=7000, seat=FO, about="brief", missed=2),
    )


def test_the_second_challenge_is_answered() -> None:
    """Missed once; the second at 7.0 s is replied to at 8.5 s."""
    missed = ev.ReplyMissed(at=6000, seat=FO, about="speed", count=1)
    crew = crew_of((started(), challenged(1000), missed, challenged(7000), ev.Replied(at=8500, seat=CPT)))
    assert [(c.at, c.replied_at, c.missed) for c in crew.challenges] == [(1000, None, 1), (7000, 8500, 0)]


def test_a_reply_answers_the_other_seats_challenge() -> None:
    """Both have spoken up; the first officer's reply answers the captain."""
    crossed = (challenged(1000, FO, "speed"), challenged(2000, CPT, "aids"), ev.Replied(at=3000, seat=FO))
    crew = crew_of((started(), *crossed))
    assert [(c.about, c.replied_at) for c in crew.challenges] == [("speed", None), ("aids", 3000)]


def test_a_challenge_with_no_answer_yet() -> None:
    [challenge] = crew_of((started(), challenged(1000))).challenges
    assert (challenge.replied_at, challenge.missed) == (None, 0)


def test_interruptions_as_they_came() -> None:
    crew = crew_of((started(), ev.Interrupted(at=4000, words="Which stand?", until=9000, safety=False)))
    assert crew.breaks == (Break(at=4000, until=9000, words="Which stand?", safety=False),)


def failed(at: int, gate: str = "stable") -> ev.GateFailed:
    return ev.GateFailed(at=at, gate=gate, failing=("gear",), decide_at=at + 6000)


def test_each_answer_to_a_gate() -> None:
    """Mended at 2 s, overrun at 16 s, and one that was still open at the end."""
    events = (
        started(), failed(1000), ev.GateMended(at=2000, gate="stable"),
        failed(10_000), ev.GateOverrun(at=16_000, gate="stable"), failed(30_000),
    )  # fmt: skip
    told = [(g.at, g.answer, g.answered_at, g.failing) for g in crew_of(events).gates]
    assert told == [
        (1000, "mended", 2000, ("gear",)),
        (10_000, "overrun", 16_000, ("gear",)),
        (30_000, "failed", None, ("gear",)),
    ]


def test_two_gates_at_once_are_answered_each_by_its_own() -> None:
    events = (started(), failed(1000, "stable"), failed(1000, "power"), ev.GateMended(at=4000, gate="stable"))
    assert [(g.gate, g.answer) for g in crew_of(events).gates] == [("stable", "mended"), ("power", "failed")]


def test_a_gate_of_the_second_approach_is_another_one() -> None:
    """Failed at 8 s and gone around at 10 s; passed at the second."""
    f = configured(flight()).reads(height_aal_ft=990.0)
    f.now += 2000
    f.send(inp.GoAround(at=f.now, seat=FO))
    events = (*f.events, ev.GatePassed(at=99_000, gate="stable"))
    assert [(g.at, g.phase, g.answer, g.answered_at) for g in crew_of(events).gates] == [
        (8000, "approach", "mended", 10_000),
        (99_000, "go_around", "passed", None),
    ]


def test_a_ground_gate_run_past() -> None:
    """The brake is set at 24.5 s with no power, the lever cut at 25.5 s; power that comes later mends nothing."""
    f = without_power().reads(ground_power=True)
    power = crew_of(f.events).gates[-1]
    assert (power.gate, power.at, power.answer, power.answered_at) == ("power", 24_500, "overrun", 25_500)
