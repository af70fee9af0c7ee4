"""A flight of as many events as are wanted: a rehearsal with its slips, over and over, in time one after the other."""

from msgspec.structs import replace

from flowdeck.model import events as ev

_TIMES = ("until", "reply_by", "verify_at", "back_at", "late_at", "decide_at")


def long_flight(events: tuple[ev.Event, ...], count: int) -> tuple[ev.Event, ...]:
    """*count* events: start, then the middle of *events* repeated with times and numbers of deviations moved on."""
    start, middle, end = events[0], events[1:-1], events[-1]
    length = end.at
    numbers = max((e.number for e in middle if isinstance(e, ev.DeviationRaised)), default=0)
    found: list[ev.Event] = [start]
    turn = 0
    while len(found) < count:
        found += [_moved(event, turn * length, turn * numbers) for event in middle]
        turn += 1
    return tuple(found[:count])


def _moved(event: ev.Event, by_ms: int, by_number: int) -> ev.Event:
    changed: dict[str, object] = {"at": event.at + by_ms}
    for name in _TIMES:
        if isinstance(at := getattr(event, name, None), int):
            changed[name] = at + by_ms
    if isinstance(event, (ev.DeviationRaised, ev.DeviationTrapped)):
        changed["number"] = event.number + by_number
    if isinstance(event, ev.DeviationRaised) and event.supersedes is not None:
        changed["supersedes"] = event.supersedes + by_number
    return replace(event, **changed)
