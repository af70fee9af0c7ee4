"""What an instructor lets happen: now, later than it would, for a time; and the flight taken up again after it."""

import pytest
from msgspec.structs import replace

from flowdeck.live.bundled import read_scenario, scenario_text
from flowdeck.model import events as ev
from flowdeck.model.diagnostic import Rejected
from flowdeck.model.scenario import Happening, Scenario
from flowdeck.model.session import same
from flowdeck.phasefile.loadscenario import load_scenario
from flowdeck.trial.flight import Flight, advance, by_hand, hold_back, take_off
from flowdeck.trial.presets import BY_HAND, FAILED_S, LEVEL_S, presets, with_presets
from flowdeck.trial.restore import restore
from flowdeck.view.instruct import rows
from tests.support.cockpit import bundled

DECK, CLEAN = bundled("clean")


def begun(scenario: Scenario = CLEAN) -> tuple[Flight, list[ev.Event]]:
    flight, events = take_off(DECK, with_presets(DECK, scenario), solo=False)
    return flight, list(events)


def on(flight: Flight, events: list[ev.Event], seconds: float) -> Flight:
    for _ in range(round(seconds * 2)):
        flight, more = advance(flight, flight.now + 500)
        events += more
    return flight


@pytest.mark.parametrize("name", ["radio", "cabin", "safety", "runway", "level-4000"])
def test_a_call_takes_the_crew_for_its_length(name: str) -> None:
    """Each is an interruption of so many seconds, with its words; safety is marked as such."""
    flight, _ = begun()
    happening = next(h for h in flight.scenario.happenings if h.id == f"{BY_HAND}{name}")
    flight, events = by_hand(flight, happening.id)
    found = [event for event in events if isinstance(event, ev.Interrupted)]
    assert len(found) == 1 and found[0].words == happening.words and found[0].safety is happening.safety
    assert found[0].until - found[0].at == (happening.interrupts_s or 0) * 1000 > 0
    assert flight.session.interruption is not None


def test_a_runway_change_is_a_fact_that_opens_what_rests_on_it() -> None:
    flight, _ = begun()
    flight, events = by_hand(flight, f"{BY_HAND}runway")
    assert [e.fact for e in events if isinstance(e, ev.FactTold)] == [DECK.revised]


def test_a_clearance_lasts_for_its_time_and_is_then_as_before() -> None:
    flight, events = begun()
    before = flight.plane.around["cleared_altitude_ft"]
    flight, _ = by_hand(flight, f"{BY_HAND}level-5000")
    flight = on(flight, events, LEVEL_S - 1)
    assert flight.plane.around["cleared_altitude_ft"] == 5000.0 != before
    flight = on(flight, events, 2)
    assert flight.plane.around["cleared_altitude_ft"] == before and flight.plane.lent == {}


def test_what_the_scenario_clears_since_stays() -> None:
    """A clearance of the scenario that comes within that time is not taken back when the time is over."""
    flight, events = begun()
    flight, _ = by_hand(flight, f"{BY_HAND}level-5000")
    clears = next(h for h in CLEAN.happenings if "cleared_altitude_ft" in h.sets)
    flight, _ = by_hand(flight, clears.id)
    flight = on(flight, events, LEVEL_S + 2)
    assert flight.plane.around["cleared_altitude_ft"] == clears.sets["cleared_altitude_ft"]


def test_a_failed_signal_is_not_heard_for_a_minute() -> None:
    flight, events = begun()
    flight = on(flight, events, 2)
    flight, moved = by_hand(flight, f"{BY_HAND}failed-altitude-ft")
    flight = on(flight, events, FAILED_S - 1)
    signal = next(s for s in DECK.signals if s.name == "altitude_ft")
    assert flight.readings.value(signal, flight.now) is None
    assert [e.until for e in moved if isinstance(e, ev.ScriptMoved)] == [2000 + FAILED_S * 1000]
    flight = on(flight, events, 2)
    assert flight.readings.value(signal, flight.now) is not None


def test_by_hand_it_can_be_done_again_and_again() -> None:
    flight, _ = begun()
    names = []
    for _ in range(3):
        flight, events = by_hand(flight, f"{BY_HAND}radio")
        names += [e.happening for e in events if isinstance(e, ev.ScriptMoved)]
    assert names == [f"{BY_HAND}radio#{n}" for n in (1, 2, 3)]


def test_what_comes_by_itself_comes_once() -> None:
    """Played before its time by hand, it does not come again; and nothing comes of a name that there is not."""
    flight, events = begun()
    first = CLEAN.happenings[0]
    flight, played = by_hand(flight, first.id)
    assert played and by_hand(flight, first.id)[1] == () and by_hand(flight, "no-such-thing")[1] == ()
    flight = on(flight, events, 120)
    assert not [e for e in events if isinstance(e, ev.ScriptMoved) and e.happening == first.id and e.played]


def test_a_late_clearance_comes_when_its_time_is_over() -> None:
    """Held back for a minute: the moment at which it would have come passes, and it comes after it."""
    soon = Happening(id="soon", when=CLEAN.happenings[0].when, words="Descend.")
    flight, events = begun(replace(CLEAN, happenings=(soon,)))
    flight, held = hold_back(flight, "soon", 60)
    assert [(e.happening, e.until) for e in held if isinstance(e, ev.ScriptHeld)] == [("soon", 60_000)]
    flight = on(flight, events, 59)
    came = [e for e in events if isinstance(e, ev.ScriptMoved)]
    assert [e.played for e in came] in ([], [False])
    on(flight, events, 400)
    played = [e.at for e in events if isinstance(e, ev.ScriptMoved) and e.played]
    assert len(played) == 1 and played[0] >= 60_000


def test_what_waits_for_a_hand_cannot_be_held_back() -> None:
    flight, _ = begun()
    assert hold_back(flight, f"{BY_HAND}radio", 60) == (flight, ())


@pytest.mark.parametrize("after_s", [1, 4, 7, 50])
def test_taken_up_again_it_stands_as_it_was(after_s: float) -> None:
    """A level for a time, a failed signal and something held back: the flight restored from its events is the same, and
    goes on the same."""
    flight, events = begun()
    for name in (f"{BY_HAND}level-6000", f"{BY_HAND}failed-ias-kt", f"{BY_HAND}cabin"):
        flight, more = by_hand(flight, name)
        events += more
        flight = on(flight, events, 3)
    flight, more = hold_back(flight, CLEAN.happenings[1].id, 90)
    events += more
    flight = on(flight, events, after_s)
    again = restore(DECK, flight.scenario, events)
    assert same(again.session, flight.session) and again.held == flight.held and again.happened == flight.happened
    assert again.plane.faults == flight.plane.faults and again.plane.lent == flight.plane.lent
    assert again.plane.around == flight.plane.around


def test_presets_leave_a_scenario_its_own() -> None:
    """A happening of the scenario by the same id stays; all ids differ; each does something."""
    own = Happening(id=f"{BY_HAND}radio", words="Ours.")
    scenario = with_presets(DECK, replace(CLEAN, happenings=(own,)))
    assert scenario.happenings[0] == own and len({h.id for h in scenario.happenings}) == len(scenario.happenings)
    for preset in presets(DECK, CLEAN):
        assert preset.when is None and (preset.interrupts_s or preset.for_s) and (preset.words or preset.faults)


def test_the_rows_of_an_instructor() -> None:
    """By hand first; of what is still to come two rows; none of what has come, and none when the flight is over."""
    flight, _ = begun()
    first = CLEAN.happenings[0]
    before = rows(flight.scenario, flight.session, flight.happened, flight.held, flight.now)
    assert before[0][0].startswith("play/by-hand-")
    assert [name for name, _ in before if name.endswith(f"/{first.id}")] == [f"play/{first.id}", f"later/{first.id}"]
    flight, _ = by_hand(flight, first.id)
    after = rows(flight.scenario, flight.session, flight.happened, flight.held, flight.now)
    assert not [name for name, _ in after if name.endswith(f"/{first.id}")]
    over = replace(flight.session, ended="secured")
    assert rows(flight.scenario, over, flight.happened, flight.held, flight.now) == []


def test_a_script_is_flown_beside_any_scenario() -> None:
    """What has a condition comes by itself, what has none waits for a hand."""
    deck, scenario, notes = read_scenario("icing", None, "busy-approach")
    own = read_scenario("icing")[1]
    new = scenario.happenings[len(own.happenings) :]
    assert notes == () and [h.id for h in new][:2] == ["script-traffic", "script-cabin-late"]
    assert [h.when is None for h in new] == [False, False, True, True]
    assert len(scenario.conditions) == len(own.conditions) + 2 and deck.id == "twinjet"


HEAD = "script: x\ntitle: X\ndeck: twinjet\nhappenings:"


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        (f"{HEAD} []\n", "empty"),
        ("script: x\ntitle: X\ndeck: other\nhappenings:\n  - {happening: a, words: Hello.}\n", "wrong-deck"),
        (
            HEAD + "\n  - {happening: a, when: flap_dge > 3, words: H.}\n",
            "unknown-signal",
        ),
        (
            HEAD + "\n  - {happening: a, words: H., revises: {mass_kg: 40000}}\n",
            "contradiction",
        ),
        (
            HEAD + "\n  - {happening: a, words: H., interupts_s: 4}\n",
            "unknown-key",
        ),
    ],
)
def test_a_wrong_script_is_told_at_its_place(text: str, kind: str) -> None:
    raw = scenario_text("slips")
    deck = read_scenario("slips")[0]
    with pytest.raises(Rejected) as caught:
        load_scenario("slips.yaml", raw, deck, {}, ("mine.yaml", text.encode()))
    found = [(f.kind, f.place.file) for f in caught.value.findings]
    assert any(file == "mine.yaml" for _, file in found), found
    assert kind in {k for k, file in found if file == "mine.yaml"}, [str(f) for f in caught.value.findings]
