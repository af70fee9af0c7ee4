"""A small deck, whole enough for every rule of the engine: four phases, both seats, each kind of thing."""

from functools import lru_cache

from flowdeck.model.deck import Deck
from flowdeck.model.scenario import Scenario
from flowdeck.phasefile.loaddeck import load_deck
from flowdeck.phasefile.loadscenario import load_scenario

DECK = """
deck: small
title: Small deck
version: "1"
date: 2026-01-05
type: Invented twin
operator: Invented operator
status: draft
start: approach
go_around: go_around
ends: [parked]
committed: "reverse != 'stowed'"
sterile: "altitude_ft < 10000"
facts:
  cleared: {title: Cleared to land, by: outside}
  vacated: {title: Runway vacated}
  again: {title: Another approach}
  wet: {title: Runway contaminated}
  near_runway: {title: Near a runway, toggles: true}
  runway_changed: {title: Runway changed, by: outside}
marks:
  touchdown: {when: "rising(on_ground)"}
cues:
  on-ground: {title: On the ground, when: "on_ground"}
"""

APPROACH = """
phase: approach
title: Approach
airborne: true
strip: [altitude_ft, ias_kt]
leads_to:
  - {to: landing, when: "done('minimum-answer')"}
flows:
  - flow: setting
    title: Setting
    by: pilot_flying
    items:
      - {item: brief, do: Briefing, to: GIVEN, by: both, why: Both know the plan.}
      - item: speed
        do: Speed
        to: "{selected_speed_kt}"
        value: selected_speed_kt
        seen: "selected_speed_kt == 150"
        moves: {selected_speed_kt: 150, in_s: 1}
        late: {after_s: 60}
        due: {after_s: 30}
        why: The speed for the approach.
      - item: aids
        do: Aids
        to: IDENTIFIED
        by: pilot_monitoring
        reopened_by: runway_changed
        survives: true
        point: true
        why: An aid that is not identified proves nothing.
  - flow: configuring
    title: Configuring
    by: pilot_monitoring
    opens: "distance_nm <= 10"
    ordered: false
    items:
      - item: gear-down
        do: Gear
        to: DOWN
        seen: "gear == 'down'"
        moves: {gear: down, in_s: 6}
        late: "height_aal_ft < 1500"
        needs:
          - {that: "ias_kt <= 220", kind: damage, reason: The doors do not stand more.}
        critical: true
        why: It takes time and drag.
      - item: flap-land
        do: Flap
        to: "31"
        seen: "flap_deg == 31"
        moves: {flap_deg: 31, in_s: 5}
        after:
          - {item: gear-down, order: hard, kind: safety, reason: The warning for gear stays silent otherwise.}
        why: Landing flap.
      - item: missed
        do: Missed-approach altitude
        to: "3000"
        opens: "altitude_ft < 2500"
        early: The autopilot would level off.
        seen: "selected_altitude_ft == 3000"
        moves: {selected_altitude_ft: 3000, in_s: 2}
        why: A go-around needs somewhere to level off.
checklists:
  - checklist: landing-list
    title: Landing checklist
    mode: verify
    called_by: pilot_flying
    read_by: pilot_monitoring
    opens: "distance_nm <= 8"
    due: "distance_nm <= 6"
    late: "distance_nm <= 4"
    complete_by: "height_aal_ft <= 900"
    not_while: near_runway
    lines:
      - {line: ll-gear, challenge: Gear, respond: DOWN, by: pilot_flying, verifies: gear-down, seen: "gear == 'down'"}
      - {line: ll-altimeters, challenge: Altimeters, respond: "{pressure_left_hpa}", value: pressure_left_hpa, by: both}
      - {hold: before-flap, title: Holding for flap, until: "flap_deg == 31"}
      - {line: ll-flap, challenge: Flap, respond: "31", by: pilot_flying, verifies: flap-land, seen: "flap_deg == 31"}
    completion: Landing checklist complete
    why: It verifies what kills when forgotten.
calls:
  - call: to-go
    say: One thousand to go
    by: pilot_monitoring
    opens: "abs(altitude_ft - selected_altitude_ft) <= 1100 and vertical_speed_fpm < -300"
    due: {after_s: 4}
    late: {after_s: 8}
    missed: {after_s: 20}
    again: true
    answer: {say: Agreed, by: pilot_flying, within_s: 5}
    why: Both wait for the level.
  - call: minimum
    say: Minimum
    by: pilot_monitoring
    opens: "height_aal_ft <= 400"
    missed: {after_s: 10}
    answer: {say: Landing, by: pilot_flying, within_s: 4}
    why: The decision.
standing:
  - standing: anti-ice
    by: pilot_monitoring
    do: Engine anti-ice
    when: "tat_c <= 10 and in_cloud"
    until: "held(not in_cloud, 60) or tat_c > 12"
    phases: [approach, landing]
    on: {to: 'ON', seen: "engine_anti_ice == 'on'", moves: {engine_anti_ice: 'on', in_s: 2}, late: {after_s: 20}}
    off: {to: 'OFF', seen: "engine_anti_ice == 'off'", moves: {engine_anti_ice: 'off', in_s: 2}, late: {after_s: 100}}
    why: Ice that is shed late goes through the fan.
gates:
  - gate: stable
    title: Stabilised
    at: "height_aal_ft <= 1000"
    must:
      - {that: "gear == 'down'", words: gear}
      - {that: "done('landing-list')", words: landing checklist}
    fail: {go: go_around, within_s: 6}
    why: Runway excursions begin here.
"""

GO_AROUND = """
phase: go_around
title: Go-around
airborne: true
leads_to:
  - {to: approach, when: "again"}
flows:
  - flow: going
    title: Going around
    by: pilot_flying
    items:
      - {item: thrust, do: Thrust, to: SELECTED, why: Fly first.}
"""

LANDING = """
phase: landing
title: Landing
airborne: true
leads_to:
  - {to: ground, when: "vacated"}
flows:
  - flow: rollout
    title: Roll-out
    by: pilot_flying
    opens: "on_ground"
    items:
      - item: reverse
        do: Reverse
        to: FULL
        seen: "reverse == 'full'"
        moves: {reverse: full, in_s: 2}
        why: It stops the aeroplane.
      - {item: cabin, do: Cabin, to: TOLD, by: pilot_monitoring, why: They wait for a word.}
"""

GROUND = """
phase: ground
title: On the ground
leads_to:
  - {to: parked, when: "done('ground-list')"}
flows:
  - flow: parking
    title: Parking
    by: captain
    items:
      - item: brake
        do: Parking brake
        to: SET
        seen: "parking_brake == 'set'"
        moves: {parking_brake: set, in_s: 1}
        why: It could roll.
      - item: cut
        do: Engine lever
        to: CUTOFF
        by: first_officer
        seen: "fuel_lever_1 == 'cutoff'"
        moves: {fuel_lever_1: cutoff, in_s: 2}
        after:
          - {item: brake, order: hard, kind: safety, reason: The aeroplane could roll.}
        why: The engine stops.
      - {item: papers, do: Papers, to: WRITTEN, by: first_officer, defer: on-ground, why: The next crew reads them.}
checklists:
  - checklist: ground-list
    title: Ground checklist
    mode: verify
    called_by: captain
    read_by: first_officer
    opens: "since('ground') > 5"
    lines:
      - {line: gl-brake, challenge: Brake, respond: SET, by: captain, verifies: brake, seen: "parking_brake == 'set'"}
      - {line: gl-lever, challenge: Lever, respond: CUTOFF, by: first_officer, verifies: cut}
    completion: Ground checklist complete
    why: Nothing rolls, nothing turns.
gates:
  - gate: power
    title: Power before cut
    at: "done('brake')"
    must:
      - {that: "apu_power or ground_power", words: a power source}
    fail: {stops: [cut]}
    why: Dark cabin.
"""

FILES = {
    "deck.yaml": DECK,
    "approach.yaml": APPROACH,
    "go_around.yaml": GO_AROUND,
    "landing.yaml": LANDING,
    "ground.yaml": GROUND,
}


@lru_cache(maxsize=32)  # a deck is never changed, and nearly every test asks for one
def small_deck(**changed: str) -> Deck:
    """The small deck; keyword `approach="..."` replaces a file's text."""
    texts = {**FILES, **{f"{name}.yaml": text for name, text in changed.items()}}
    deck, notes = load_deck("small", {name: text.encode() for name, text in texts.items()})
    assert not notes, notes
    return deck


SCENARIO = """
scenario: small
title: Small scenario
deck: small
start: {distance_nm: 14, altitude_ft: 3000, ias_kt: 200}
aerodrome: {name: Nowhere, elevation_ft: 430, runway_deg: 72, restart_nm: 14}
surroundings: {pressure_reported_hpa: 1013, headwind_kt: 0}
signals: {selected_altitude_ft: 3000, selected_speed_kt: 200, flap_deg: 11}
happenings:
  - {happening: cloud, when: "distance_nm < 13.5", sets: {cloud_base_ft: 1000, surface_temperature_c: 8}}
  - {happening: clear, when: "distance_nm < 11.5", sets: {cloud_base_ft: 60000}}
ends: parked
"""


def small_scenario(deck: Deck, text: str = SCENARIO) -> Scenario:
    scenario, notes = load_scenario("small.yaml", text.encode(), deck)
    assert not notes, notes
    return scenario
