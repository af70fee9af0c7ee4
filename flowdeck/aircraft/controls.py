"""Controls follow actions, each in its own time. What stands between two states shows as such."""

from collections.abc import Mapping
from math import isfinite

from msgspec.structs import replace

from flowdeck.aircraft.state import Aeroplane, Travel
from flowdeck.model.condition import Scalar
from flowdeck.model.deck import Item

_BETWEEN: dict[tuple[str, Scalar], str] = {
    ("gear", "down"): "moving",
    ("gear", "up"): "moving",
    ("apu_state", "running"): "starting",
    ("apu_state", "off"): "stopping",
    ("nav_unit_1", "on"): "align",
    ("nav_unit_2", "on"): "align",
}
"""What a control shows while it travels to a state."""


def command(
    plane: Aeroplane,
    item: Item,
    readings: Mapping[str, Scalar | None],
    keyed: Scalar | None,
    at: int,
    choices: tuple[str, ...] = (),
) -> Aeroplane:
    """Start what *item* moves. *keyed* replaces the target of the signal that the item's value names.

    *choices* are the words that this signal can be; a value that no control can take moves nothing.
    """
    travels = [t for t in plane.travels if t.signal not in {m.signal for m in item.moves}]
    before: list[tuple[str, Scalar]] = []
    bound = {travel.signal: travel.goal for travel in plane.travels}
    for move in item.moves:
        goal: Scalar | None = move.to
        if move.same_as is not None:
            reading = readings.get(move.same_as)
            goal = reading if reading is not None else plane.around.get(move.same_as)
        if keyed is not None and item.value == move.signal:
            goal = _usable(keyed, choices, plane.controls.get(move.signal))
        if goal is None or move.signal not in plane.controls:
            continue
        start = plane.controls[move.signal]
        before.append((move.signal, bound.get(move.signal, start)))
        travels.append(Travel(signal=move.signal, start=start, goal=goal, begun=at, ends=at + round(move.in_s * 1000)))
    if not before:
        return plane
    moved = {**plane.moved, item.id: tuple(before)}
    return _set_between(replace(plane, travels=tuple(travels), moved=moved))


def _usable(keyed: Scalar, choices: tuple[str, ...], now: Scalar | None) -> Scalar | None:
    """What a control can take of what was keyed: a number for a number, a word that it knows; None for neither."""
    if now is None or not _is_number(now):
        return keyed if keyed in choices else None
    try:
        number = float(keyed)
    except ValueError:
        return None
    return number if isfinite(number) and not isinstance(keyed, bool) else None


def take_back(plane: Aeroplane, item: Item, at: int) -> Aeroplane:
    """Move the controls of *item* back to where they stood before it."""
    before = plane.moved.get(item.id, ())
    seconds = {move.signal: move.in_s for move in item.moves}
    travels = [t for t in plane.travels if t.signal not in dict(before)]
    for signal, value in before:
        ends = at + round(seconds.get(signal, 1.0) * 1000)
        travels.append(Travel(signal=signal, start=plane.controls[signal], goal=value, begun=at, ends=ends))
    moved = {ref: values for ref, values in plane.moved.items() if ref != item.id}
    return _set_between(replace(plane, travels=tuple(travels), moved=moved))


def _set_between(plane: Aeroplane) -> Aeroplane:
    controls = dict(plane.controls)
    for travel in plane.travels:
        between = _BETWEEN.get((travel.signal, travel.goal))
        if between is not None and controls[travel.signal] != travel.goal:
            controls[travel.signal] = between
    return replace(plane, controls=controls)


def travel_on(plane: Aeroplane, now: int) -> Aeroplane:
    """Controls as they stand at *now* (ms): numbers in proportion, words when they arrive."""
    if not plane.travels:
        return plane
    controls = dict(plane.controls)
    left: list[Travel] = []
    for travel in plane.travels:
        if now >= travel.ends:
            controls[travel.signal] = travel.goal
            continue
        left.append(travel)
        if _is_number(travel.start) and _is_number(travel.goal):
            share = (now - travel.begun) / max(1, travel.ends - travel.begun)
            controls[travel.signal] = float(travel.start) + share * (float(travel.goal) - float(travel.start))
    return replace(plane, controls=controls, travels=tuple(left))


def _is_number(value: Scalar) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool)
