"""The flight as one sequence: what each seat did and said, and between the seats what came from outside.

The law: every entry stands at the moment at which it happened, and in the order of its event (a note at the moment
that it is about); nothing is merged, and a reading that only changed is no entry.
"""

from collections.abc import Iterable
from enum import StrEnum

from msgspec import Struct

from flowdeck.engine.words import title
from flowdeck.model import events as ev
from flowdeck.model.deck import Deck, ItemKind
from flowdeck.model.scenario import Scenario
from flowdeck.model.seats import Seat


class Kind(StrEnum):
    PHASE = "phase"
    MARK = "mark"
    HEARD = "heard"
    INTERRUPTION = "interruption"
    LASTS = "lasts"
    FACT = "fact"
    PLAN = "plan"
    GATE = "gate"
    ITEM = "item"
    SEEN = "seen"
    CALL = "call"
    ANSWER = "answer"
    LIST = "list"
    LINE = "line"
    HOLD = "hold"
    DEFERRAL = "deferral"
    CONTROL = "control"
    CHALLENGE = "challenge"
    UNDONE = "undone"
    PROMPT = "prompt"
    SLIP = "slip"
    TRAP = "trap"
    NOTE = "note"
    LAPSE = "lapse"
    END = "end"


class Entry(Struct, frozen=True, kw_only=True):
    """*seat* None: between the two, or not known who. *ref*: of the deck; *deviation*: its number, 0 for none."""

    at: int
    kind: Kind
    words: str
    seat: Seat | None = None
    ref: str = ""
    phase: str = ""
    deviation: int = 0


def timeline_of(deck: Deck, events: Iterable[ev.Event], scenario: Scenario) -> tuple[Entry, ...]:
    book = _Book(deck, {each.id: each.title or each.id.replace("-", " ") for each in scenario.happenings})
    for event in events:
        book.take(event)
    return tuple(sorted(book.entries, key=lambda entry: entry.at))  # a note was written later than its moment


class _Book:
    def __init__(self, deck: Deck, happenings: dict[str, str]) -> None:
        self._deck = deck
        self._happenings = happenings
        self._phase = deck.start
        self._phases: list[tuple[int, str]] = []
        self.entries: list[Entry] = []

    def _add(
        self, event: ev.Event, kind: Kind, words: str, *, seat: Seat | None = None, ref: str = "", deviation: int = 0
    ) -> None:
        entry = Entry(at=event.at, kind=kind, words=words, seat=seat, ref=ref, phase=self._phase, deviation=deviation)
        self.entries.append(entry)

    def take(self, event: ev.Event) -> None:
        deck = self._deck
        match event:
            case ev.FlightStarted() | ev.PhaseEntered():
                self._phase = event.phase
                self._phases.append((event.at, event.phase))
                how = event.how.replace("_", " ") if isinstance(event, ev.PhaseEntered) else ""
                self._add(event, Kind.PHASE, how or title(deck, event.phase), ref=event.phase)
            case ev.MarkPassed() if event.mark in deck.marks and deck.marks[event.mark].title:
                self._add(event, Kind.MARK, deck.marks[event.mark].title, ref=event.mark)
            case ev.ScriptMoved(played=True) if event.until is not None:
                name = self._happenings.get(event.happening.split("#")[0], event.happening)
                self._add(event, Kind.LASTS, f"{name} ({round((event.until - event.at) / 1000)} s)")
            case ev.ScriptHeld():
                name = self._happenings.get(event.happening, event.happening)
                self._add(event, Kind.LASTS, f"held back: {name} ({round((event.until - event.at) / 1000)} s)")
            case ev.Heard():
                self._add(event, Kind.HEARD, event.words)
            case ev.Interrupted():
                seconds = round((event.until - event.at) / 1000)
                self._add(event, Kind.INTERRUPTION, f"{event.words} ({seconds} s)")
            case ev.FactTold():
                words = deck.facts[event.fact].title if event.value else f"not any more: {deck.facts[event.fact].title}"
                self._add(event, Kind.FACT, words, seat=event.seat, ref=event.fact)
            case ev.PlanRevised():
                self._add(event, Kind.PLAN, f"a new plan: {event.because}")
            case ev.GatePassed():
                self._add(event, Kind.GATE, f"{title(deck, event.gate)}: passed", ref=event.gate)
            case ev.GateFailed():
                failing = ", ".join(event.failing)
                self._add(event, Kind.GATE, f"{title(deck, event.gate)}: not passed ({failing})", ref=event.gate)
            case ev.GateMended():
                self._add(event, Kind.GATE, f"{title(deck, event.gate)}: answered", ref=event.gate)
            case ev.GateOverrun():
                self._add(event, Kind.GATE, f"{title(deck, event.gate)}: gone past", ref=event.gate)
            case ev.Prompted():
                self._add(event, Kind.PROMPT, f"reminded: {title(deck, event.ref)}", seat=event.seat, ref=event.ref)
            case ev.DeviationRaised():
                words = event.slip.replace("_", " ")
                self._add(
                    event, Kind.SLIP, f"{words}: {title(deck, event.item)}", seat=event.seat, ref=event.item,
                    deviation=event.number,
                )  # fmt: skip
            case ev.DeviationTrapped():
                words = f"put right, {event.by.replace('_', ' ')}"
                self._add(event, Kind.TRAP, words, deviation=event.number)
            case ev.LapseMade():
                words = f"let slip on purpose ({event.kind.replace('_', ' ')}): {title(deck, event.ref)}"
                self._add(event, Kind.LAPSE, words, seat=event.seat, ref=event.ref)
            case ev.Noted():
                about = min(event.about, event.at)
                self.entries.append(Entry(at=about, kind=Kind.NOTE, words=event.words, phase=self._phase_at(about)))
            case ev.FlightEnded():
                self._add(event, Kind.END, event.end, ref=event.end)
            case _:
                self._crew(event)

    def _phase_at(self, at: int) -> str:
        return next((phase for since, phase in reversed(self._phases) if since <= at), self._phase)

    def _crew(self, event: ev.Event) -> None:
        deck = self._deck
        match event:
            case ev.ItemDone():
                kind = _KINDS.get(deck.items[event.item].kind, Kind.ITEM)
                self._add(event, kind, _done_words(deck, event.item, event.shown), seat=event.seat, ref=event.item)
            case ev.ItemPartly():
                words = f"{title(deck, event.item)}, the first of two"
                self._add(event, Kind.ITEM, words, seat=event.seat, ref=event.item)
            case ev.ItemSeen():
                self._add(event, Kind.SEEN, _done_words(deck, event.item, event.shown), ref=event.item)
            case ev.ItemDeferred():
                until = deck.cues[event.cue].title if event.cue in deck.cues else "a time"
                words = f"{title(deck, event.item)} put off to: {until}"
                self._add(event, Kind.DEFERRAL, words, seat=event.seat, ref=event.item)
            case ev.CueCame():
                self._add(event, Kind.DEFERRAL, f"{title(deck, event.item)} is due again", ref=event.item)
            case ev.ListCalled():
                self._add(event, Kind.LIST, title(deck, event.checklist), seat=event.seat, ref=event.checklist)
            case ev.LineRead():
                self._add(event, Kind.LINE, f"{deck.items[event.line].do}?", seat=event.seat, ref=event.line)
            case ev.LineAnswered():
                words = str(event.value) if event.value is not None else deck.items[event.line].to
                self._add(event, Kind.LINE, _plain(words), seat=event.seat, ref=event.line)
            case ev.AnswerNotTaken():
                words = f"{_plain(str(event.value))} (not taken)"
                self._add(event, Kind.LINE, words, seat=event.seat, ref=event.line)
            case ev.LineSkipped():
                words = f"passed over: {deck.items[event.line].do}"
                self._add(event, Kind.LINE, words, seat=event.seat, ref=event.line)
            case ev.ListHeld():
                spoken = "" if event.spoken else ", not spoken"
                words = f"{title(deck, event.checklist)} held{spoken}{f': {event.why}' if event.why else ''}"
                self._add(event, Kind.HOLD, words, seat=event.seat, ref=event.checklist)
            case ev.ListResumed():
                where = "from the top" if event.restart else "resumed"
                self._add(
                    event, Kind.HOLD, f"{title(deck, event.checklist)} {where}", seat=event.seat, ref=event.checklist
                )
            case ev.ListCompleted():
                words = deck.checklists[event.checklist].completion
                self._add(event, Kind.LIST, words, seat=event.seat, ref=event.checklist)
            case ev.ControlOffered():
                self._add(event, Kind.CONTROL, "offers control", seat=event.seat)
            case ev.ControlTaken():
                self._add(event, Kind.CONTROL, "takes control", seat=event.seat)
            case ev.ControlConfirmed():
                words = "took control" if event.seized else "flies from here, confirmed"
                self._add(event, Kind.CONTROL, words, seat=event.flying)
            case ev.Challenged():
                words = f"speaks up: {title(deck, event.about)}"
                self._add(event, Kind.CHALLENGE, words, seat=event.seat, ref=event.about)
            case ev.Replied():
                self._add(event, Kind.CHALLENGE, "answers", seat=event.seat)
            case ev.ReplyMissed():
                words = f"no answer: {title(deck, event.about)}"
                self._add(event, Kind.CHALLENGE, words, seat=event.seat.other, ref=event.about)
            case ev.Undone():
                words = f"takes back: {title(deck, event.ref)}"
                self._add(event, Kind.UNDONE, words, seat=event.seat, ref=event.ref)
            case _:
                pass


_KINDS = {ItemKind.CALL: Kind.CALL, ItemKind.ANSWER: Kind.ANSWER}


def _done_words(deck: Deck, ref: str, shown: str) -> str:
    """As it was done: with the readings of that moment where the deck names them."""
    item = deck.items[ref]
    if item.kind in _KINDS:
        return f"'{shown or _plain(item.do)}'"
    return f"{item.do} {shown or _plain(item.to)}".strip()


def _plain(text: str) -> str:
    """Shown text whose readings were not kept."""
    return text if "{" not in text else ""
