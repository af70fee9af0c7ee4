"""What the crew does on a planned path, read off its legs as they are flown."""

from collections.abc import Iterator, Sequence

from flowdeck.arrival.performance import Step
from flowdeck.arrival.profile import Event, EventKind, Leg, Point


def events_of(legs: Sequence[Leg], steps: Sequence[Step]) -> tuple[Event, ...]:
    """The events of *legs* (as flown), in their order: where it goes down, levels off, slows, and is configured."""
    found: list[Event] = []

    def note(kind: EventKind, words: str, point: Point) -> None:
        found.append(Event(kind=kind, words=words, point=point))

    before: Leg | None = None
    for index, leg in enumerate(legs):
        goes_down = leg.vertical in ("final", "descent")
        went_down = before is not None and before.vertical in ("final", "descent")
        if goes_down and not went_down:
            first = not any(event.kind in ("top_of_descent", "go_down") for event in found)
            if first:
                note("top_of_descent", f"leave {leg.far.altitude_ft:.0f} ft", leg.far)
            else:
                note("go_down", "final descent" if leg.vertical == "final" else "go on down", leg.far)
        elif leg.vertical == "level" and went_down:
            note("level_off", "level off", leg.far)  # at which altitude is told beside it, as it is flown
        for number in range((before.step if before else leg.step) + 1, leg.step + 1):
            for words in _configured(steps[number - 1], steps[number]):
                note("configure", words, leg.far)
        if leg.speed == "slowing" and (before is None or before.speed != "slowing" or before.step != leg.step):
            note("slow_down", f"slow down from {leg.far.speed_kt:.0f} to {_slowed(legs[index:]):.0f} kt", leg.far)
        before = leg
    if legs and legs[-1].speed == "steady":
        first_steady = next(leg for i, leg in enumerate(legs) if all(_same(leg, later) for later in legs[i:]))
        note("stable", f"flap {steps[-1].flap_deg:g}, {first_steady.far.speed_kt:.0f} kt", first_steady.far)
    return tuple(found)


def _same(leg: Leg, later: Leg) -> bool:
    return later.speed == "steady" and later.step == leg.step


def _slowed(legs: Sequence[Leg]) -> float:
    """The speed at the end of the slowing with which *legs* begin."""
    end = legs[0]
    for leg in legs:
        if leg.speed != "slowing" or leg.step != end.step:
            break
        end = leg
    return end.near.speed_kt


def _configured(before: Step, step: Step) -> Iterator[str]:
    """What is moved for a step; where both are, the gear first."""
    if step.gear != before.gear:
        yield f"gear {step.gear}"
    if step.flap_deg != before.flap_deg:
        yield f"flap {step.flap_deg:g}"
