"""What holds for any flight: no cut of a journal breaks a debrief, nothing is negative, nothing depends on chance."""

import inspect
from collections.abc import Callable

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from flowdeck.debrief.study import Debrief, study
from flowdeck.model import events as ev
from flowdeck.model.deviation import Slip
from flowdeck.model.seats import Seat
from tests.debrief.any_flight import ANY_FLIGHT, Step
from tests.debrief.any_flight import flown as flown_any
from tests.debrief.by_hand import SCENARIO, studied
from tests.debrief.test_hand_scenarios import NAMES, debrief, every
from tests.engine.test_slips import DECK
from tests.scenarios.flown import flown
from tests.support import slipped
from tests.support.bench import BenchFlight

SLIPPED = {
    name: make
    for name, make in inspect.getmembers(slipped, inspect.isfunction)
    if make.__module__ == slipped.__name__ and not inspect.signature(make).parameters
}
slow = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def sound(told: Debrief) -> None:
    """What must hold of every debrief."""
    assert sum(c.count for c in told.classes) == len(told.slips)
    for c in told.classes:
        assert c.by_maker + (c.by_other or 0) + c.by_tool + c.untrapped == c.count
        assert min(c.count, c.by_maker, c.by_other or 0, c.by_tool, c.untrapped, c.chances or 0) >= 0
    for calls in (told.calls, told.answers):
        assert calls.owed == calls.on_time + calls.prompted + calls.late + calls.missed
        assert min(calls.on_time, calls.prompted, calls.late, calls.missed) >= 0
    assert min(told.proof.seen, told.proof.said, told.proof.could_show) >= 0
    assert told.proof.could_show <= told.proof.said
    assert [m.minute for m in told.minutes] == list(range(told.minutes[0].minute, told.minutes[-1].minute + 1))
    assert all(m.captain >= 0 and m.first_officer >= 0 for m in told.minutes)
    ordered(told)


def ordered(told: Debrief) -> None:
    """All times run forward, and none is after the last event."""
    times = [entry.at for entry in told.timeline]
    assert times == sorted(times) and all(0 <= at <= told.length_ms for at in times)
    assert [span.until for span in told.spans[:-1]] == [span.at for span in told.spans[1:]]
    assert told.spans[0].at == 0 and told.spans[-1].until <= told.length_ms
    for reading in told.readings:
        for hold in reading.holds:
            assert hold.until is None or hold.until >= hold.at
            assert (hold.until is None) == (hold.way == "never")
        assert all(reply.read_at is None or reply.read_at <= reply.at for reply in reading.replies)
    assert all(slip.latency_ms is None or slip.latency_ms >= 0 for slip in told.slips)


UNOPENED: list[Step] = [("Defer", {"seat": Seat.CAPTAIN, "item": "reverse", "cue": "on-ground", "in_s": None})]
TAKEN_BACK: list[Step] = [
    ("Act", {"seat": Seat.FIRST_OFFICER, "item": "missed"}),
    ("Undo", {"seat": Seat.FIRST_OFFICER}),
]
ICE_ENDS_TOO_LATE: list[Step] = [  # on within 20 s; warm air withdraws it after its limit ran out
    ("reads", {"tat_c": 8.0, "in_cloud": True}),
    ("wait", 20),
    ("reads", {"tat_c": 14.0, "in_cloud": False}),
]


@slow
@example(UNOPENED)
@given(ANY_FLIGHT)
def test_any_flight_gives_a_sound_debrief(script: list[Step]) -> None:
    """Any sequence of inputs, one that puts off what is not owed yet among them."""
    sound(study(DECK, SCENARIO, flown_any(script)))


@slow
@given(ANY_FLIGHT)
def test_any_flight_alone_says_what_it_cannot_say(script: list[Step]) -> None:
    """With two people and with one, who has no chances where nothing is judged."""
    for solo in (False, True):
        told = study(DECK, SCENARIO, flown_any(script, solo=solo))
        sound(told)
        assert (told.replies is None) or not solo
        assert {c.slip for c in told.classes if c.chances is None} == ({Slip.ROTE, Slip.CHUNKED} if solo else set())
        assert all((c.by_other is None) == solo for c in told.classes)


def within_chances(told: Debrief) -> None:
    for c in told.classes:
        assert c.chances is None or c.count <= c.chances, (c.slip, c.count, c.chances)


@slow
@example(TAKEN_BACK)
@example(ICE_ENDS_TOO_LATE)
@given(ANY_FLIGHT)
def test_no_count_of_any_flight_is_above_its_chances(script: list[Step]) -> None:
    within_chances(study(DECK, SCENARIO, flown_any(script)))


@pytest.mark.parametrize("make", SLIPPED.values(), ids=SLIPPED)
def test_no_count_of_a_slipped_flight_is_above_its_chances(make: Callable[[], BenchFlight]) -> None:
    told = studied(make())
    sound(told)
    within_chances(told)


@slow
@given(st.sampled_from(NAMES), st.data())
def test_a_journal_cut_anywhere_can_be_studied(name: str, data: st.DataObject) -> None:
    """A crash leaves a journal at any event; what it holds is told, and is sound."""
    flight = flown(name)
    cut = data.draw(st.integers(1, len(flight.events)))
    told = study(flight.deck, flight.scenario, flight.events[:cut])
    sound(told)
    within_chances(told)
    assert told.end == ("secured" if cut == len(flight.events) else "")
    assert told.length_ms == flight.events[cut - 1].at


def test_the_phases_of_a_cut_journal_are_as_long_as_it_is() -> None:
    """Cut just after readings: the phase that was flown then lasts to the end of what is known."""
    flight = flown("slips")
    cut = next(n for n, e in enumerate(flight.events, 1) if n > 30 and isinstance(e, ev.Trace) and e.at > 2000)
    told = study(flight.deck, flight.scenario, flight.events[:cut])
    assert told.spans[-1].until == told.length_ms == flight.events[cut - 1].at


@slow
@given(ANY_FLIGHT, st.data())
def test_any_flight_cut_anywhere_can_be_studied(script: list[Step], data: st.DataObject) -> None:
    events = flown_any(script)
    sound(study(DECK, SCENARIO, events[: data.draw(st.integers(1, len(events)))]))


@slow
@given(st.sampled_from(NAMES), st.data())
def test_more_of_a_flight_never_takes_opportunities_away(name: str, data: st.DataObject) -> None:
    """Acts, readings and gates that were are still there later: these flights take nothing back."""
    flight = flown(name)
    late = data.draw(st.integers(2, len(flight.events)))
    early = data.draw(st.integers(1, late - 1))
    kinds = (Slip.EARLY, Slip.WRONG_SEAT, Slip.READ_DO, Slip.WRONG_TIME, Slip.GATE_FAILED, Slip.CONTINUED_PAST_GATE)
    counts = [
        {c.slip: c.chances or 0 for c in study(flight.deck, flight.scenario, flight.events[:cut]).classes}
        for cut in (early, late)
    ]
    assert all(counts[0][kind] <= counts[1][kind] for kind in kinds)


@every
def test_a_debrief_of_the_same_events_is_equal(name: str) -> None:
    flight = flown(name)
    assert study(flight.deck, flight.scenario, flight.events[:]) == debrief(name)


def test_events_that_do_not_begin_a_flight_are_refused() -> None:
    flight = flown("clean")
    for events in ((), flight.events[1:]):
        with pytest.raises(ValueError):
            study(flight.deck, flight.scenario, events)


@every
def test_the_sequence_of_a_flight_leaves_no_act_out(name: str) -> None:
    """Each act of a seat and each deviation is an entry at its own moment, and each is there once."""
    entries = debrief(name).timeline
    events = flown(name).events
    for kind, attribute in ((ev.ItemDone, "item"), (ev.LineAnswered, "line"), (ev.LineRead, "line")):
        acts = [(e.at, e.seat, getattr(e, attribute)) for e in events if isinstance(e, kind)]  # type: ignore[attr-defined]
        told = [(e.at, e.seat, e.ref) for e in entries]
        assert all(act in told for act in acts)
    numbers = [e.deviation for e in entries if e.deviation]
    raised = [e.number for e in events if isinstance(e, ev.DeviationRaised)]
    assert set(numbers) == set(raised)


@every
def test_a_reading_that_only_changed_is_no_entry(name: str) -> None:
    """Without traces and truths the sequence is the same."""
    flight = flown(name)
    quiet = tuple(e for e in flight.events if not isinstance(e, ev.Trace | ev.Checkpoint))
    assert study(flight.deck, flight.scenario, quiet).timeline == debrief(name).timeline


@every
def test_minutes_hold_every_act(name: str) -> None:
    """The sum over minutes is at least what was done, read, answered, called and completed by each seat."""
    kinds = (ev.ItemDone, ev.ItemPartly, ev.LineRead, ev.LineAnswered, ev.ListCalled, ev.ListCompleted)
    acts = [e for e in flown(name).events if isinstance(e, kinds)]
    for seat, total in (
        (Seat.CAPTAIN, sum(m.captain for m in debrief(name).minutes)),
        (Seat.FIRST_OFFICER, sum(m.first_officer for m in debrief(name).minutes)),
    ):
        assert total >= sum(e.seat is seat for e in acts)
    assert debrief(name).minutes[-1].minute == debrief(name).length_ms // 60_000
