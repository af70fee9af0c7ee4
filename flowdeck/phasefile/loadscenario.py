"""A scenario's text to a `Scenario` for a deck, or to all that is wrong with it."""

from collections.abc import Mapping

from flowdeck.arrival.brief import make_brief
from flowdeck.arrival.plan import Arrival
from flowdeck.arrival.surround import surroundings_of
from flowdeck.conditions import names_of
from flowdeck.model.condition import Scalar
from flowdeck.model.deck import Deck, ItemKind
from flowdeck.model.diagnostic import Diagnostic, Level, Rejected
from flowdeck.model.scenario import SURROUNDINGS, Cause, Happening, Planted, Scenario
from flowdeck.phasefile.builder import Builder, Spot
from flowdeck.phasefile.read import read
from flowdeck.phasefile.scenarioarrival import (
    arrivals_named,
    place_of,
    plan_of,
    revised,
    start_of,
)
from flowdeck.phasefile.scenarioshapes import HappeningShape, PlantedShape, ScenarioShape, ScriptShape
from flowdeck.phasefile.validate import guess
from flowdeck.phasefile.words import nearest, shown

_RANGES: dict[str, tuple[float, float]] = {
    "pressure_error_hpa": (-50, 50),
    "surface_temperature_c": (-60, 60),
    "headwind_kt": (-60, 100),
    "cloud_base_ft": (-1500, 60_000),
    "cloud_top_ft": (-1500, 60_000),
}
"""What surrounds a flight and is no signal: the values that can be believed (common practice, no source)."""


def deck_of(file: str, raw: bytes) -> str:
    """The id of the deck that a scenario is for. Raises `Rejected`."""
    guessed = guess(read(file, raw), ScenarioShape)
    if guessed.shape is None:
        raise Rejected(guessed.findings)
    return guessed.shape.deck


def arrivals_of(file: str, raw: bytes) -> tuple[str, ...]:
    """The arrival files that a scenario names; none when it cannot be read at all, which loading it will say."""
    guessed = guess(read(file, raw), ScenarioShape)
    return () if guessed.shape is None else arrivals_named(guessed.shape)


def load_scenario(
    file: str,
    raw: bytes,
    deck: Deck,
    arrivals: Mapping[str, Arrival] | None = None,
    script: tuple[str, bytes] | None = None,
) -> tuple[Scenario, tuple[Diagnostic, ...]]:
    """Build a scenario from its file. Returns it with its warnings; raises `Rejected` with all findings.

    *arrivals*: those that it names, by the names it uses. *script*: an instructor's, a file and what is in it.
    """
    given = read(file, raw)
    located, shape, wrong, *_ = guess(given, ScenarioShape)
    if shape is None:
        raise Rejected(wrong)
    spot = Spot(located)
    b = Builder(names_of(deck))
    if shape.deck != deck.id:
        b.find(
            (spot / "deck").place,
            "wrong-deck",
            f"this scenario is for the deck '{shape.deck}', not for '{deck.id}'; give it its own deck",
        )
    _check_values(b, shape.plan, spot / "plan")
    _check_values(b, shape.signals, spot / "signals")
    _check_surroundings(b, shape.surroundings, spot / "surroundings")
    for fact in shape.facts:
        _check_fact(b, deck, fact, spot / "facts" / fact)
    for i, fact in enumerate(shape.varies):
        _check_fact(b, deck, fact, spot / "varies" / i)
    own = _own_arrival(b, deck, shape, spot, arrivals or {})
    place, start = place_of(shape.aerodrome, shape.ground, own), start_of(shape.start, own)
    if place is None and ("aerodrome",) not in given:
        b.find(spot.place, "missing", "'aerodrome' is missing in this file; add aerodrome: ..., or arrival: ...")
    if start is None and ("start",) not in given:
        b.find(spot.place, "missing", "'start' is missing in this file; add start: ..., or arrival: ...")
    happenings = tuple(
        _happening(b, deck, h, spot / "happenings" / i, own, arrivals or {}) for i, h in enumerate(shape.happenings)
    )
    if script is not None:
        happenings += _scripted(b, deck, *script)
    planted = tuple(_planted(b, deck, p, spot / "slips" / i) for i, p in enumerate(shape.slips))
    if shape.ends not in deck.ends:
        b.find((spot / "ends").place, "unknown-end", f"'{shape.ends}' is not an end{nearest(shape.ends, deck.ends)}")
    findings = sorted({*wrong, *b.findings, *b.table.findings}, key=lambda f: (f.place, f.message))
    if any(f.level is Level.ERROR for f in findings) or place is None or start is None:
        raise Rejected(tuple(findings))
    scenario = Scenario(
        id=shape.scenario,
        title=shape.title,
        about=shape.about,
        deck=shape.deck,
        seed=int(shape.seed),
        flying=shape.flying,
        solo=shape.solo,
        arrival=own,
        start=start,
        place=place,
        plan={**({} if own is None else plan_of(deck, make_brief(own))), **shape.plan},
        surroundings={**({} if own is None else surroundings_of(own)), **shape.surroundings},
        signals={**_starts(deck), **({} if own is None else _weights(own)), **shape.signals},
        facts=dict(shape.facts),
        conditions=b.table.conditions,
        happenings=happenings,
        planted=planted,
        pace=dict(shape.pace),
        varies=tuple(shape.varies),
        ends=shape.ends,
        limit_s=shape.limit_s,
    )
    return scenario, tuple(findings)


def _starts(deck: Deck) -> dict[str, Scalar]:
    return {signal.name: signal.at_start for signal in deck.signals if signal.at_start is not None}


def _weights(arrival: Arrival) -> dict[str, Scalar]:
    return {"fuel_kg": arrival.start.fuel_kg, "mass_kg": arrival.start.mass_kg}


def _own_arrival(
    b: Builder, deck: Deck, shape: ScenarioShape, spot: Spot, arrivals: Mapping[str, Arrival]
) -> Arrival | None:
    """The arrival that the scenario names, and what it must then not say itself."""
    own = None if shape.arrival is None else arrivals.get(shape.arrival)
    if shape.arrival is not None and own is None:
        b.find((spot / "arrival").place, "no-arrival", f"the arrival '{shape.arrival}' was not given with it")
        return None
    if own is None:
        if shape.ground is not None:
            b.find(
                (spot / "ground").key.place, "contradiction", "'ground' goes with 'arrival'; write it in 'aerodrome'"
            )
        return None
    if shape.aerodrome is not None:
        message = "the arrival gives the aerodrome; remove it here (taxi_s, stand_m, restart_nm go into 'ground')"
        b.find((spot / "aerodrome").key.place, "contradiction", message)
    for name in shape.plan:
        if name in plan_of(deck, make_brief(own)):
            message = f"the brief of the arrival gives '{name}'; remove it here"
            b.find((spot / "plan" / name).key.place, "contradiction", message)
    return own


def _check_values(b: Builder, values: dict[str, Scalar], spot: Spot) -> None:
    for name, value in values.items():
        signal = b.signal(name, (spot / name).key)
        if signal is not None:
            b.check_value(signal, value, (spot / name).place)


def _check_surroundings(b: Builder, values: dict[str, Scalar], spot: Spot) -> None:
    for name, value in values.items():
        place = (spot / name).key.place
        if name not in SURROUNDINGS:
            hint = nearest(name, SURROUNDINGS)
            b.find(place, "unknown-surrounding", f"'{name}' does not surround a flight{hint}")
        elif type(value) is not type(SURROUNDINGS[name]):
            kinds = {float: "a number", str: "a word", bool: "true or false"}
            wanted = kinds[type(SURROUNDINGS[name])]
            b.find((spot / name).place, "wrong-value", f"{name}: expected {wanted}, found {shown(value)}")
        elif name in b.names.signals:
            b.check_value(b.names.signals[name], value, (spot / name).place)
        elif name in _RANGES and not _RANGES[name][0] <= float(value) <= _RANGES[name][1]:
            low, high = _RANGES[name]
            message = f"{name}: expected a number from {low:g} to {high:g}, found {shown(value)}"
            b.find((spot / name).place, "out-of-range", message)


def _check_fact(b: Builder, deck: Deck, fact: str, spot: Spot) -> None:
    if fact not in deck.facts:
        hint = nearest(fact, deck.facts)
        b.find(spot.key.place, "unknown-fact", f"there is no fact '{fact}'{hint}")


def _happening(
    b: Builder, deck: Deck, shape: HappeningShape, spot: Spot, own: Arrival | None, arrivals: Mapping[str, Arrival]
) -> Happening:
    b.claim(shape.happening, spot / "happening")
    _check_surroundings(b, shape.sets, spot / "sets")
    faults: dict[str, Scalar | None] = {}
    for name, value in shape.faults.items():
        signal = b.signal(name, (spot / "faults" / name).key)
        faults[name] = None if value == "failed" else value
        if signal is not None and value != "failed":
            b.check_value(signal, value, (spot / "faults" / name).place)
    for fact in shape.tells:
        _check_fact(b, deck, fact, spot / "tells" / fact)
    if shape.interrupts_s is not None and not shape.words:
        message = f"the happening '{shape.happening}' interrupts without 'words'; add what is said"
        b.find(spot.place, "missing", message)
    elif not (shape.words or shape.sets or shape.faults or shape.tells or shape.revises):
        message = f"the happening '{shape.happening}' does nothing; give it words, sets, faults, tells or revises"
        b.find(spot.place, "missing", message, Level.WARNING)
    if shape.for_s is not None and not (shape.faults or shape.sets):
        message = "'for_s' is how long faults or sets last; add one of them, or remove it"
        b.find((spot / "for_s").place, "no-faults", message)
    later, sets = None, dict(shape.sets)
    if shape.revises is not None and own is None:
        message = "'revises' changes an arrival, and this scenario has none; add arrival: ..."
        b.find((spot / "revises").key.place, "missing", message)
    elif shape.revises is not None and own is not None:
        later = revised(shape.revises, spot / "revises", own, arrivals, lambda at, kind, m: b.find(at.place, kind, m))
        if later is not None and (shape.revises.weather or shape.revises.arrival):
            sets = {**surroundings_of(later), **sets}
    return Happening(
        id=shape.happening,
        when=None if shape.when is None else b.needed(shape.when, spot / "when"),
        after_s=shape.after_s,
        title=shape.title,
        words=shape.words,
        sets=sets,
        faults=faults,
        for_s=shape.for_s,
        tells=dict(shape.tells),
        interrupts_s=shape.interrupts_s,
        safety=shape.safety,
        again=shape.again,
        revised=later,
    )


def _scripted(b: Builder, deck: Deck, file: str, raw: bytes) -> tuple[Happening, ...]:
    """The happenings of an instructor's script; its conditions go into the scenario's table."""
    located, shape, wrong, *_ = guess(read(file, raw), ScriptShape)
    b.findings.extend(wrong)
    if shape is None:
        return ()
    spot = Spot(located)
    if shape.deck != deck.id:
        message = f"this script is for the deck '{shape.deck}', not for '{deck.id}'"
        b.find((spot / "deck").place, "wrong-deck", message)
    for i, each in enumerate(shape.happenings):
        if each.revises is not None:
            place = (spot / "happenings" / i / "revises").key.place
            b.find(
                place, "contradiction", "a script changes no arrival; give the new weather by its key, or in a scenario"
            )
    return tuple(
        _happening(b, deck, each, spot / "happenings" / i, None, {}) for i, each in enumerate(shape.happenings)
    )


_OF = {
    "no_call": "a checklist",
    "unread": "a checklist",
    "no_completion": "a checklist",
    "skip": "a line of a checklist",
    "hold": "a checklist or one of its lines",
    "leave_held": "a checklist",
    "swap": "an item of a flow",
    "continue": "a gate",
    "go_around": "the flight (of: flight)",
    "discontinue": "the flight (of: flight)",
    "transfer": "control (of: control)",
}


def _suits(deck: Deck, slip: str, ref: str) -> bool:
    """Whether a slip of this kind can be made of *ref*."""
    is_line = ref in deck.items and deck.items[ref].kind is ItemKind.LINE
    match slip:
        case "no_call" | "unread" | "no_completion" | "leave_held":
            return ref in deck.checklists
        case "skip":
            return is_line
        case "hold":
            return is_line or ref in deck.checklists
        case "swap":
            return ref in deck.items and deck.items[ref].kind is ItemKind.ACTION
        case "continue":
            return ref in deck.gates
        case "go_around" | "discontinue":
            return ref == "flight"
        case "transfer":
            return ref == "control"
        case _:
            return ref in deck.items or ref in deck.checklists


def _planted(b: Builder, deck: Deck, shape: PlantedShape, spot: Spot) -> Planted:
    known = {*deck.items, *deck.checklists, *deck.gates, "control", "flight"}
    if shape.of not in known:
        hint = nearest(shape.of, known)
        b.find((spot / "of").place, "unknown-item", f"there is no item '{shape.of}'{hint}")
    elif not _suits(deck, shape.slip, shape.of):
        wanted = _OF.get(shape.slip, "an item or a list")
        b.find((spot / "of").place, "wrong-value", f"the slip '{shape.slip}' is of {wanted}; '{shape.of}' is none")
    if shape.cue is not None and shape.cue not in deck.cues:
        hint = nearest(shape.cue, deck.cues)
        b.find((spot / "cue").place, "unknown-cue", f"there is no cue '{shape.cue}'{hint}")
    for i, cause in enumerate(shape.causes):
        if cause.item not in known:
            hint = nearest(cause.item, known)
            place = (spot / "causes" / i / "item").place
            b.find(place, "unknown-item", f"there is no item '{cause.item}'{hint}")
    if shape.slip in ("hasten", "go_around", "discontinue", "transfer") and shape.when is None:
        b.find(spot.place, "missing", f"the slip '{shape.slip}' has no 'when'; add the condition at which it is made")
    return Planted(
        kind=shape.slip,
        ref=shape.of,
        when=b.condition(shape.when, spot / "when"),
        by_s=shape.by_s,
        value=shape.value,
        cue=shape.cue,
        lost=shape.lost,
        lines=int(shape.lines),
        causes=tuple(Cause(slip=c.slip, item=c.item, seat=c.seat) for c in shape.causes),
    )
