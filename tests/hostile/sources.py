"""Good files to break: a small deck and a scenario with every field in them, a journal, keys, the bundled files."""

from functools import cache
from pathlib import Path

from flowdeck.model.deck import Deck
from flowdeck.model.events import Event
from flowdeck.model.scenario import Scenario
from flowdeck.phasefile.loaddeck import load_deck
from flowdeck.phasefile.loadscenario import load_scenario
from flowdeck.trial.rehearse import rehearse
from flowdeck.wire.journal import event_line, header_line
from tests.support.small import APPROACH, DECK, FILES, GROUND, SCENARIO

ROOT = Path(__file__).resolve().parents[2]
FOLDER = "small"
SCENARIO_FILE = "small.yaml"
JOURNAL_FILE = "small.journal"
KEYS_FILE = "keys.yaml"

FULL_DECK = f"""{DECK}  parked-up: {{title: Parked up, when: "since('touchdown') > 600"}}
effectivity: All of them
policy: {{look_s: 0.8, burst_lines: 3, settle_s: 4}}
glossary: {{AAL: above aerodrome level, PF: pilot flying}}
signals:
  own_weight_kg: {{title: Own weight, unit: kg, low: 0, high: 90000, planned: true}}
  own_door: {{title: Own door, choices: [open, shut], stale_s: 5}}
  own_light: {{title: Own light, flag: true}}
"""
_FULL_ITEM = """      - item: everything
        do: Everything
        to: "AT {selected_speed_kt}"
        by: both
        value: selected_speed_kt
        opens: "own_door == 'shut'"
        due: {after_s: 20, from: touchdown}
        late: {when: "own_weight_kg < 40000"}
        early: It would be too soon.
        again: true
        when: "own_light"
        unless: "wet"
        seen: "selected_speed_kt == 150"
        moves: {selected_altitude_ft: selected_speed_kt, in_s: 1}
        after: [{item: brief, order: flow}]
        needs: [{that: "ias_kt < 300", reason: It is not made for more., kind: order}]
        reopened_by: [runway_changed]
        defer: on-ground
        critical: false
        point: true
        survives: true
        tells: again
        why: Every field of an item has its turn.
"""
FULL_APPROACH = APPROACH.replace("  - flow: configuring\n", f"{_FULL_ITEM}  - flow: configuring\n")
_FULL_REST = """
  - gate: last
    title: Last gate
    at: "done('rest-list')"
    when: "on_ground"
    unless: "wet"
    phases: [ground]
    must: [{that: "done('papers')", words: the papers}]
    fail: {stops: papers}
    why: Every field of a gate has its turn.
calls:
  - call: stopped
    say: Stopped
    by: captain
    opens: "groundspeed_kt < 1"
    due: {after_s: 3}
    late: {after_s: 6, from: touchdown}
    missed: {after_s: 90}
    when: "on_ground"
    unless: "wet"
    after: [{item: brake, order: hard, reason: Nobody says so before it is so., kind: order}]
    needs: [{that: "groundspeed_kt < 30", reason: It would not be so., kind: order}]
    answer: {say: Agreed, by: first_officer, within_s: 9, tells: again}
    tells: vacated
    critical: true
    phases: [ground]
    why: Every field of a call has its turn.
standing:
  - standing: heat
    by: captain
    do: Window heat
    phases: [ground]
    unless: "wet"
    critical: false
    when: "tat_c < 5"
    until: "tat_c > 9"
    on: {to: 'ON', seen: "own_light", due: {after_s: 9}, needs: [{that: "on_ground", reason: It would not do.}]}
    off: {to: 'OFF', seen: "not own_light", after: [{item: brake, order: flow}], late: {after_s: 99}}
    why: Every field of a standing item has its turn.
"""
_FULL_LIST = """  - checklist: rest-list
    title: Rest checklist
    mode: read_do
    called_by: captain
    read_by: first_officer
    opens: "done('ground-list')"
    when: "on_ground"
    unless: "wet"
    after: [{item: brake, order: hard, reason: The list stands on it., kind: order}]
    survives: false
    lines:
      - line: rest-papers
        challenge: Papers
        respond: "AT {groundspeed_kt}"
        by: captain
        verifies: [papers]
        when: "on_ground"
        unless: "wet"
        critical: true
        point: true
        reverify: true
        why: Every field of a line has its turn.
    completion: Rest checklist complete
    why: Every field of a list has its turn.
"""
_FULL_FLOW = """  - flow: resting
    title: Resting
    by: captain
    opens: "done('cut')"
    due: {after_s: 90}
    late: {after_s: 120}
    when: "on_ground"
    unless: "wet"
    why: Every field of a flow has its turn.
    items: [{item: rest, do: Rest, to: TAKEN, why: It was a long day.}]
"""
FULL_GROUND = GROUND.replace("checklists:\n", f"{_FULL_FLOW}checklists:\n").replace(
    "gates:\n", f"{_FULL_LIST}gates:\n"
) + _FULL_REST.removeprefix("\n")
FULL_FILES: dict[str, str] = {
    **FILES,
    "deck.yaml": FULL_DECK,
    "approach.yaml": FULL_APPROACH,
    "ground.yaml": FULL_GROUND,
}
"""The small deck of the other tests, and beside it every field that it leaves out."""

FULL_SCENARIO = f"""{SCENARIO}about: A paragraph before the flight.
seed: 7
flying: first_officer
solo: false
limit_s: 3600
plan: {{own_weight_kg: 41000}}
facts: {{wet: false}}
slips:
  - slip: say
    of: speed
    when: "distance_nm < 12"
    by_s: 3
    value: 170
    causes: [{{class: nonstandard_response, item: speed, seat: captain}}]
  - {{slip: defer, of: papers, cue: on-ground, lost: true}}
  - {{slip: unread, of: landing-list, lines: 2}}
""".replace(
    "ends: parked",
    """  - happening: trouble
    when: "distance_nm < 9"
    after_s: 2
    words: "Expect another runway, four miles."
    sets: {precipitation: rain, ground_power: true}
    tells: {runway_changed: true}
    faults: {own_door: failed, ias_kt: 140}
    for_s: 20
    interrupts_s: 9
    safety: true
    again: true
ends: parked""",
)

KEYMAP = "captain: d\nfirst_officer: ctrl+k\ntell: 'y'\nundo: \"z\"\npause: enter\n"
ACTIONS = {"captain": "f", "first_officer": "j", "tell": "t", "undo": "u", "pause": "space", "quit": "q"}


def full_files() -> dict[str, bytes]:
    return {name: text.encode() for name, text in FULL_FILES.items()}


@cache
def full_deck() -> Deck:
    deck, _ = load_deck(FOLDER, full_files())
    return deck


@cache
def full_scenario() -> Scenario:
    scenario, _ = load_scenario(SCENARIO_FILE, FULL_SCENARIO.encode(), full_deck())
    return scenario


def header(deck: Deck | None = None, scenario: Scenario | None = None) -> bytes:
    """A journal's first line, of the full deck and scenario unless others are given."""
    return header_line(deck or full_deck(), scenario or full_scenario(), solo=True, begun="2026-01-05 12:30")


@cache
def rehearsed() -> tuple[Event, ...]:
    """The first events of a rehearsal, a crew at work in them."""
    events: list[Event] = []
    for step in rehearse(full_deck(), full_scenario()):
        events += step.events
        if len(events) >= 40:
            break
    return tuple(events[:40])


@cache
def journal_lines() -> tuple[bytes, ...]:
    return (header(), *(event_line(number, event) for number, event in enumerate(rehearsed(), start=1)))


@cache
def bundled_deck_files() -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in sorted((ROOT / "phases" / "twinjet").glob("*.yaml"))}


@cache
def bundled_scenarios() -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in sorted((ROOT / "scenarios").glob("*.yaml"))}


@cache
def bundled_arrivals() -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in sorted((ROOT / "scenarios" / "arrivals").glob("*.yaml"))}


AIRCRAFT_FILE = "corvane-2.yaml"


@cache
def aircraft_raw() -> bytes:
    return (ROOT / "scenarios" / "aircraft" / AIRCRAFT_FILE).read_bytes()


@cache
def bundled_deck() -> Deck:
    return load_deck("twinjet", bundled_deck_files())[0]
