"""Events whose every free text tries to be something else: markup, a terminal's command, a link."""

from msgspec.structs import replace

from flowdeck.model import events as ev

HOSTILE = "<script>alert(1)</script><img src=x onerror=alert(2)> & \"'> \x1b[2J\u202e `|*_# ](javascript:x)"
_FREE = ("words", "expected", "actual", "reason", "why", "because", "shown", "report")


def hostile_events(events: tuple[ev.Event, ...]) -> tuple[ev.Event, ...]:
    """The same flight; every text that a file or a person can put into it is `HOSTILE`, every answer too."""
    return tuple(_hostile(event) for event in events)


def _hostile(event: ev.Event) -> ev.Event:
    changed: dict[str, object] = {name: HOSTILE for name in _FREE if isinstance(getattr(event, name, None), str)}
    if isinstance(event, (ev.LineAnswered, ev.ItemDone)):
        changed["value"] = HOSTILE
    if isinstance(event, ev.GateFailed):
        changed["failing"] = (HOSTILE,)
    return replace(event, **changed) if changed else event
