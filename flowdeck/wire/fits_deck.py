"""Whether a deck or scenario out of a journal is one that a loader could have made.

A checksum says that a line is as it was written, not by whom. What does not fit here would end a flight later.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from msgspec import Struct

from flowdeck.conditions import Names, Table, names_of
from flowdeck.model.condition import Condition, Scalar
from flowdeck.model.deck import PLACEHOLDER, Deck, Item
from flowdeck.model.diagnostic import Level
from flowdeck.model.scenario import SURROUNDINGS, Scenario
from flowdeck.model.signals import Signal, SignalKind

_CONDITIONS = frozenset(
    ("when", "unless", "opens", "seen", "until", "that", "at", "committed", "sterile", "not_while", "cure_when")
)
"""Fields that hold the number of a condition."""
_LARGEST = 1e9


def unfit_deck(deck: Deck) -> str:
    """What does not fit together in a deck; empty when it does."""
    unfit = next(_deck(deck), "") or unfit_conditions(deck.conditions, names_of(deck))
    return unfit or _numbers(deck, deck.conditions)


def unfit_scenario(scenario: Scenario, deck: Deck) -> str:
    """What does not fit in a scenario, or to its deck; empty when all does."""
    unfit = unfit_conditions(scenario.conditions, names_of(deck))
    unfit = unfit or _numbers(
        (scenario.happenings, scenario.planted, scenario.start, scenario.place), scenario.conditions
    )
    return unfit or next(_scenario(scenario, deck), "")


def unfit_conditions(conditions: tuple[Condition, ...], names: Names) -> str:
    """Each row must be what its own text says, so that nothing is compiled that was not checked."""
    table = Table(names)
    for number, condition in enumerate(conditions):
        row = table.add(condition.text)
        errors = [finding.message for finding in table.findings if finding.level is Level.ERROR]
        if errors:
            return f"condition {number}: {errors[0]}"
        if row != number or table.conditions[number].tree != condition.tree:
            return f"condition {number} is not what its text says"
    return ""


def value_fits(signal: Signal | None, value: object) -> bool:
    """Whether *signal* can read *value*, whatever its range."""
    if signal is None:
        return False
    match signal.kind:
        case SignalKind.FLAG:
            return isinstance(value, bool)
        case SignalKind.CHOICE:
            return value in signal.choices
        case SignalKind.NUMBER:
            return isinstance(value, (int, float)) and not isinstance(value, bool) and abs(value) <= _LARGEST


def _numbers(value: Any, conditions: tuple[Condition, ...]) -> str:
    """Whether every number of a condition within *value* is one of the table."""
    waiting = [value]
    while waiting:
        value = waiting.pop()
        if isinstance(value, dict):
            waiting += value.values()
        elif isinstance(value, (tuple, list)):
            waiting += value
        elif isinstance(value, Struct) and not isinstance(value, Condition):
            for field in value.__struct_fields__:
                inner = getattr(value, field)
                if field in _CONDITIONS and isinstance(inner, int) and not 0 <= inner < len(conditions):
                    return f"there is no condition {inner}"
                if isinstance(inner, float) and abs(inner) > _LARGEST:
                    return f"{field} is {inner:g}"
                waiting.append(inner)
    return ""


def _deck(deck: Deck) -> Iterator[str]:
    signals = {signal.name: signal for signal in deck.signals}
    things = {*deck.items, *deck.checklists, *deck.gates}
    for phase in (deck.start, deck.go_around):
        yield from _there(phase, deck.phases, "phase")
    if deck.revised:
        yield from _there(deck.revised, deck.facts, "fact")
    for part in (deck.phases, deck.items, deck.checklists, deck.gates, deck.facts, deck.marks, deck.cues):
        yield from (f"'{key}' is called '{value.id}'" for key, value in part.items() if value.id != key)
    for phase_ in deck.phases.values():
        for exit_ in phase_.exits:
            yield from _there(exit_.to, {*deck.phases, *deck.ends}, "phase or end")
        for name in phase_.strip:
            yield from _there(name, signals, "signal")
    for item in deck.items.values():
        yield from _item(deck, item, signals, things)
    for checklist in deck.checklists.values():
        yield from _there(checklist.phase, deck.phases, "phase")
        for line in checklist.lines:
            yield from _there(line, deck.items, "item")
    for gate in deck.gates.values():
        for phase in gate.phases:
            yield from _there(phase, deck.phases, "phase")
        for ref in gate.stops:
            yield from _there(ref, things, "item")


def _item(deck: Deck, item: Item, signals: dict[str, Signal], things: set[str]) -> Iterator[str]:
    for phase in item.phases:
        yield from _there(phase, deck.phases, "phase")
    for edge in item.after:
        yield from _there(edge.before, things, "item")
    for ref in (*item.verifies, *([item.partner] if item.partner else ())):
        yield from _there(ref, things, "item")
    for name in item.reopened_by:
        yield from _there(name, {*deck.facts, *signals}, "fact or signal")
    if item.tells is not None:
        yield from _there(item.tells, deck.facts, "fact")
    if item.cue is not None:
        yield from _there(item.cue, deck.cues, "cue")
    for name in (*([item.value] if item.value else ()), *PLACEHOLDER.findall(item.do), *PLACEHOLDER.findall(item.to)):
        yield from _there(name, signals, "signal")
    for move in item.moves:
        yield from _there(move.signal, signals, "signal")
        if move.same_as is not None:
            yield from _there(move.same_as, signals, "signal")
        elif move.signal in signals and not value_fits(signals[move.signal], move.to):
            yield f"'{move.signal}' cannot be {move.to!r}"


def _scenario(scenario: Scenario, deck: Deck) -> Iterator[str]:
    signals = {signal.name: signal for signal in deck.signals}
    shown: list[Mapping[str, Scalar | None]] = [scenario.plan, scenario.signals]
    for values in (*shown, *(happening.faults for happening in scenario.happenings)):
        for name, value in values.items():
            if value is not None and not value_fits(signals.get(name), value):
                yield f"'{name}' cannot be {value!r}"
    for part in (scenario.surroundings, *(happening.sets for happening in scenario.happenings)):
        for name, value in part.items():
            if type(value) is not type(SURROUNDINGS.get(name)):
                yield f"'{name}' cannot be {value!r}"
    for fact in (*scenario.facts, *(fact for happening in scenario.happenings for fact in happening.tells)):
        yield from _there(fact, deck.facts, "fact")
    if not 0 < scenario.limit_s <= 86_400:
        yield f"a limit of {scenario.limit_s:g} s"


def _there(name: str, known: Any, what: str) -> Iterator[str]:
    if name not in known:
        yield f"there is no {what} '{name}'"
