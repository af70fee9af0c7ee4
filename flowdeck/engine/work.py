"""The bench on which one input is worked through: every event is folded at once, so later rules see it."""

from flowdeck.conditions import names_used
from flowdeck.engine.alarm import limit_at
from flowdeck.engine.evolve import evolve
from flowdeck.engine.program import Program
from flowdeck.engine.words import title
from flowdeck.model import events as ev
from flowdeck.model.condition import Scalar, Truth
from flowdeck.model.deck import PLACEHOLDER, Edge, Item, ItemKind, Limit
from flowdeck.model.deviation import Deviation, Slip, Trapper, severity
from flowdeck.model.readings import Readings
from flowdeck.model.seats import Seat
from flowdeck.model.session import ItemState, Session, Status

_DECIMALS = {"mhz": 2, "nm": 1, "": 1}
"""Decimals with which readings are said; those of any other unit are whole."""


class Work:
    """Events so far, and the session as they leave it. Local to one call of `decide`."""

    def __init__(self, program: Program, session: Session, readings: Readings, now: int) -> None:
        self.program = program
        self.deck = program.deck
        self.session = session
        self.readings = readings
        self.now = now
        self.events: list[ev.Event] = []
        self.rose: set[int] = set()

    def emit(self, event: ev.Event) -> None:
        self.events.append(event)
        self.session = evolve(self.session, event)

    def truth(self, number: int | None) -> Truth:
        return None if number is None else self.session.truths[number]

    def owed(self, when: int | None, unless: int | None) -> bool:
        """Whether something conditional is owed now. Unknown satisfies no `when`, and no `unless`."""
        return (when is None or self.truth(when) is True) and self.truth(unless) is not True

    def owes(self, item: Item) -> bool:
        return self.owed(item.when, item.unless)

    def seats(self, item: Item) -> tuple[Seat, ...]:
        return item.by.seats(self.session.flying)

    def value(self, name: str) -> Scalar | None:
        """The reading of a signal, None when stale or unheard."""
        return self.readings.value(self.program.signals[name], self.now)

    def heard_since(self, number: int, at: int) -> bool:
        """Whether every signal that a condition names, and that ages, has been heard after *at* (ms)."""
        tree = self.deck.conditions[number].tree
        heard = self.readings.at
        ageing = [n for n in names_used(tree, self.deck.conditions) if self.program.signals[n].stale_s is not None]
        return all(heard.get(name, at) > at for name in ageing)

    def reached(self, limit: Limit | None, opened_at: int | None) -> bool:
        """Whether a limit has come."""
        if limit is None:
            return False
        if limit.when is not None:
            return self.truth(limit.when) is True
        at = limit_at(limit, opened_at, self.session.times)
        return at is not None and self.now >= at

    def fulfilled(self, ref: str) -> bool:
        """Whether what must come before is done, or is not owed at all."""
        if ref in self.session.done:
            return True
        item = self.deck.items.get(ref)
        if item is not None:
            call = self.deck.items[item.partner] if item.kind is ItemKind.ANSWER and item.partner else item
            return not self.owes(call)  # an answer is owed with its call
        checklist = self.deck.checklists.get(ref)
        if checklist is not None:
            return not self.owed(checklist.when, checklist.unless)
        gate = self.deck.gates[ref]
        return not self.owed(gate.when, gate.unless)

    def broken_edges(self, edges: tuple[Edge, ...]) -> tuple[list[Edge], list[Edge]]:
        """Hard and flow edges that acting now would break. Panel order binds only what is open already."""
        hard = [edge for edge in edges if edge.hard and not self.fulfilled(edge.before)]
        flow = [
            edge
            for edge in edges
            if not edge.hard and self.session.item(edge.before).is_owed and not self.fulfilled(edge.before)
        ]
        return hard, flow

    def title(self, ref: str) -> str:
        """What a pilot calls it, with the readings of now: `Flaps UP`, `Selector 3000`, `Landing checklist`."""
        item = self.deck.items.get(ref)
        if item is None or item.kind in (ItemKind.CALL, ItemKind.ANSWER):
            return title(self.deck, ref)
        return self.filled(f"{item.do} {item.to}".strip())

    def filled(self, text: str) -> str:
        """Text with each `{signal}` replaced by its reading."""
        return PLACEHOLDER.sub(lambda match: said(self.value(match[1]), self.program.signals[match[1]].unit), text)

    def shown(self, item: Item, keyed: Scalar | None = None) -> str:
        """What was said or done, with the readings of now and the value that was keyed; empty where nothing varies."""
        text = item.do if item.kind in (ItemKind.CALL, ItemKind.ANSWER) else item.to
        if "{" not in text:
            return "" if keyed is None else said(keyed)
        if keyed is not None and item.value is not None:
            text = text.replace("{" + item.value + "}", said(keyed))
            if said(keyed) not in text:
                return said(keyed)
        return self.filled(text)

    def slip(
        self,
        slip: Slip,
        ref: str,
        seat: Seat | None,
        expected: str,
        actual: str,
        *,
        reason: str = "",
        kind: str | None = None,
        supersedes: int | None = None,
        cures: tuple[str, ...] = (),
        cure_when: int | None = None,
    ) -> int:
        """Raise a deviation; its number."""
        number = len(self.session.deviations) + 1
        self.emit(
            ev.DeviationRaised(
                at=self.now,
                number=number,
                slip=slip,
                severity=severity(slip, kind),
                item=ref,
                seat=seat,
                expected=expected,
                actual=actual,
                reason=reason,
                supersedes=supersedes,
                cures=cures,
                cure_when=cure_when,
            )
        )
        return number

    def open_slip(self, ref: str, *slips: Slip) -> Deviation | None:
        """The open deviation of one of these classes on *ref*, the newest first."""
        for deviation in reversed(self.session.deviations):
            if deviation.item == ref and deviation.slip in slips and deviation.is_open:
                return deviation
        return None

    def trap(self, deviation: Deviation, corrector: Seat | None = None, *, undone: bool = False) -> None:
        """Mark a deviation as corrected, and by whom (see `trapper`)."""
        by = Trapper.MAKER if undone else trapper(self.session, deviation, corrector)
        self.emit(ev.DeviationTrapped(at=self.now, number=deviation.number, by=by))

    def answered(self, ref: str, seat: Seat) -> None:
        """Who does what the other pilot has just spoken up about has answered by doing it."""
        open_ = self.session.challenge
        if open_ is not None and open_.about == ref and open_.seat is not seat:
            self.emit(ev.Replied(at=self.now, seat=seat))

    def refuse(self, what: str, because: str, seat: Seat | None = None) -> None:
        self.emit(ev.Refused(at=self.now, what=what, because=because, seat=seat))

    def state(self, ref: str) -> ItemState:
        return self.session.item(ref)

    def not_started(self, ref: str) -> bool:
        return self.session.item(ref).status is Status.WAITING


def travel_ms(item: Item) -> int:
    """How long (ms) the controls that an item moves are on their way."""
    return round(max((move.in_s for move in item.moves), default=0.0) * 1000)


def said(value: Scalar | None, unit: str | None = None) -> str:
    """A reading as it is said: `?` when unknown, whole where its *unit* is said so (None: as it was keyed)."""
    if value is None:
        return "?"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (int, float)):
        decimals = _DECIMALS.get(unit, 0) if unit is not None else 2
        whole = decimals == 0 or abs(value) >= 200 or float(value).is_integer()
        return f"{value:.0f}" if whole else f"{value:.{decimals}f}"
    return value.replace("_", " ")


def trapper(session: Session, deviation: Deviation, corrector: Seat | None) -> Trapper:
    """Who caught it: the other seat if it had spoken up since, the tool if it had shown it, else who put it right.

    One person in both seats is never 'the other seat'.
    """
    challenger, at = session.challenged.get(deviation.item, (None, -1))
    if not session.solo and challenger is not None and challenger is not deviation.seat and at >= deviation.at:
        return Trapper.OTHER_SEAT
    if not session.withhold and deviation.seat not in session.sealed:
        return Trapper.TOOL
    two_people = not session.solo and corrector is not None and deviation.seat is not None
    if two_people and corrector is not deviation.seat:
        return Trapper.OTHER_SEAT
    return Trapper.MAKER
