"""Whether the events of a journal can have happened in its deck: what they name is there, and time runs on."""

from collections.abc import Iterable, Mapping
from math import isfinite

from flowdeck.model import events as ev
from flowdeck.model.deck import Deck
from flowdeck.model.scenario import Scenario
from flowdeck.wire.fits_deck import value_fits

LONGEST_MS = 2 * 86_400_000
"""A flight of two days; no scenario comes near."""
LONGEST_NOTE = 2000
"""Characters."""
CONTROL = "control"
"""What a slip can be about beside the things of a deck: who flies."""
LONGEST_GUEST = 40
"""Characters of what a guest is known by."""
MOST_INPUTS = 10_000_000
"""Of one guest in one flight."""
_TIMES = ("about", "until", "reply_by", "verify_at", "back_at", "late_at", "decide_at")


class Fits:
    """Tells of one event after the other whether it fits."""

    def __init__(self, deck: Deck, scenario: Scenario) -> None:
        self._deck = deck
        things = {*deck.items, *deck.checklists, *deck.gates, CONTROL}
        happenings = {happening.id for happening in scenario.happenings}
        self._known: Mapping[str, Iterable[str]] = {
            "item": things,
            "line": {*deck.items, ""},
            "checklist": deck.checklists,
            "gate": deck.gates,
            "phase": deck.phases,
            "fact": deck.facts,
            "mark": deck.marks,
            "cue": deck.cues,
            "ref": things,
            "happening": happenings,
        }
        self._signals = {signal.name: signal for signal in deck.signals}
        self._rows = len(deck.conditions)
        self._script_rows = len(scenario.conditions)
        self._deviations = 0
        self._last = 0

    def unfit(self, event: ev.Event, first: bool) -> str:
        """What does not fit in *event*, the next one; empty when it does. *first*: it begins the journal."""
        if not self._last <= event.at <= LONGEST_MS:
            return f"the time {event.at} ms does not follow {self._last} ms"
        self._last = event.at
        if isinstance(event, ev.FlightStarted) is not first:
            return "a flight starts with its first event, and only there"
        return self._named(event) or self._held(event)

    def _named(self, event: ev.Event) -> str:
        for field in event.__struct_fields__:
            value = getattr(event, field)
            if field in _TIMES and isinstance(value, int) and not 0 <= value <= 2 * LONGEST_MS:
                return f"{field} is {value}"
            known = self._known.get(field)
            if known is not None and isinstance(value, str):
                name = value.split("#")[0] if field == "happening" else value
                if name not in known:
                    return f"there is no {field} '{name}' in its deck"
        return ""

    def _reads(self, name: str, value: object) -> bool:
        """Whether a signal can show it; an aeroplane may show more than its deck has signals for."""
        return name not in self._signals or value_fits(self._signals[name], value)

    def _held(self, event: ev.Event) -> str:
        match event:
            case ev.FlightStarted(truths=rows):
                return "" if rows == self._rows else f"{rows} conditions in a deck of {self._rows}"
            case ev.TruthsChanged(true=true, false=false, unknown=unknown):
                beyond = [row for row in (*true, *false, *unknown) if not 0 <= row < self._rows]
                return f"there is no condition {beyond[0]}" if beyond else ""
            case ev.Noted(words=words, by=by):
                return "" if len(words) <= LONGEST_NOTE and len(by) <= 40 else f"a note of {len(words)} characters"
            case ev.InputTaken(guest=guest, count=count):
                fits = 0 < len(guest) <= LONGEST_GUEST and 1 <= count <= MOST_INPUTS
                return "" if fits else f"input {count} of a guest of {len(guest)} characters"
            case ev.PaceSet(pace=pace):
                return "" if isfinite(pace) and 0.25 <= pace <= 16 else f"the pace is {pace:g}"
            case ev.Trace(values=values):
                wrong = [n for n, v in values.items() if v is not None and not self._reads(n, v)]
                return f"'{wrong[0]}' cannot be {values[wrong[0]]!r}" if wrong else ""
            case ev.Checkpoint(truths=truths, truth_at=times):
                fits = len(truths) == len(times) == self._script_rows
                return "" if fits else f"{len(truths)} conditions in a scenario of {self._script_rows}"
            case ev.DeviationRaised(number=number, cure_when=row):
                self._deviations += 1
                if number != self._deviations or not (row is None or 0 <= row < self._rows):
                    return f"deviation {number} after {self._deviations - 1}"
                return ""
            case ev.DeviationTrapped(number=number):
                return "" if 1 <= number <= self._deviations else f"there is no deviation {number}"
            case _:
                return ""
