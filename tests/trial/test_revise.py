"""The plan changed in flight: what changes, what is owed again, and that the journal knows it."""

import pytest

from flowdeck.aircraft.readings import show
from flowdeck.arrival.metar import NotAReport
from flowdeck.live.bundled import read_scenario
from flowdeck.model import events as ev
from flowdeck.model import inputs as inp
from flowdeck.model.change import Change
from flowdeck.trial.flight import Flight, advance, new_weather, send, take_off
from flowdeck.trial.rehearse import rehearse
from flowdeck.trial.restore import restore
from tests.scenarios.flown import variant
from tests.support.cockpit import bundled
from tests.support.daily import some
from tests.support.moments import done, flown_until

WINDY = "METAR XQTH 041850Z 07018KT 6000 -RA BKN015 13/11 Q1004"


def after_briefing() -> Flight:
    return flown_until("clean", done("approach-list"))


def changed(events: tuple[ev.Event, ...]) -> dict[str, tuple[object, object]]:
    revised = next(event for event in events if isinstance(event, ev.PlanRevised))
    return {change.signal: (change.before, change.after) for change in revised.changes}


def test_wind_adds_to_the_approach_speed_and_open_what_rests_on_it() -> None:
    """Half of 18 cos 3: 131 + 9. The minimum stays, and so does what rests on it."""
    flight, events = new_weather(after_briefing(), WINDY)
    assert changed(events)["planned_approach_kt"] == (136, 140)
    assert "planned_minimum_ft" not in changed(events)
    opened = {event.item for event in events if isinstance(event, ev.ItemReopened)}
    assert opened >= {"speeds-agreed", "landing-distance", "briefing"}
    assert not opened & {"minimum-left", "aid-left", "procedure-loaded"}
    assert flight.session.facts["figures_changed"] is True
    assert flight.session.revision is not None
    assert flight.session.revision.because == "new weather"


def test_faster_than_its_category_it_takes_the_higher_minimum() -> None:
    """Half of 18 and the whole gust of 12, at most 20: 151 kt is category D, whose minimum is 20 ft higher."""
    _, events = new_weather(after_briefing(), WINDY.replace("18KT", "18G30KT"))
    assert changed(events)["planned_approach_kt"] == (136, 151)
    assert changed(events)["planned_minimum_ft"] == (830, 850)
    assert {"minimum-left", "minimum-right"} <= {e.item for e in events if isinstance(e, ev.ItemReopened)}


def test_the_weather_itself_is_another_one() -> None:
    flight, _ = new_weather(after_briefing(), WINDY)
    flight, _ = advance(flight, flight.now + 1000)
    values = flight.readings.values
    assert values["pressure_reported_hpa"] == 1004
    assert values["planned_approach_kt"] == 140
    assert values["altitude_ft"] == pytest.approx(flight.plane.altitude_ft + 5 * 27.3, abs=1), "still set to 1009"


def test_the_same_weather_changes_nothing() -> None:
    flight = after_briefing()
    report = flight.scenario.arrival.weather.text if flight.scenario.arrival else ""
    _, events = new_weather(flight, report)
    assert not any(isinstance(event, (ev.PlanRevised, ev.ItemReopened)) for event in events)


def test_no_report_is_refused_and_nothing_happens() -> None:
    with pytest.raises(NotAReport):
        new_weather(after_briefing(), "wind and rain")


def test_a_flight_without_an_arrival_takes_no_report() -> None:
    flight, _ = take_off(*bundled("icing"))
    assert new_weather(flight, WINDY) == (flight, ())


def test_what_is_not_known_any_more_keeps_its_number() -> None:
    """A report without wind: no new speed is worked out, and the old one is not thrown away."""
    flight, events = new_weather(after_briefing(), "METAR XQTH 041850Z /////KT 6000 -RA BKN015 13/11 Q1009")
    assert not any(isinstance(event, ev.PlanRevised) for event in events)
    assert flight.readings.values["planned_approach_kt"] == 136


def test_only_numbers_that_differ_and_that_the_deck_knows_count() -> None:
    flight = after_briefing()
    same = Change(signal="planned_vref_kt", before=131.0, after=131.0)
    unknown = Change(signal="planned_nothing", before=1.0, after=2.0)
    _, events = send(flight, inp.Revise(at=flight.now, because="x", changes=(same, unknown)))
    assert [type(event) for event in events if not isinstance(event, ev.TruthsChanged)] == [ev.Refused]


@pytest.mark.parametrize("nan", [float("nan"), float("inf")])
def test_a_number_that_is_none_changes_nothing(nan: float) -> None:
    flight = after_briefing()
    change = Change(signal="planned_vref_kt", before=131.0, after=nan)
    _, events = send(flight, inp.Revise(at=flight.now, because="x", changes=(change,)))
    assert not any(isinstance(event, ev.PlanRevised) for event in events)


def test_a_report_given_by_hand_is_there_again_after_a_kill() -> None:
    """From the events alone: the same plan, the same weather, the same readings."""
    deck, scenario = bundled("clean")
    flight, first = take_off(deck, scenario)
    events = list(first)
    for at in range(250, 20_000, 250):
        flight, more = advance(flight, at)
        events += more
    flight, more = new_weather(flight, WINDY)
    events += more
    again = restore(deck, scenario, events)
    assert again.plane.plan == flight.plane.plan
    assert again.plane.report == flight.plane.report
    assert again.plane.around == flight.plane.around
    assert show(again.plane, scenario)["planned_approach_kt"] == 140


@pytest.mark.parametrize("share", some([0.35, 0.5, 0.7], [0.5]))
def test_a_scripted_change_is_there_again_after_a_kill(share: float) -> None:
    """`new-runway`, broken off before, between and after its two changes."""
    deck, scenario = bundled("new-runway")
    steps = list(rehearse(deck, scenario))
    kept = steps[: int(len(steps) * share)]
    again = restore(deck, scenario, [event for step in kept for event in step.events])
    assert again.plane.plan == kept[-1].flight.plane.plan
    assert again.plane.revised == kept[-1].flight.plane.revised


def test_a_mass_found_to_be_another_changes_mass_and_speeds() -> None:
    """The load sheet was 1.5 t short: the reference speed at 42.5 t is 134."""
    text = (
        "scenario: heavy\ntitle: Heavier than said\ndeck: twinjet\narrival: tarn-holm\nends: secured\nlimit_s: 900\n"
        'happenings:\n  - happening: load-sheet\n    when: "distance_nm <= 70"\n    words: "The load sheet is wrong."\n'
        "    revises: {mass_kg: 42830}\n"
    )
    result = variant("clean", text)
    revised = result.of(ev.PlanRevised)
    assert len(revised) == 1
    found = {change.signal: change.after for change in revised[0].changes}
    assert found["planned_landing_mass_kg"] == 42_500
    assert found["planned_vref_kt"] == 134
    assert result.flight.plane.mass_kg == pytest.approx(42_830 - (4400 - result.flight.plane.fuel_kg), abs=1)


def test_a_scenario_with_an_arrival_has_its_numbers_from_the_brief() -> None:
    _, scenario, _ = read_scenario("clean")
    assert scenario.plan["planned_minimum_ft"] == 830
    assert scenario.place.fix_nm == 6.2
    assert scenario.surroundings["headwind_kt"] == pytest.approx(8, abs=0.1)
