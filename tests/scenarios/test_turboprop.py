"""The bundled turboprop: what its own shape must hold, whoever flies, wherever it breaks off, cart or no cart."""

from functools import cache
from pathlib import Path

import pytest

from flowdeck.model import events as ev
from flowdeck.model.deviation import Severity, Slip
from flowdeck.model.seats import Seat
from flowdeck.trial.report import standing_deviations
from tests.scenarios.flown import Flown, flown, variant
from tests.support.daily import some

ROOT = Path(__file__).resolve().parents[2]
CLEAN = (ROOT / "scenarios" / "turboprop-clean.yaml").read_text(encoding="utf-8")
TRANSFER = CLEAN[CLEAN.index("slips:") :]
BY_THE_CAPTAIN = (
    CLEAN.replace(TRANSFER, "")
    .replace("flying: first_officer", "flying: captain")
    .replace("first_officer_lands: true, ", "")
)
SECOND = """happenings:
  - happening: second-platform
    when: "phase == 'approach' and since('go_around') > 30"
    after_s: 4
    words: "Descend two thousand feet, cleared for the approach once more."
    sets: {cleared_altitude_ft: 2000}
"""
GIVEN_UP = {
    "in the cruise": ("discontinue", "phase == 'preparation' and distance_nm < 45"),
    "high": ("discontinue", "phase == 'approach' and altitude_ft < 7000"),
    "level before the glide path": ("discontinue", "distance_nm < 9 and vertical_mode == 'hold'"),
    "with the gear out": ("go_around", "flap_deg == 12 and gear == 'down'"),
    "with landing flap": ("go_around", "flap_deg == 27 and height_aal_ft < 800"),
    "in the flare": ("go_around", "phase == 'landing' and radio_height_ft < 20"),
    "after the wheels have touched": ("go_around", "on_ground"),
}
OTHERWISE = {
    "flown by the captain": (BY_THE_CAPTAIN, "secured"),
    "with two people": (CLEAN.replace("solo: true", "solo: false"), "secured"),
    "another crew takes over": (
        CLEAN.replace("last_flight: true", "last_flight: false").replace("ends: secured", "ends: parked"),
        "parked",
    ),
    "no cart": (CLEAN.replace("    sets: {ground_power: true}\n", ""), "secured"),
}


@cache
def otherwise(name: str) -> Flown:
    return variant("turboprop-clean", OTHERWISE[name][0])


@cache
def given_up(name: str) -> Flown:
    slip, when = GIVEN_UP[name]
    text = CLEAN.replace("solo: true", "solo: false").replace("happenings:\n", SECOND)
    return variant("turboprop-clean", f'{text}  - {{slip: {slip}, of: flight, when: "{when}"}}\n')


def order(result: Flown) -> list[str]:
    """What was done or seen, in the order in which it came."""
    return [event.item for event in result.events if isinstance(event, ev.ItemDone)]


@pytest.mark.parametrize("name", some(OTHERWISE, ["flown by the captain", "another crew takes over"]))
def test_flown_otherwise_it_ends_without_a_deviation(name: str) -> None:
    result = otherwise(name)
    assert result.flight.session.ended == OTHERWISE[name][1]
    assert standing_deviations(result.flight.session) == ()


@pytest.mark.parametrize("name", some(GIVEN_UP, ["high", "after the wheels have touched"]))
def test_given_up_anywhere_the_second_approach_ends_without_a_deviation(name: str) -> None:
    """Preparation is not gone through again: the second approach has its own short one."""
    result = given_up(name)
    assert result.flight.session.ended == "secured"
    assert standing_deviations(result.flight.session) == ()
    assert [phase for phase, _ in result.flight.session.visited].count("preparation") == 1
    assert {"approach-anew", "briefing-anew"} <= set(order(result))


def test_only_what_was_out_comes_in() -> None:
    """Nothing of flap and gear is asked for where neither was out; both, one after the other, where both were."""
    assert {"gear-in", "flap-back-12", "flap-back-0"}.isdisjoint(order(given_up("high")))
    done = order(given_up("with landing flap"))
    steps = ("full-power", "flap-back-12", "positive-climb", "gear-in", "flap-back-0", "propellers-climb")
    assert [item for item in done if item in steps] == list(steps)


def test_the_first_officer_who_landed_gives_the_aeroplane_away_before_the_tiller() -> None:
    """Said and answered, taken in three parts, then the tiller, then the turn-off."""
    result = flown("turboprop-clean")
    done = order(result)
    steps = ("control-given", "control-given-answer", "tiller", "vacated-call")
    assert [item for item in done if item in steps] == list(steps)
    parts = [type(event).__name__ for event in result.events if type(event).__name__.startswith("Control")]
    assert parts == ["ControlOffered", "ControlTaken", "ControlConfirmed"]
    assert result.flight.session.flying is Seat.CAPTAIN


def test_a_captain_who_landed_is_asked_for_no_handover() -> None:
    done = order(otherwise("flown by the captain"))
    assert "control-given" not in done and done.index("tiller") < done.index("vacated-call")


def test_the_last_engine_waits_at_feather_for_the_cart() -> None:
    """Feathered, and cut only when both have said that there is power; the left propeller stands before that."""
    done = order(flown("turboprop-clean"))
    steps = ("fuel-1-off", "brake-1-on", "belts-out", "door-given", "feather-2", "fuel-2-off", "beacon-out")
    assert [item for item in done if item in steps] == list(steps)
    assert done.index("power-said-answer") < done.index("fuel-2-off")


def test_without_a_cart_the_battery_is_a_decision_of_both() -> None:
    """Four minutes after the brake the captain says so; the last engine is not cut before the answer."""
    result = otherwise("no cart")
    done = order(result)
    assert "power-said" not in done and done.index("battery-said-answer") < done.index("fuel-2-off")
    said = {e.item: e.at for e in result.of(ev.ItemDone)}
    assert said["battery-said"] - said["brake-on"] > 240_000


def test_the_propellers_stand_still_before_anyone_is_near() -> None:
    """At the door, and at the lamp: what the flown aeroplane shows at those moments."""
    result = flown("turboprop-clean")
    shown: dict[str, object] = {}
    at: dict[str, tuple[object, object]] = {}
    for event in result.events:
        if isinstance(event, ev.Trace):
            shown.update(event.values)
        elif isinstance(event, ev.ItemDone):
            at[event.item] = (shown["propeller_1_pct"], shown["propeller_2_pct"])
    assert at["gear-out"] == (82, 82) and at["minimum-call"] == (100, 100)
    assert at["door-given"] == (0, 72)
    assert at["beacon-out"] == (0, 0)


@pytest.mark.parametrize("what", ["propeller-heat", "wing-boots"])
def test_what_keeps_the_ice_off_goes_on_in_cloud_and_never_off_low_down(what: str) -> None:
    """Below 1000 ft heads stay up: off comes before it, in warmer air, or when the runway is vacated."""
    result = flown("turboprop-clean")
    shown: dict[str, float] = {}
    low, vacated = False, False
    acts: list[str] = []
    for event in result.events:
        if isinstance(event, ev.Trace):
            shown.update({n: float(v) for n, v in event.values.items() if n == "height_aal_ft" and v is not None})
            low = shown["height_aal_ft"] < 950
        elif isinstance(event, ev.FactTold) and event.fact == "runway_vacated":
            vacated = True
        elif isinstance(event, ev.ItemDone) and event.item in (f"{what}-on", f"{what}-off"):
            acts.append(event.item)
            assert vacated or not low
    assert acts == [f"{what}-on", f"{what}-off"] * (len(acts) // 2) and acts


def test_slips_plants_its_own_kinds() -> None:
    """Twelve and more slips, of thirteen classes; what can hurt somebody is a warning."""
    result = flown("turboprop-slips")
    found = standing_deviations(result.flight.session)
    assert sum(1 for planted in result.scenario.planted if planted.causes) >= 12
    assert len({d.slip for d in found}) >= 13
    warnings = {(d.slip, d.item) for d in found if d.severity is Severity.WARNING}
    assert warnings == {
        (Slip.OUT_OF_ORDER, "tiller"),
        (Slip.OUT_OF_ORDER, "belts-out"),
        (Slip.OUT_OF_ORDER, "fuel-2-off"),
        (Slip.CONTINUED_PAST_GATE, "last-engine"),
    }


def test_it_shares_no_sentence_with_the_other_bundled_deck() -> None:
    """Two decks to learn from, not one told twice: reasons are written for the aeroplane they are about."""
    decks = (flown("turboprop-clean").deck, flown("clean").deck)
    told = [
        {
            sentence.strip()
            for thing in (*d.items.values(), *d.checklists.values(), *d.gates.values())
            for sentence in thing.why.split(". ")
        }
        for d in decks
    ]
    assert told[0] & told[1] == set()
