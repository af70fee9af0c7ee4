"""What an instructor can let happen in any flight by a key, beside what its scenario and script bring.

Each is a happening that waits for a hand. Its length is how long it takes the crew's attention, or how long it lasts.
All lengths and words are ours.
"""

from math import ceil

from msgspec.structs import replace

from flowdeck.model.deck import Deck
from flowdeck.model.scenario import Happening, Scenario

BY_HAND = "by-hand-"
"""How the ids of these begin."""
RADIO_S, CABIN_S, SAFETY_S, RUNWAY_S, CLEARANCE_S = 15.0, 20.0, 30.0, 25.0, 10.0
"""For how long (s) each takes the crew's attention (`our proposal`)."""
FAILED_S = 60.0
LEVEL_S = 120.0
"""How long (s) a signal is not heard, and a level is to be kept."""
_LEVELS = 6


def with_presets(deck: Deck, scenario: Scenario) -> Scenario:
    """The scenario with these happenings after its own; those that it has by the same id stay as they are."""
    known = {happening.id for happening in scenario.happenings}
    new = tuple(preset for preset in presets(deck, scenario) if preset.id not in known)
    return replace(scenario, happenings=(*scenario.happenings, *new))


def presets(deck: Deck, scenario: Scenario) -> tuple[Happening, ...]:
    found = [
        _said("radio", "Radio call", "Say again your passing altitude, and confirm the stand number.", RADIO_S),
        _said(
            "cabin", "Cabin call", "Cabin here: the galley is stowed, one passenger asks about a connection.", CABIN_S
        ),
        Happening(
            id=f"{BY_HAND}safety",
            title="Cabin: safety report",
            words="Cabin here: a smell of burning at row nine, one of us is looking.",
            interrupts_s=SAFETY_S,
            safety=True,
        ),
    ]
    if deck.revised:
        found.append(
            Happening(
                id=f"{BY_HAND}runway",
                title="Runway change",
                words="Expect the other runway. Check what you have set.",
                tells={deck.revised: True},
                interrupts_s=RUNWAY_S,
            )
        )
    return (*found, *_clearances(deck, scenario), *_failures(deck))


def _said(name: str, title: str, words: str, length_s: float) -> Happening:
    return Happening(id=f"{BY_HAND}{name}", title=title, words=words, interrupts_s=length_s)


def _clearances(deck: Deck, scenario: Scenario) -> list[Happening]:
    """Levels to be kept for a time, above the aerodrome; then the clearance is as before."""
    if all(signal.name != "cleared_altitude_ft" for signal in deck.signals):
        return []
    lowest = ceil((scenario.place.elevation_ft + 2000) / 1000) * 1000
    return [
        Happening(
            id=f"{BY_HAND}level-{level}",
            title=f"New clearance: stop at {level} ft",
            words=f"Stop descent at {level} feet, traffic below. Expect lower in two minutes.",
            sets={"cleared_altitude_ft": float(level)},
            for_s=LEVEL_S,
            interrupts_s=CLEARANCE_S,
        )
        for level in range(lowest, lowest + 1000 * _LEVELS, 1000)
    ]


def _failures(deck: Deck) -> list[Happening]:
    """Readings of the strips that can go stale are not heard for a time."""
    shown = {name for phase in deck.phases.values() for name in phase.strip}
    return [
        Happening(
            id=f"{BY_HAND}failed-{signal.name.replace('_', '-')}",
            title=f"Failed signal: {signal.title.lower()}",
            faults={signal.name: None},
            for_s=FAILED_S,
        )
        for signal in deck.signals
        if signal.name in shown and signal.stale_s is not None
    ]
