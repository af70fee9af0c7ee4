"""What holds for any sequence of inputs, on the small deck and on the bundled one."""

from random import Random
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from flowdeck.engine import decide, fold
from flowdeck.engine.decide import start
from flowdeck.engine.owed import Duty, owed, to_input
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.deviation import Slip
from flowdeck.model.readings import Readings
from flowdeck.model.seats import Seat
from flowdeck.model.session import Session, Status, same
from flowdeck.trial.flight import advance, send, take_off
from flowdeck.wire.codec import decode_event, encode
from tests.support.bench import QUIET
from tests.support.cockpit import bundled
from tests.support.small import small_deck

DECK = small_deck()
SEATS = st.sampled_from(list(Seat))
ITEMS = st.sampled_from([*DECK.items, "no-such-item"])
LISTS = st.sampled_from([*DECK.checklists, "no-such-list"])

CHANGES: list[dict[str, Any]] = [
    {"distance_nm": 9.0},
    {"distance_nm": 7.0},
    {"distance_nm": 3.0},
    {"height_aal_ft": 990.0, "altitude_ft": 1420.0},
    {"height_aal_ft": 390.0, "altitude_ft": 820.0},
    {"gear": "down"},
    {"gear": None},
    {"flap_deg": 31.0},
    {"selected_altitude_ft": 3000.0},
    {"tat_c": 8.0, "in_cloud": True},
    {"tat_c": 14.0, "in_cloud": False},
    {"engine_anti_ice": "on"},
    {"vertical_speed_fpm": -800.0, "selected_altitude_ft": 4200.0},
    {"on_ground": True},
    {"parking_brake": "set"},
    {"reverse": "full"},
    {"ground_power": True},
]


@st.composite
def any_input(draw: st.DrawFn) -> tuple[str, Any]:
    """A kind of input with its arguments, or a change of the readings, or time."""
    value = st.one_of(st.none(), st.floats(allow_nan=False, allow_infinity=False), st.text(max_size=5), st.booleans())
    return draw(
        st.one_of(
            st.tuples(st.just("reads"), st.sampled_from(CHANGES)),
            st.tuples(st.just("wait"), st.integers(1, 70)),
            st.tuples(st.just("Act"), st.fixed_dictionaries({"seat": SEATS, "item": ITEMS, "value": value})),
            st.tuples(st.just("Point"), st.fixed_dictionaries({"seat": SEATS, "item": ITEMS})),
            st.tuples(
                st.sampled_from(["CallList", "ReadLine", "SkipLine", "HoldList", "ResumeList", "CompleteList"]),
                st.fixed_dictionaries({"seat": SEATS, "checklist": LISTS}),
            ),
            st.tuples(st.just("Answer"), st.fixed_dictionaries({"seat": SEATS, "line": ITEMS, "value": value})),
            st.tuples(
                st.just("Defer"),
                st.fixed_dictionaries(
                    {"seat": SEATS, "item": ITEMS, "cue": st.sampled_from([None, "on-ground", "never"])}
                ),
            ),
            st.tuples(
                st.just("Tell"),
                st.fixed_dictionaries(
                    {"fact": st.sampled_from([*DECK.facts, "nothing"]), "value": st.booleans(), "seat": SEATS}
                ),
            ),
            st.tuples(
                st.just("Transfer"),
                st.fixed_dictionaries({"seat": SEATS, "part": st.sampled_from(["offer", "take", "confirm"])}),
            ),
            st.tuples(
                st.sampled_from(["TakeOver", "Reply", "Undo", "GoAround"]), st.fixed_dictionaries({"seat": SEATS})
            ),
            st.tuples(st.just("Challenge"), st.fixed_dictionaries({"seat": SEATS, "about": ITEMS})),
            st.tuples(
                st.just("Interrupt"), st.fixed_dictionaries({"words": st.just("call"), "length_s": st.integers(1, 60)})
            ),
            st.tuples(st.sampled_from(["Pause", "Unpause"]), st.just({})),
            st.tuples(st.just("SetPace"), st.fixed_dictionaries({"pace": st.sampled_from([0.1, 1.0, 99.0])})),
        )
    )


def live(script: list[tuple[str, Any]]) -> tuple[Session, list[ev.Event]]:
    """The session and events of a script on the small deck."""
    values = dict(QUIET)
    readings = Readings().heard(values, 0)
    session, first = start(DECK, readings, flying=Seat.CAPTAIN, solo=False)
    events = list(first)
    now = 0
    for kind, arguments in script:
        now += 700
        if kind == "reads":
            values.update(arguments)
            input_: inp.Input = inp.Sample(at=now)
        elif kind == "wait":
            now += arguments * 1000
            input_ = inp.Tick(at=now)
        else:
            input_ = getattr(inp, kind)(at=now, **arguments)
        readings = readings.heard(values, now)
        more = decide(DECK, session, readings, input_)
        session = fold(session, more)
        events += more
    return session, events


@settings(max_examples=50, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.lists(any_input(), max_size=45))
def test_replay_equals_live_and_the_codec_loses_nothing(script: list[tuple[str, Any]]) -> None:
    """Folding the events again, also after a trip through bytes, gives the same session in every field."""
    session, events = live(script)
    assert same(fold(Session(), events), session)
    assert same(fold(Session(), [decode_event(encode(event)) for event in events]), session)


@settings(max_examples=50, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.lists(any_input(), max_size=45))
def test_nothing_is_lost_and_somebody_always_flies(script: list[tuple[str, Any]]) -> None:
    """What was opened is owed, done, put off or closed by an event that says so; `done` agrees with the states."""
    session, events = live(script)
    closed_by = (
        ev.ItemDone,
        ev.ItemSeen,
        ev.ItemFound,
        ev.ItemLapsed,
        ev.ItemMissed,
        ev.ItemWithdrawn,
        ev.ItemReopened,
        ev.ItemDeferred,
        ev.Undone,
        ev.Reset,
    )
    opened: dict[str, bool] = {}
    for event in events:
        if isinstance(event, ev.ItemOpened):
            opened[event.item] = True
        elif isinstance(event, closed_by):
            refs = event.items if isinstance(event, ev.Reset) else (getattr(event, "item", getattr(event, "ref", "")),)
            for ref in refs:
                opened.pop(ref, None)
    for ref in opened:
        assert session.item(ref).status in (Status.OPEN, Status.PARTLY), ref
    for ref, state in session.items.items():
        assert (ref in session.done) == state.is_done, ref
    assert session.flying in Seat and session.monitoring is session.flying.other
    assert [d.number for d in session.deviations] == list(range(1, len(session.deviations) + 1))


@pytest.mark.parametrize("seed", range(8))
def test_any_interleaving_of_two_correct_seats_breaks_no_order(seed: int) -> None:
    """On the bundled deck: each seat does any of the duties it may do, in any order, at any pace; no edge breaks."""
    chance = Random(seed)
    deck, scenario = bundled("clean")
    flight, _ = take_off(deck, scenario, solo=False)
    now = 0
    while not flight.session.ended and now < 900_000:
        now += chance.choice((500, 1500, 2500))
        flight, _ = advance(flight, now)
        for _ in range(chance.randrange(3)):
            ready = [d for d in owed(deck, flight.session) if d.ready and not d.panel_first and _looked(flight, d)]
            if ready:
                flight, _ = send(flight, to_input(chance.choice(ready), now))
    broken = [d for d in flight.session.deviations if d.slip in (Slip.OUT_OF_ORDER, Slip.FLOW_ORDER, Slip.READ_DO)]
    assert broken == []
    assert len(flight.session.done) > 30


def _looked(flight: Any, duty: Any) -> bool:
    """A correct pilot answers a line only when the aircraft shows it."""
    if duty.duty is not Duty.ANSWER:
        return True
    seen = flight.deck.items[duty.ref].seen
    return seen is None or flight.session.truths[seen] is not False
