"""The edges: signals that go stale, an approach flown twice, challenges out of turn, moments that coincide."""

from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from flowdeck.engine import decide, fold, start
from flowdeck.engine.alarm import alarm
from flowdeck.engine.program import program
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.deck import Deck
from flowdeck.model.deviation import Slip, Trapper
from flowdeck.model.readings import Readings
from flowdeck.model.seats import Seat
from flowdeck.model.session import ListStatus, Status
from tests.engine.test_properties import DECK as PROPERTY_DECK
from tests.engine.test_properties import any_input, live
from tests.engine.test_slips import configured, descending, flight, prepared
from tests.support.bench import CPT, FO, QUIET, BenchFlight
from tests.support.small import APPROACH, DECK, small_deck

LIST = "landing-list"
BRIEF = "- {item: brief, do: Briefing, to: GIVEN, by: both, why: Both know the plan.}"
LEAVING = "when: \"done('minimum-answer')\""


def changed(text: str, old: str, new: str) -> str:
    """*text* with *old*, which stands there once, replaced: a deck that only seems to be changed proves nothing."""
    assert text.count(old) == 1, old
    return text.replace(old, new)


def brief_while_far(late_s: float) -> str:
    """The approach with a briefing that is owed only beyond 1 NM."""
    item = f'when: "distance_nm > 1", late: {{after_s: {late_s:g}}}'
    return changed(APPROACH, BRIEF, BRIEF.replace("by: both", item))


def goes_stale(f: BenchFlight, signal: str) -> BenchFlight:
    """The signal is unheard for 10 s, twice as long as it may be, and comes back as it was."""
    f.silent.add(signal)
    f.wait(10)
    assert f.readings.value(program(f.deck).signals[signal], f.now) is None
    f.silent.clear()
    return f.wait(1)


def goes_around(f: BenchFlight) -> BenchFlight:
    f.send(inp.GoAround(at=f.now, seat=CPT))
    assert f.session.phase == "go_around"
    return f


def challenges(f: BenchFlight, seat: Seat, about: str) -> BenchFlight:
    f.send(inp.Challenge(at=f.now, seat=seat, about=about))
    return f


def is_settled(f: BenchFlight) -> bool:
    """Whether nothing that time alone brings is overdue."""
    return alarm(program(f.deck), f.session) > f.now


# Signals that go stale.


def test_a_signal_that_comes_back_unchanged_is_not_moved_early() -> None:
    """3000 stood in the window all the time: the gap in the signal is not a pilot's hand on the knob."""
    f = goes_stale(prepared(flight(selected_altitude_ft=3000.0)), "selected_altitude_ft")
    assert f.raised(Slip.EARLY) == []
    f.reads(selected_altitude_ft=4000.0).reads(selected_altitude_ft=3000.0)
    assert [d.item for d in f.raised(Slip.EARLY)] == ["missed"]


def test_a_signal_that_comes_back_unchanged_asks_for_no_second_call() -> None:
    """'One thousand to go' was said and answered; the altitude is lost for 10 s and the call is not owed again."""
    f = descending(flight()).wait(1).does(FO, "to-go").does(CPT, "to-go-answer")
    goes_stale(f, "altitude_ft").wait(30)
    assert f.session.item("to-go").is_done and f.session.item("to-go-answer").is_done
    assert f.raised(Slip.CALL_MISSED) == []
    f.reads(altitude_ft=9000.0).reads(altitude_ft=5000.0)
    assert f.session.item("to-go").status is Status.OPEN


def test_a_late_item_is_not_withdrawn_while_nobody_knows_whether_it_is_owed() -> None:
    """The briefing was late; the distance is lost and found: it is still owed, and late only once."""
    f = BenchFlight(small_deck(approach=brief_while_far(5))).wait(8)
    f.silent.add("distance_nm")
    f.wait(10)
    assert f.session.item("brief").status is Status.OPEN and f.session.item("brief").overdue
    f.silent.clear()
    f.wait(8)
    assert f.of(ev.ItemWithdrawn) == []
    assert [d.item for d in f.raised(Slip.LATE)] == ["brief"]


def test_a_mark_is_not_passed_again_when_its_signal_comes_back() -> None:
    """One touchdown, however often the signal is lost on the runway."""
    f = prepared(flight()).reads(on_ground=True)
    goes_stale(f, "on_ground")
    assert [e.mark for e in f.of(ev.MarkPassed)] == ["touchdown"]


# Late, and no longer owed.


def test_what_is_no_longer_owed_was_not_put_right() -> None:
    """The briefing was late and then lost its meaning: the record does not say that somebody gave it after all."""
    f = BenchFlight(small_deck(approach=brief_while_far(5))).wait(8).reads(distance_nm=0.5).wait(5)
    assert f.session.item("brief").status is Status.WAITING
    [late] = f.raised(Slip.LATE)
    assert late.trapped_by is None
    g = BenchFlight(small_deck(approach=brief_while_far(5))).wait(8).does(CPT, "brief")
    assert g.raised(Slip.LATE)[0].trapped_by is Trapper.TOOL


def test_what_ends_with_its_phase_is_neither_omitted_nor_left_open() -> None:
    """At 1 NM the phase is over and so is the duty, at one and the same sample: no slip, nothing left in the lane."""
    approach = changed(brief_while_far(5000), LEAVING, 'when: "distance_nm <= 1"')
    f = BenchFlight(small_deck(approach=approach)).wait(8)
    assert f.session.item("brief").status is Status.OPEN
    f.reads(distance_nm=0.5)
    assert f.session.phase == "landing"
    assert f.session.item("brief").status is Status.WAITING
    assert "brief" not in [d.item for d in f.raised(Slip.OMITTED)]
    assert "speed" in [d.item for d in f.raised(Slip.OMITTED)]  # the phase does judge what is still owed
    assert is_settled(f)


def test_no_call_counts_as_prompted_in_a_drill() -> None:
    """The drill shows no prompt, so nobody has spoken after one; guided, the same call is prompted."""
    f = flight()
    f.send(inp.SetAid(at=0, aid="drill"))
    descending(f).wait(5).does(FO, "to-go")
    assert f.session.item("to-go").is_done
    assert f.raised(Slip.CALL_PROMPTED) == []
    assert [d.item for d in descending(flight()).wait(5).does(FO, "to-go").raised(Slip.CALL_PROMPTED)] == ["to-go"]


# Challenges.


def test_a_challenge_before_the_slip_did_not_catch_it() -> None:
    """The captain asked about the gear minutes before it was ticked without coming down: the tool caught that one."""
    f = challenges(prepared(flight()).reads(distance_nm=9.0), CPT, "gear-down")
    f.send(inp.Reply(at=f.now, seat=FO))
    f.wait(30).does(FO, "gear-down").wait(12).reads(gear="down")
    [said] = f.raised(Slip.UNVERIFIED)
    assert said.trapped_by is Trapper.TOOL


def test_a_challenge_after_the_slip_caught_it() -> None:
    """The captain sees the lamps dark and asks: the correction is to that pilot's credit."""
    f = prepared(flight()).reads(distance_nm=9.0).does(FO, "gear-down").wait(12)
    challenges(f, CPT, "gear-down").wait(1).reads(gear="down")
    [said] = f.raised(Slip.UNVERIFIED)
    assert said.trapped_by is Trapper.OTHER_SEAT


def test_asking_again_at_once_counts_the_first_as_unanswered() -> None:
    """Twice within three seconds and then silence: that is two without an answer, and the challenger may take over."""
    f = challenges(flight().wait(1), FO, "speed").wait(3)
    challenges(f, FO, "speed")
    assert [e.count for e in f.of(ev.ReplyMissed)] == [1]
    assert f.session.takeover is None
    f.wait(6)
    assert [e.count for e in f.of(ev.ReplyMissed)] == [1, 2]
    assert f.session.takeover is FO


def test_nobody_answers_their_own_challenge() -> None:
    """The challenger's own 'yes' neither closes the challenge nor takes the takeover back; the other's does."""
    f = challenges(flight().wait(1), FO, "speed")
    f.send(inp.Reply(at=f.now, seat=FO))
    assert f.session.challenge is not None
    f.wait(6)
    challenges(f, FO, "speed").wait(6)
    f.send(inp.Reply(at=f.now, seat=FO))
    assert f.session.takeover is FO and f.of(ev.Replied) == []
    assert ["other pilot" in e.because for e in f.of(ev.Refused)] == [True, True]
    f.send(inp.Reply(at=f.now, seat=CPT))
    assert f.session.takeover is None


# Facts.


def test_a_fact_is_told_by_the_crew_only_in_its_phases() -> None:
    """'Runway vacated' in the air is a slip of the finger; the same from outside is taken as it comes."""
    text = changed(DECK, "vacated: {title: Runway vacated}", "vacated: {title: Runway vacated, phases: [landing]}")
    deck = small_deck(deck=text)
    f = BenchFlight(deck).wait(1).tells("vacated", seat=CPT)
    assert f.session.facts["vacated"] is False
    assert ["not told in this phase" in e.because for e in f.of(ev.Refused)] == [True]
    assert f.tells("vacated", seat=None).session.facts["vacated"] is True


def in_sight_deck(*more: str) -> Deck:
    """The small deck with a fact that lasts an approach, which opens the missed-approach altitude."""
    fact = "wet: {title: In sight, lasts: approach" + "".join(f", {part}" for part in more) + "}"
    approach = changed(APPROACH, 'opens: "altitude_ft < 2500"', 'opens: "wet"')
    return small_deck(deck=changed(DECK, "wet: {title: Runway contaminated}", fact), approach=approach)


def test_what_was_in_sight_of_the_last_approach_opens_nothing_in_the_new_one() -> None:
    """Told in the go-around, forgotten on entering the approach, before anything could follow from it."""
    f = goes_around(BenchFlight(in_sight_deck()).wait(1)).wait(1).tells("wet", seat=CPT)
    assert f.session.facts["wet"] is True
    f.tells("again", seat=CPT).wait(1)
    assert (f.session.phase, f.session.facts["wet"]) == ("approach", False)
    assert f.session.item("missed").status is Status.WAITING
    assert f.tells("wet", seat=CPT).session.item("missed").status is Status.OPEN


def test_facts_go_back_to_what_the_flight_began_with() -> None:
    """What was so when the flight began is so again after a go-around, not simply false."""
    f = BenchFlight(in_sight_deck("initial: true", "toggles: true")).tells("wet", value=False, seat=CPT)
    assert f.session.facts["wet"] is False
    assert goes_around(f).session.facts["wet"] is True
    g = goes_around(BenchFlight(in_sight_deck()).tells("wet", seat=CPT))
    assert g.session.facts["wet"] is False


def test_facts_known_beforehand_stay_known_after_a_go_around() -> None:
    """Told at the start of this flight, against what the deck assumes: it comes back too."""
    f = BenchFlight(in_sight_deck("toggles: true"))
    f.session, events = start(f.deck, f.readings, flying=CPT, solo=False, facts={"wet": True})
    f.events = list(events)
    f.tells("wet", value=False, seat=CPT)
    assert goes_around(f).session.facts["wet"] is True


# A second approach.


def test_marks_of_the_first_approach_make_nothing_late_in_the_second() -> None:
    """Twenty seconds run from the fix of this approach; before it nothing is late, after it they run again."""
    limit = "late: {after_s: 60}\n        due: {after_s: 30}"
    deck = small_deck(
        deck=changed(DECK, "marks:\n", 'marks:\n  fix: {when: "rising(distance_nm < 12)"}\n'),
        approach=changed(APPROACH, limit, "late: {after_s: 20, from: fix}"),
    )
    f = BenchFlight(deck, distance_nm=13.0).wait(1).reads(distance_nm=11.0)
    assert "fix" in f.session.times
    f.does(CPT, "speed", selected_speed_kt=150.0)
    goes_around(f).reads(distance_nm=20.0, selected_speed_kt=200.0).wait(60)
    f.tells("again", seat=CPT).wait(30)
    assert f.session.phase == "approach" and f.session.item("speed").status is Status.OPEN
    assert f.raised(Slip.LATE) == []
    f.reads(distance_nm=11.0).wait(19)
    assert f.raised(Slip.LATE) == []
    assert [d.item for d in f.wait(2).raised(Slip.LATE)] == ["speed"]


def test_a_list_begun_anew_stops_at_its_hold_points_again() -> None:
    """The flap went back up meanwhile: reading past the hold is a slip, though it had been passed before."""
    f = configured(flight()).reads(distance_nm=7.5).calls(CPT, LIST)
    f.asks(FO, LIST).says(CPT, "ll-gear")
    f.asks(FO, LIST).says(CPT, "ll-altimeters").says(FO, "ll-altimeters").asks(FO, LIST)
    assert f.session.list(LIST).passed_holds == ("before-flap",)
    f.send(inp.HoldList(at=f.now, seat=CPT, checklist=LIST))
    f.reads(flap_deg=11.0)
    f.send(inp.ResumeList(at=f.now, seat=FO, checklist=LIST, restart=True))
    assert f.session.list(LIST).passed_holds == ()
    f.asks(FO, LIST).says(CPT, "ll-gear")
    f.asks(FO, LIST).says(CPT, "ll-altimeters").says(FO, "ll-altimeters")
    assert f.raised(Slip.WRONG_TIME) == []
    f.asks(FO, LIST)
    assert [d.item for d in f.raised(Slip.WRONG_TIME)] == [LIST]


# When time alone matters.


def test_a_deferral_done_before_its_time_rings_no_alarm() -> None:
    """Put off for 30 s, done after one: at 30 s nothing is asked any more."""
    f = prepared(flight()).reads(distance_nm=9.0)
    f.send(inp.Defer(at=f.now, seat=FO, item="gear-down", in_s=30))
    assert alarm(program(f.deck), f.session) <= f.now + 30_000
    f.does(FO, "gear-down", gear="down").wait(40)
    assert f.session.item("gear-down").is_done and f.of(ev.CueCame) == []
    assert is_settled(f)


def test_what_waits_for_its_phase_rings_no_alarm_in_another() -> None:
    """Aids not identified, and a go-around: their limit runs out where nobody is asked for them; then it is late."""
    approach = changed(APPROACH, "survives: true", "survives: true\n        late: {after_s: 10}")
    f = goes_around(BenchFlight(small_deck(approach=approach)).wait(2)).wait(30)
    assert f.session.item("aids").status is Status.OPEN and not f.session.item("aids").overdue
    assert is_settled(f)
    f.tells("again", seat=CPT).wait(1)
    assert "aids" in [d.item for d in f.raised(Slip.LATE)]
    assert is_settled(f)


def test_a_list_that_waits_for_its_phase_rings_no_alarm_in_another() -> None:
    """A list that survives, open and not called, with a limit of time that runs out during the go-around."""
    limit = 'due: "distance_nm <= 6"\n    late: "distance_nm <= 4"'
    approach = changed(APPROACH, limit, "survives: true\n    late: {after_s: 10}")
    f = BenchFlight(small_deck(approach=approach)).wait(1).reads(distance_nm=7.5)
    assert f.session.list(LIST).status is ListStatus.OPEN
    goes_around(f).wait(30)
    assert f.session.list(LIST).status is ListStatus.OPEN and f.raised(Slip.NOT_CALLED) == []
    assert is_settled(f)


_SEATS = st.sampled_from(list(Seat))
_DEFER = st.tuples(
    st.just("Defer"),
    st.fixed_dictionaries(
        {"seat": _SEATS, "item": st.sampled_from(list(PROPERTY_DECK.items)), "in_s": st.integers(1, 90)}
    ),
)
_AID = st.tuples(
    st.just("SetAid"),
    st.fixed_dictionaries({"aid": st.sampled_from(["guided", "drill"]), "withhold": st.booleans()}),
)


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.lists(st.one_of(any_input(), _DEFER, _AID), max_size=45), st.integers(0, 200))
def test_the_same_moment_looked_at_twice_brings_nothing_new(script: list[tuple[str, Any]], seconds: int) -> None:
    """After any flight and any time: what follows from a moment follows at once, and the next moment is still ahead."""
    session, _ = live([*script, ("Unpause", {})])
    values, now = dict(QUIET), 700 + 1000 * seconds  # the clock of `live`, and the time that passes after it
    for kind, arguments in script:
        now += 700 + (1000 * arguments if kind == "wait" else 0)
        if kind == "reads":
            values.update(arguments)
    readings = Readings().heard(values, now)
    tick = inp.Tick(at=now)
    settled = fold(session, decide(PROPERTY_DECK, session, readings, tick))
    assert decide(PROPERTY_DECK, settled, readings, tick) == ()
    if not settled.ended:
        assert alarm(program(PROPERTY_DECK), settled) > now
