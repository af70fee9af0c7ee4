"""Every bundled scenario, flown to its end by the scripted crew: exactly the deviations that it plants, no others."""

import pytest

from flowdeck.engine import fold
from flowdeck.live.bundled import scenario_names
from flowdeck.model import events as ev
from flowdeck.model.deck import ItemKind
from flowdeck.model.deviation import Severity, Slip, Trapper
from flowdeck.model.seats import Seat
from flowdeck.model.session import ListStatus, Session, same
from flowdeck.trial.rehearse import compare
from flowdeck.trial.report import standing_deviations
from tests.scenarios.flown import Flown, flown, fly
from tests.support.daily import some

HOME = ["approach", "landing", "taxi_in", "shutdown"]
PHASES = {
    "clean": [*HOME, "securing"],
    "cold": [*HOME, "securing"],
    "go-around": ["approach", "go_around", *HOME, "securing"],
    "icing": [*HOME, "securing"],
    "interrupted": [*HOME, "securing"],
    "last-flight": [*HOME, "securing"],
    "new-runway": [*HOME, "securing"],
    "slips": [*HOME, "securing"],
    "turboprop-clean": ["preparation", *HOME, "securing"],
    "turboprop-slips": ["preparation", *HOME],
    "turnaround": [*HOME, "turnaround"],
    "wrong-pressure": ["approach", "go_around", *HOME, "securing"],
}
ENDS = {**dict.fromkeys(PHASES, "secured"), "turnaround": "ready", "turboprop-slips": "parked"}
WITHOUT_SLIPS = (
    "clean",
    "cold",
    "icing",
    "last-flight",
    "new-runway",
    "turboprop-clean",
    "turnaround",
    "wrong-pressure",
)
CAUSED = {
    "go-around": {(Slip.LATE, "landing-flap"), (Slip.NO_COMPLETION, "landing-list"), (Slip.GATE_FAILED, "stable-1000")},
    "interrupted": {(Slip.CALL_LATE, "thousand-to-go"), (Slip.OMITTED, "approach-seat-belts")},
}
REFERENCE = {"twinjet": (131, 41000), "turboprop": (101, 12200)}
"""Reference speed (kt) and the mass (kg) it stands for: the invented tables of the aircraft."""
every = pytest.mark.parametrize("name", sorted(PHASES))


def test_every_bundled_scenario_stands_in_this_file() -> None:
    """A scenario that is added without being listed here would be bundled untested."""
    assert scenario_names() == sorted(PHASES)


@every
def test_it_ends_where_it_says_by_the_phases_it_should_visit(name: str) -> None:
    """The flight comes to its own end, and on the way through these phases in this order."""
    flight = flown(name).flight
    assert flight.session.ended == flight.scenario.ends == ENDS[name]
    assert [phase for phase, _ in flight.session.visited] == PHASES[name]


@every
def test_the_deviations_are_exactly_those_planted(name: str) -> None:
    """Nothing planted goes unseen, and nothing is found that nobody planted."""
    result = flown(name)
    compared = compare(result.scenario, result.flight)
    assert compared.missing == ()
    assert compared.extra == ()


@pytest.mark.parametrize("name", some(sorted(PHASES), ["slips", "turboprop-clean"]))
def test_a_second_rehearsal_makes_the_same_events(name: str) -> None:
    """No clock and no chance: the same deck and scenario give the same flight to the last event."""
    first = flown(name)
    assert fly(first.deck, first.scenario).events == first.events


@every
def test_folding_the_events_gives_the_same_session(name: str) -> None:
    """The journal is enough to know how the flight stood."""
    result = flown(name)
    assert same(fold(Session(), result.events), result.flight.session)


@every
def test_nothing_that_the_crew_did_was_refused(name: str) -> None:
    """Slips are taken and judged; an input that makes no sense would be a fault of the script."""
    assert flown(name).of(ev.Refused) == []


@pytest.mark.parametrize("name", WITHOUT_SLIPS)
def test_flights_without_slips_have_no_deviation_of_any_weight(name: str) -> None:
    """Caution and above would be a false alarm to a crew that forgets nothing; advice would be one too."""
    assert standing_deviations(flown(name).flight.session) == ()


@pytest.mark.parametrize("name", sorted(CAUSED))
def test_the_small_stories_tell_what_they_are_known_for(name: str) -> None:
    """Class by class, so that a scenario cannot be emptied and still be exact."""
    found = standing_deviations(flown(name).flight.session)
    assert {(d.slip, d.item) for d in found} == CAUSED[name]
    assert {d.severity for d in found} == {Severity.CAUTION}


# ---- slips


def test_slips_plants_more_than_fifteen_and_raises_every_class() -> None:
    """The one flight in which every class of deviation of the tool is raised."""
    result = flown("slips")
    assert sum(1 for planted in result.scenario.planted if planted.causes) >= 15
    assert {d.slip for d in standing_deviations(result.flight.session)} == set(Slip)


def test_slips_are_weighed() -> None:
    """Going on past the gate and the belt sign with engines turning are warnings; order, haste and words are advice."""
    found = standing_deviations(flown("slips").flight.session)
    warnings = {(d.slip, d.item) for d in found if d.severity is Severity.WARNING}
    advice = {d.slip for d in found if d.severity is Severity.ADVICE}
    assert warnings == {(Slip.CONTINUED_PAST_GATE, "stable-1000"), (Slip.OUT_OF_ORDER, "belts-released")}
    assert advice == {Slip.FLOW_ORDER, Slip.ROTE, Slip.CHUNKED, Slip.NONSTANDARD_RESPONSE, Slip.CALL_PROMPTED}


def test_the_first_officer_who_asks_for_the_list_has_trapped_its_absence() -> None:
    """Two people: the challenge makes it the other seat's catch, and not the tool's."""
    found = standing_deviations(flown("slips").flight.session)
    assert [d.trapped_by for d in found if d.slip is Slip.NOT_CALLED] == [Trapper.OTHER_SEAT]


# ---- go-around


def _second_approach(result: Flown) -> tuple[Session, int]:
    """The session as the second approach begins, with the time (ms)."""
    for number, event in enumerate(result.events):
        if isinstance(event, ev.PhaseEntered) and event.airborne_again:
            end = next(i for i in range(number, len(result.events)) if isinstance(result.events[i], ev.Reset))
            return result.session_after(end + 1), event.at
    raise AssertionError("there was no second approach")


def test_the_second_approach_inherits_no_tick_but_those_that_survive() -> None:
    """Every tick, list and gate of the air is void; what stays is what the deck lets survive, and standing items."""
    result = flown("go-around")
    session, at = _second_approach(result)
    airborne = {phase.id for phase in result.deck.phases.values() if phase.airborne}
    standing = (ItemKind.STANDING_ON, ItemKind.STANDING_OFF)
    kept = {
        ref
        for ref, item in result.deck.items.items()
        if ref in session.done and set(item.phases) & airborne and item.kind not in standing
    }
    assert {ref for ref, item in result.deck.items.items() if item.survives} >= kept
    assert {"weather-taken", "landing-mass", "speed-figures", "cabin-signal"} <= kept
    for ref in ("approach-list", "landing-list", "after-go-around-list"):
        assert session.list(ref).status is ListStatus.WAITING
    assert session.gates == {}
    assert (session.approach, session.at) == (2, at)


def test_the_second_approach_is_briefed_cleared_and_checked_anew() -> None:
    """Both lists are called and completed once more, and the clearance of the first approach is gone at its start."""
    result = flown("go-around")
    session, at = _second_approach(result)
    assert not session.facts["landing_clearance"] and not session.facts["cabin_ready"]
    again = {event.checklist for event in result.of(ev.ListCompleted) if event.at > at}
    assert {"approach-list", "landing-list"} <= again
    done = {event.item for event in result.of(ev.ItemDone) if event.at > at}
    assert {"second-procedure", "second-briefing", "pressure-left", "gear-down", "landing-flap"} <= done
    gates = [(event.gate, event.at > at) for event in result.of(ev.GatePassed)]
    assert ("stable-1000", True) in gates and ("stable-1000", False) not in gates


def test_the_go_around_is_called_by_the_monitoring_pilot_within_the_time_of_the_gate() -> None:
    """The gate asks for it within 8 s; gear and flap come in, and the climb ends at the missed-approach altitude."""
    result = flown("go-around")
    failed = next(event for event in result.of(ev.GateFailed) if event.gate == "stable-1000")
    entered = next(event for event in result.of(ev.PhaseEntered) if event.phase == "go_around")
    assert failed.failing == ("landing flap", "speed", "landing checklist complete")
    assert failed.decide_at is not None and failed.at < entered.at < failed.decide_at
    session, _ = _second_approach(result)
    traces = [trace.values for trace in result.of(ev.Trace) if entered.at <= trace.at <= session.at]
    heights = [float(values["altitude_ft"] or 0) for values in traces if "altitude_ft" in values]
    assert max(heights) == pytest.approx(4000, abs=60)


# ---- icing, interrupted, last flight, turnaround


@pytest.mark.parametrize("system", ["engine-anti-ice", "wing-anti-ice"])
def test_in_layers_each_anti_ice_goes_on_and_off_by_turns(system: str) -> None:
    """Three layers: three times on; twice off between them and once more on the ground."""
    parked = {f"{system}-on": "on", f"{system}-off": "off", f"{system}-parked": "off"}
    acts = [parked[event.item] for event in flown("icing").of(ev.ItemDone) if event.item in parked]
    assert acts == ["on", "off"] * 3


def test_the_cabin_call_holds_the_list_and_it_goes_on_at_the_line_last_done() -> None:
    """Held unspoken by the call, 26 s long; the reader resumes with the line that had been answered last."""
    result = flown("interrupted")
    held = next(event for event in result.of(ev.ListHeld) if event.checklist == "approach-list")
    resumed = next(event for event in result.of(ev.ListResumed) if event.checklist == "approach-list")
    assert (held.seat, held.spoken) == (None, False)
    assert (resumed.line, resumed.restart) == ("approach-aids", False)
    assert resumed.at - held.at >= 26_000
    read = [event.line for event in result.of(ev.LineRead) if event.checklist == "approach-list"]
    assert read.index("approach-aids") < read.index("approach-speed")


def test_a_list_is_held_aloud_for_a_crossing_and_restarted_after_more_than_two_minutes() -> None:
    """Nothing is read while the aeroplane is near the runway; after 135 s on the stand it begins at the top again."""
    result = flown("interrupted")
    crossing = [event.at for event in result.of(ev.FactTold) if event.fact == "near_runway"]
    assert len(crossing) == 2
    assert not [event for event in result.of(ev.LineRead) if crossing[0] <= event.at < crossing[1]]
    aloud = [event.checklist for event in result.of(ev.ListHeld) if event.spoken and event.why == "interrupted"]
    assert aloud == ["after-landing-list"]
    assert [event.checklist for event in result.of(ev.ListResumed) if event.restart] == ["shutdown-list"]


def test_the_trim_that_was_put_off_comes_back_on_the_stand_and_is_done() -> None:
    """Deferred with a cue, prompted when it comes, done before it counts as lost."""
    result = flown("interrupted")
    story = [
        (type(event).__name__, event.at)
        for event in result.events
        if isinstance(event, (ev.ItemDeferred, ev.CueCame, ev.ItemDone)) and event.item == "trim-neutral"
    ]
    assert [kind for kind, _ in story] == ["ItemDeferred", "CueCame", "ItemDone"]
    assert story[2][1] - story[1][1] < result.deck.policy.cue_reply_s * 1000


def test_the_last_flight_is_flown_from_the_right_and_taxied_from_the_left() -> None:
    """Control passes in three parts on the runway; ground power is released before the APU, the battery comes last."""
    result = flown("last-flight")
    assert result.scenario.flying is Seat.FIRST_OFFICER and result.flight.session.flying is Seat.CAPTAIN
    parts = [type(event).__name__ for event in result.events if type(event).__name__.startswith("Control")]
    assert parts == ["ControlOffered", "ControlTaken", "ControlConfirmed"]
    securing = [event.item for event in result.of(ev.ItemDone) if event.at > result.flight.session.phase_at]
    assert "ground-power-released" in securing
    assert [item for item in securing if item.endswith("-off")][-1] == "battery-off"


def test_the_turnaround_voids_the_ticks_of_the_flight_and_changes_to_ground_power() -> None:
    """At its beginning nothing of the arrival counts as done any more; the APU is stopped once the cable has held."""
    result = flown("turnaround")
    begun = next(event for event in result.of(ev.PhaseEntered) if event.phase == "turnaround")
    reset = next(event for event in result.of(ev.Reset) if event.at == begun.at)
    assert {"landing-flap", "parking-brake", "flaps-up"} <= set(reset.items)
    assert {"landing-flap", "parking-brake", "flaps-up"}.isdisjoint(result.flight.session.done)
    assert "apu-kept-off" in result.flight.session.done
    assert result.flight.readings.values["bus_source"] == "ground"


# ---- what is invented


def test_no_two_scenarios_share_an_aerodrome_a_wind_or_a_story() -> None:
    """Each is its own arrival; copied numbers would be learnt by heart instead of read."""
    scenarios = [flown(name).scenario for name in sorted(PHASES)]
    told = [
        (
            s.title,
            s.about,
            s.place.name,
            s.place.elevation_ft,
            s.place.runway_deg,
            s.plan["planned_aid_mhz"],
            s.surroundings["headwind_kt"],
            s.surroundings["pressure_reported_hpa"],
        )
        for s in scenarios
    ]
    for values in zip(*told, strict=True):
        assert len(set(values)) == len(scenarios)


@every
def test_the_figures_of_the_plan_agree_with_each_other(name: str) -> None:
    """Minimum rounded up, crossing altitude on the path, approach speed above the reference speed by 5 to 20 kt."""
    s = flown(name).scenario
    plan = {key: float(value) for key, value in s.plan.items()}
    # Rounding up: common practice, no source. Addition 5 to 20 kt: FSF BN 8.2, from memory. The reference speed grows
    # with the square root of mass.
    if s.deck == "twinjet":  # on a glide path no minimum stands in the selector
        assert 0 <= plan["planned_minimum_selector_ft"] - plan["planned_minimum_ft"] < 100
        assert plan["planned_minimum_selector_ft"] % 100 == 0
    assert 5 <= plan["planned_approach_kt"] - plan["planned_vref_kt"] <= 20
    rise = 318.4 if s.place.angle_deg == 3.0 else {3.1: 329.1, 3.2: 339.7}[s.place.angle_deg]
    on_path = s.place.elevation_ft + 50 + rise * s.place.fix_nm  # tan(angle) x 6076 ft a mile
    cold = float(s.surroundings["surface_temperature_c"]) < -5  # then it is flown with its correction
    assert plan["planned_fix_ft"] >= on_path + 300 if cold else plan["planned_fix_ft"] == pytest.approx(on_path, abs=15)
    speed_kt, mass_kg = REFERENCE[s.deck]
    assert plan["planned_vref_kt"] == pytest.approx(
        speed_kt * (plan["planned_landing_mass_kg"] / mass_kg) ** 0.5, abs=1.1
    )
    assert float(s.signals["mass_kg"]) > plan["planned_landing_mass_kg"]


# ---- the flights that are watched against a brief


def test_a_new_runway_and_a_new_wind_open_what_rested_on_the_old_figures() -> None:
    """Twice the plan is worked out anew; each time what rests on a changed number is owed again, and done again."""
    result = flown("new-runway")
    runway, wind = result.of(ev.PlanRevised)
    assert {c.signal for c in runway.changes} >= {
        "planned_aid_mhz",
        "planned_minimum_ft",
        "planned_minimum_selector_ft",
    }
    assert {c.signal for c in wind.changes} >= {"planned_approach_kt", "planned_landing_distance_m"}
    assert "planned_aid_mhz" not in {c.signal for c in wind.changes}
    opened = {kind.at: set[str]() for kind in (runway, wind)}
    for event in result.of(ev.ItemReopened):
        if event.at in opened:
            opened[event.at].add(event.item)
    assert opened[runway.at] >= {"aid-left", "aid-right", "minimum-left", "minimum-right", "briefing"}
    assert opened[wind.at] >= {"speeds-agreed", "landing-distance", "briefing"}
    assert "aid-left" not in opened[wind.at]
    owed_again = {ref for refs in opened.values() for ref in refs if result.deck.items[ref].kind is not ItemKind.LINE}
    assert {ref for ref in owed_again if not result.flight.session.item(ref).is_done} == set()


def test_on_a_cold_day_the_altimeters_show_more_and_everything_agrees_with_it() -> None:
    """Table calls, fix and minimum with their corrections; the radio height agrees once the cold is taken out."""
    result = flown("cold")
    assert result.of(ev.GateFailed) == []
    assert "altimeter-disagrees" not in {event.item for event in result.of(ev.ItemOpened)}
    assert float(result.scenario.plan["planned_minimum_ft"]) == 1870


def test_a_wrong_pressure_passes_every_mile_check_and_fails_the_radio_height() -> None:
    """Distance and altitude agree on a lie; only the height over known ground tells. Found, it leads around."""
    result = flown("wrong-pressure")
    called = [event for event in result.of(ev.ItemDone) if event.item == "altimeter-disagrees"]
    around = next(e for e in result.of(ev.PhaseEntered) if e.phase == "go_around")
    assert called[0].at < around.at
    shown: dict[str, object] = {}
    off = []
    for trace in result.of(ev.Trace):
        shown.update(trace.values)
        if trace.at < around.at and shown["vertical_mode"] == "path":
            off.append((shown["path_error_ft"], shown["altimeter_error_ft"]))
    assert len(off) > 30
    assert all(abs(path) < 75 for path, _ in off)
    assert all(height == pytest.approx(273, abs=3) for _, height in off)
